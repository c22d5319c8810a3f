package gear

import (
	"fmt"
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// emission is how a lamp makes its colours: of one white engine that is held where stated, of two, or of several
// colours. The zero emission is the first.
type emission struct {
	engines  *spectrum.Engines
	dial     []spectrum.Setting // of the engines, as measured; nil: not
	held     bool               // the engines are held at the lamp's Duv
	emitters spectrum.Emitters
}

// enginesText is the two whites of a bi-colour lamp.
type enginesText struct {
	Warm string                        `yaml:"warm" required:"true" doc:"spectrum of the warm engine: a CIE illuminant, or a CSV of nm,value beside the kit file"`
	Cool string                        `yaml:"cool" required:"true" doc:"spectrum of the cool engine"`
	Mix  document.Named[unit.Fraction] `yaml:"mix" doc:"share of the flux that the cool engine makes, against the colour temperature set; found from the two spectra if not given"`
}

// Light returns the spectrum at a colour temperature and a Duv; nil is the lamp's own. A lamp without stated engines is taken
// to be white light held there (spectrum.White). Errors are Output's, and a colour the lamp's engines do not make.
func (l *Lamp) Light(kelvin unit.Kelvin, duv *float64) (spectrum.Curve, error) {
	if _, err := l.Output(kelvin); err != nil {
		return spectrum.Curve{}, err
	}
	at := l.duv
	if duv != nil {
		at = *duv
	}
	e := &l.emission
	switch {
	case e.emitters != nil:
		_, mix, err := e.emitters.Drive(kelvin, at)
		return mix, err
	case e.engines == nil:
		return spectrum.White(kelvin, at)
	case duv != nil || e.held:
		return e.engines.Held(kelvin, at)
	case e.dial != nil:
		return e.engines.Measured(kelvin, e.dial)
	}
	return e.engines.Plain(kelvin)
}

// emission reads how a lamp makes its colours.
func (r *reader) emission(path document.Path, t *lampText) (e emission) {
	e.held = t.Duv != nil
	if t.Emitters != "" {
		e.emitters, _ = spectrum.EmitterSet(t.Emitters) // one of the words
	}
	if t.Engines == nil {
		return e
	}
	path = path.Join("engines")
	if e.emitters != nil {
		r.tell(path, fault.Fault{Text: "a lamp has engines or emitters, not both"})
	}
	if !r.clean(path) {
		return e
	}
	e.engines = &spectrum.Engines{Warm: r.spectrum(path.Join("warm"), t.Engines.Warm), Cool: r.spectrum(path.Join("cool"), t.Engines.Cool)}
	e.dial = r.mix(path.Join("mix"), t.Engines.Mix)
	return e
}

// mix returns the table of a measured dial, its kelvin rising.
func (r *reader) mix(path document.Path, table document.Named[unit.Fraction]) (dial []spectrum.Setting) {
	r.few(path, len(table))
	for _, e := range table {
		if k, ok := key[unit.Kelvin](r, path.Join(e.Name), e.Name); ok {
			r.checkKelvin(path.Join(e.Name), k)
		}
	}
	if !r.clean(path) {
		return nil
	}
	c := outputCurve(table)
	if len(c) > 0 && !c.sort() {
		r.tell(path, fault.Fault{Text: "a colour temperature stands twice"})
	}
	for _, row := range slices.Backward(c) { // by mired
		dial = append(dial, spectrum.Setting{Kelvin: unit.Kelvin(1e6 / row.x), Cool: unit.Fraction(row.y)})
	}
	return dial
}

// spectrum reads a spectrum that the kit names.
func (r *reader) spectrum(path document.Path, name string) spectrum.Curve {
	c, ok := spectrum.Illuminant(name)
	if ok {
		return c
	}
	switch {
	case r.open == nil:
		r.tell(path, fault.Fault{Text: "no file can be opened here", Read: name})
		return c
	case r.opened == most:
		r.tell(path, fault.Fault{Text: fmt.Sprintf("the kit names more than %d files", most), Read: name})
		return c
	}
	r.opened++
	data, err := r.open(name)
	if err != nil {
		r.tell(path, fault.Fault{Text: "no light is known by that name, nor is there such a file", Read: name,
			Hint: fault.Meant(name, spectrum.IlluminantNames())})
		return c
	}
	m, err := spectrum.Read(name, data)
	if err != nil {
		r.faults = append(r.faults, fault.Of(err, fault.Input)...)
		r.spoil(path)
	}
	r.faults = append(r.faults, m.Notes...)
	return m.Curve
}
