package plan

import (
	"path"
	"slices"
	"strings"

	"gloam/internal/colour"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Generic is the response of a camera of which none was measured.
const Generic = "generic"

const spectrumForms = "a CIE illuminant such as FL2, FL11, HP1, LED-B3, A; a CSV of nm,value beside the plan"

// ambientWhite is the colour of daylight of which none was read (common practice, no source).
const ambientWhite unit.Kelvin = 6500

// settleColour gives an ambient its colour, unless it has that of a spectrum.
func (a *Ambient) settleColour() {
	if a.Spectrum == "" {
		settle(&a.Colour, ambientWhite)
	}
}

// Spectrum returns the relative power of the light that a spectrum written in the plan names.
func (v *View) Spectrum(name string) (spectrum.Curve, error) {
	m, err := readSpectrum(name, func(file string) ([]byte, error) { return v.Files[file], nil })
	return m.Curve, err
}

// Response returns the camera's spectral response.
func (v *View) Response() (colour.Camera, error) {
	c := v.Document.Camera
	if c == nil || c.Response == Generic {
		return colour.GenericCamera(), nil
	}
	return colour.ReadCamera(c.Response, v.Files[c.Response])
}

// Gel returns the gel that a text of the plan stands for: a trade gel, or a roll measured.
func (v *View) Gel(text string) (spectrum.Gel, error) {
	return readGel(text, func(file string) ([]byte, error) { return v.Files[file], nil })
}

// readGel reads a gel as it is written, or a file.
func readGel(text string, open func(string) ([]byte, error)) (spectrum.Gel, error) {
	if !isTable(text) {
		return spectrum.ParseGel(text)
	}
	file, err := open(text)
	if err != nil {
		return spectrum.Gel{}, err
	}
	return spectrum.ReadGel(text, text, file)
}

// isTable reports whether a text is the name of a file of columns.
func isTable(text string) bool {
	return slices.Contains([]string{".csv", ".txt", ".tsv"}, strings.ToLower(path.Ext(text)))
}

// gel tells a gel that is none.
func (c *checker) gel(path document.Path, text string) {
	if text == "" {
		return
	}
	switch _, err := readGel(text, c.files.get); {
	case err == nil:
	case isTable(text):
		c.tellFile(path, text, err)
	default:
		c.tellErr(path, err, text)
	}
}

// readSpectrum reads a tabulated illuminant or a file.
func readSpectrum(name string, open func(string) ([]byte, error)) (spectrum.Measured, error) {
	if c, ok := spectrum.Illuminant(name); ok {
		return spectrum.Measured{Curve: c}, nil
	}
	if !isTable(name) {
		return spectrum.Measured{}, fault.Fault{Text: "no light is known by that name", Allowed: spectrumForms,
			Hint: fault.Meant(name, spectrum.IlluminantNames())}
	}
	text, err := open(name)
	if err != nil {
		return spectrum.Measured{}, err
	}
	return spectrum.Read(name, text)
}

// spectrum returns what is wrong with a spectrum, notes too.
func (f *files) spectrum(name string) error {
	m, err := readSpectrum(name, f.get)
	if err == nil && len(m.Notes) > 0 {
		return m.Notes
	}
	return err
}

// camera returns what is wrong with a camera's measured sensitivities.
func (f *files) camera(name string) error {
	return f.judge("camera", name, func(text []byte) fault.List {
		_, err := colour.ReadCamera(name, text)
		return fault.Of(err, fault.Input)
	})
}

// checkLight tells a colour that no light has, or that is said in ways which do not agree. In a spectrum turned to a reading
// both numbers of the reading are needed.
func (c *checker) checkLight(path document.Path, name string, kelvin *unit.Kelvin, duv *float64) {
	c.colour(path.Join("colour"), kelvin)
	if name != "" {
		if err := c.files.spectrum(name); err != nil {
			c.tellFile(path.Join("spectrum"), name, err)
			return
		}
		if (kelvin == nil) != (duv == nil) {
			c.lacks(path, fault.Fault{Text: "a spectrum stands as it is, or is turned to a reading of both colour and duv"})
			return
		}
	}
	if !c.clean(path) || kelvin == nil || duv == nil || *kelvin > hottest {
		return
	}
	if _, err := spectrum.White(*kelvin, *duv); err != nil {
		c.tellErr(path.Join("duv"), err, "")
	}
}

// checkLampLight tells a lamp whose light is said twice.
func (c *checker) checkLampLight(path document.Path, l *Lamp) {
	switch {
	case l.Spectrum != "" && l.Duv != nil:
		c.tell(path.Join("duv"), faultText("a lamp's measured spectrum holds its green and pink already"))
	case l.Spectrum != "":
		c.colour(path.Join("colour"), l.Colour)
		if err := c.files.spectrum(l.Spectrum); err != nil {
			c.tellFile(path.Join("spectrum"), l.Spectrum, err)
		}
	default:
		c.checkLight(path, "", l.Colour, l.Duv)
	}
}

// checkResponse tells a camera's response that is none, and a balance to which no camera can be set.
func (c *checker) checkResponse() {
	camera := c.doc.Camera
	if camera == nil {
		return
	}
	if camera.Response != "" && camera.Response != Generic {
		if err := c.files.camera(camera.Response); err != nil {
			c.tellFile("camera.response", camera.Response, err)
		}
	}
	if camera.Balance != nil && *camera.Balance <= hottest && c.clean("camera") {
		if _, err := spectrum.White(*camera.Balance, camera.Tint); err != nil {
			c.tellErr("camera.tint", err, "")
		}
	}
}

// checkRipple tells light that pulses with a mains of which nothing is known.
func (c *checker) checkRipple() {
	if c.doc.Supply.Mains != nil {
		if *c.doc.Supply.Mains < 10 || *c.doc.Supply.Mains > 500 {
			c.tell("supply.mains", fault.Fault{Text: "no mains has that frequency", Read: c.doc.Supply.Mains.String(), Allowed: "10 Hz to 500 Hz"})
		}
		return
	}
	tell := func(list document.Path, name string, ripple unit.Fraction) {
		if ripple > 0 {
			c.lacks(list.Join(name).Join("ripple"), fault.Fault{Text: "the light pulses with the mains, and nothing says how fast that is",
				Hint: "add supply: {mains: 50 Hz}, or 60 Hz"})
		}
	}
	for i := range c.doc.Lamps {
		tell("lamps", c.doc.Lamps[i].Name, c.doc.Lamps[i].Value.Ripple)
	}
	for i := range c.doc.Practicals {
		tell("practicals", c.doc.Practicals[i].Name, c.doc.Practicals[i].Value.Ripple)
	}
	for i := range c.doc.Ambient {
		tell("ambient", c.doc.Ambient[i].Name, c.doc.Ambient[i].Value.Ripple)
	}
}
