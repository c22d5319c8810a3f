package plan

import (
	"fmt"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/unit"
)

// checkLamps tells what is wrong with lamps.
func (c *checker) checkLamps() {
	for i := range c.doc.Lamps {
		l := &c.doc.Lamps[i].Value
		path := document.Path("lamps").Join(c.doc.Lamps[i].Name)
		c.where(path.Join("at"), &l.At)
		c.between(path.Join("height"), l.Height, lowest, highest)
		c.gel(path.Join("gel"), l.Gel)
		c.checkLampLight(path, l)
		c.aim(path.Join("aim"), c.doc.Lamps[i].Name, l)
		if l.Photometry != "" {
			if err := c.files.photometry(l.Photometry); err != nil {
				c.tellFile(path.Join("photometry"), l.Photometry, err)
			}
		}
		c.checkKit(path, l)
	}
}

// aim tells a lamp that is aimed at nothing, or at itself.
func (c *checker) aim(path document.Path, name string, l *Lamp) {
	switch {
	case l.Aim.Name == (Name{Thing: name}):
		c.tell(path, faultText("the lamp is aimed at itself"))
	case l.Aim == (Toward{}):
	default:
		c.toward(path, &l.Aim)
		at, ok := c.locator.Place(&l.At, l.Height)
		c.notAtItself(path, &l.Aim, at, ok)
	}
}

// checkKit tells what the kit's lamp cannot do.
func (c *checker) checkKit(path document.Path, l *Lamp) {
	if l.Kit == "" {
		if l.Photometry == "" && c.clean(path) {
			c.lacks(path, fault.Fault{Text: "does not say what lamp it is", Hint: "say kit: or photometry:"})
		}
		return
	}
	k, ok := c.kit.Lamp(l.Kit)
	if !ok {
		c.tell(path.Join("kit"), fault.Fault{Text: "the kit has no lamp of that name", Read: l.Kit,
			Hint: meantOf(l.Kit, c.kit.LampNames())})
		return
	}
	if l.Colour != nil && *l.Colour <= hottest {
		if _, err := k.Output(*l.Colour); err != nil {
			c.tellErr(path.Join("colour"), err, "")
		}
	}
	c.checkZoom(path.Join("zoom"), k, l)
	quiet := l.Mode == gear.Quiet
	switch most := k.MaxDim(l.Mode); {
	case quiet && (k.Fan == nil || k.Fan.Quiet == nil):
		c.tell(path.Join("mode"), faultText("%s has no quiet mode", k.Name))
	case l.Dim != nil && *l.Dim > most:
		c.tell(path.Join("dim"), fault.Fault{Text: fmt.Sprintf("the quiet mode of %s ends at %v", k.Name, most), Read: l.Dim.String(),
			Hint: "dim it further, or take mode: normal"})
	}
}

// checkZoom tells a zoom that the lamp does not have. A photometric file stands in for the lamp's own beam.
func (c *checker) checkZoom(path document.Path, k *gear.Lamp, l *Lamp) {
	spot, flood, zooms := k.Zoom()
	switch {
	case l.Zoom == nil && zooms && l.Photometry == "" && c.clean(path):
		c.lacks(path, fault.Fault{Text: fmt.Sprintf("%s needs a zoom", k.Name), Allowed: fmt.Sprintf("%v to %v", spot, flood)})
	case l.Zoom == nil:
	case l.Photometry != "":
		c.tell(path, faultText("a photometric file has one beam and no zoom"))
	default:
		if _, _, err := k.Beam(l.Zoom); err != nil {
			c.tellErr(path, err, l.Zoom.String())
		}
	}
}

// meantOf returns the nearest name as a hint, or says where the names are listed.
func meantOf(read string, names []string) string {
	if hint := fault.Meant(read, names); hint != "" {
		return hint
	}
	if len(names) > 0 {
		return fmt.Sprintf("it has %d, such as %s", len(names), names[0])
	}
	return ""
}

// cloth tells a kind of cloth that the kit does not have.
func (c *checker) cloth(path document.Path, kind string) {
	if _, ok := c.kit.Cloth(kind); kind != "" && !ok {
		c.tell(path, fault.Fault{Text: "the kit has no cloth of that name", Read: kind, Hint: meantOf(kind, c.kit.ClothNames())})
	}
}

// checkCloths tells what is wrong with cloths.
func (c *checker) checkCloths() {
	for i := range c.doc.Cloths {
		name, cl := c.doc.Cloths[i].Name, &c.doc.Cloths[i].Value
		path := document.Path("cloths").Join(name)
		c.where(path.Join("at"), &cl.At)
		c.between(path.Join("height"), cl.Height, lowest, highest)
		c.cloth(path.Join("kind"), cl.Kind)
		if cl.Size != (unit.Size2{}) {
			c.sides(path.Join("size"), largestCloth, cl.Size.Width, cl.Size.Height)
		}
		if cl.Faces == (Toward{}) {
			continue
		}
		c.toward(path.Join("faces"), &cl.Faces)
		c.ownWay(path.Join("faces"), name, &cl.Faces)
		at, ok := c.locator.Place(&cl.At, cl.Height)
		c.notAtItself(path.Join("faces"), &cl.Faces, at, ok)
	}
}

// needs lists, for each kind of practical, the fields that it has.
var needs = map[string][]string{
	"globe":  {"diameter"},
	"shade":  {"diameter", "length"},
	"tube":   {"diameter", "length", "faces"},
	"panel":  {"size", "faces"},
	"candle": nil,
}

// checkPracticals tells what a practical lacks for its kind.
func (c *checker) checkPracticals() {
	for i := range c.doc.Practicals {
		name, p := c.doc.Practicals[i].Name, &c.doc.Practicals[i].Value
		path := document.Path("practicals").Join(name)
		c.where(path.Join("at"), &p.At)
		c.between(path.Join("height"), p.Height, lowest, highest)
		c.toward(path.Join("faces"), p.Faces)
		c.checkLight(path, p.Spectrum, p.Colour, p.Duv)
		c.gel(path.Join("gel"), p.Gel)
		c.cloth(path.Join("shade"), p.Shade)
		if p.Faces != nil {
			c.ownWay(path.Join("faces"), name, p.Faces)
			at, ok := c.locator.Place(&p.At, p.Height)
			c.notAtItself(path.Join("faces"), p.Faces, at, ok)
		}
		if p.Kind != "" && c.clean(path) {
			c.checkForm(path, p)
			c.checkStrength(path, p)
		}
	}
}

func (c *checker) checkForm(path document.Path, p *Practical) {
	has := map[string]bool{"diameter": p.Diameter != nil, "length": p.Length != nil, "size": p.Size != nil, "faces": p.Faces != nil}
	var missing []string
	for _, field := range needs[p.Kind] {
		if !has[field] {
			missing = append(missing, field)
		}
	}
	if missing != nil {
		c.lacks(path, faultText("a %s needs %s", p.Kind, strings.Join(missing, " and ")))
	}
	if p.Diameter != nil {
		c.between(path.Join("diameter"), *p.Diameter, smallestSide, largestCloth)
	}
	if p.Length != nil {
		c.between(path.Join("length"), *p.Length, smallestSide, largestCloth)
	}
}

func (c *checker) checkStrength(path document.Path, p *Practical) {
	switch {
	case p.Flux != nil && p.Luminance != nil:
		c.tell(path, faultText("its strength is given twice: by flux and by luminance"))
	case p.Flux == nil && p.Luminance == nil:
		c.lacks(path, fault.Fault{Text: "does not say how strong it is", Hint: "say flux: 470 lm, or luminance: as a spot meter reads it"})
	case p.Flux != nil && *p.Flux <= 0, p.Luminance != nil && *p.Luminance <= 0:
		c.tell(path, faultText("gives no light"))
	}
}
