package scene

import (
	"bytes"
	"math"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

func (b *builder) lamps() {
	for i := range b.view.Document.Lamps {
		l := &b.view.Document.Lamps[i]
		b.lamp(document.Path("lamps").Join(l.Name), l.Name, &l.Value)
	}
}

// emit puts an emitter with its dial into the scene, under a source of its own.
func (b *builder) emit(e Emitter, d Dial, s Source) int {
	id := len(b.setup.Scene.Emitters)
	s.Emitters = []int{id}
	b.setup.Scene.Emitters = append(b.setup.Scene.Emitters, e)
	b.setup.Dials = append(b.setup.Dials, d)
	b.setup.Sources = append(b.setup.Sources, s)
	return id
}

func (b *builder) lamp(path document.Path, name string, l *plan.Lamp) {
	kit, ok := b.view.Kit.Lamp(l.Kit)
	if !ok && (l.Kit != "" || l.Photometry == "") {
		b.fail(path.Join("kit"), "no such lamp", l.Kit, "a lamp of the kit")
		return
	}
	at := b.where(path.Join("at"), &l.At, l.Height)
	axis := b.toward(path.Join("aim"), &l.Aim, at)
	e := Emitter{Name: name, Source: name, Kind: Lamp, Centre: at, Basis: geometry.About(axis).Roll(l.Roll.Radians())}
	b.shine(path, &e, l, kit)

	use := LampUse{Name: name, Kit: kit, Dim: *l.Dim, MaxDim: 1, Output: 1}
	light, figures := b.strength(path, l, &use)
	if use.Dim > use.MaxDim {
		b.fail(path.Join("dim"), "the head can't give that in this mode", use.Dim.String(), "up to "+use.MaxDim.String())
	}
	dial := Dial{Level: use.Level(use.Dim), Light: light, Gel: b.gel(path.Join("gel"), l.Gel)}
	use.Emitter = b.emit(e, dial, Source{Name: name, Doubts: []Doubt{
		figures, {"distance of " + name, gear.DistanceDoubt}, {"dim of " + name, gear.DimDoubt}}})
	b.setup.Lamps = append(b.setup.Lamps, use)
}

// strength sets what a lamp gives at its colour and in its mode, and returns its light and what is not known of its
// figures. These belong to the kit item, so that two of a kind err together. Where a photometric file is all that is
// known of a lamp, it gives the same at any colour and counts as a data sheet.
func (b *builder) strength(path document.Path, l *plan.Lamp, use *LampUse) (light spectrum.Light, figures Doubt) {
	var err error
	if use.Kit == nil {
		if light, err = spectrum.BiColour(*l.Colour, 0); err != nil {
			b.failed(path.Join("colour"), err)
		}
		return light, Doubt{"figures of " + l.Photometry, gear.Sheet.LampDoubt()}
	}
	use.MaxDim = use.Kit.MaxDim(l.Mode)
	if use.Output, err = use.Kit.Output(*l.Colour); err != nil {
		b.failed(path.Join("colour"), err)
	}
	if light, err = use.Kit.Light(*l.Colour); err != nil {
		b.failed(path.Join("colour"), err)
	}
	return light, Doubt{"figures of " + use.Kit.Name, use.Kit.Quality.LampDoubt()}
}

// shine gives a lamp its beam and its opening: the kit's, or a photometric file's in place of the kit's beam. Without a
// kit item the opening is the file's too.
func (b *builder) shine(path document.Path, e *Emitter, l *plan.Lamp, kit *gear.Lamp) {
	var err error
	var offset unit.Metre
	if l.Photometry != "" {
		var file *photometry.File
		if file, err = photometry.ReadFile(l.Photometry, bytes.NewReader(b.view.Files[l.Photometry])); err == nil {
			e.Beam, e.Form = beamOf(file), fileForm(file.Opening)
		}
		path = path.Join("photometry")
	} else if e.Beam, offset, err = kit.Beam(l.Zoom); err != nil {
		path = path.Join("zoom")
	}
	if err != nil {
		b.failed(path, err)
		e.Beam = photometry.Isotropic(0)
	}
	e.Offset = float64(offset)
	if kit == nil {
		return
	}
	o := kit.Opening
	switch o.Shape {
	case gear.Disc:
		e.Form = Form{Shape: Disc, Radius: float64(o.Diameter) / 2}
	case gear.Rectangle:
		e.Form = Form{Shape: Panel, Width: float64(o.Width), Height: float64(o.Height)}
	case gear.Tube:
		e.Form = Form{Shape: Tube, Radius: float64(o.Diameter) / 2, Height: float64(o.Width)}
		luminance, _ := kit.Luminance()
		e.Luminance, e.Beam = float64(luminance), nil
	}
}

// leastOpening stands in for the size of an opening that a file leaves at 0, a point or a line, m.
const leastOpening = 0.01

// fileForm is the opening of a photometric file as it is seen from the axis.
func fileForm(o photometry.Opening) Form {
	width, height := max(float64(o.Length), leastOpening), max(float64(o.Width), leastOpening)
	switch o.Shape {
	case photometry.Rectangle, photometry.Box, photometry.LyingCylinder:
		return Form{Shape: Panel, Width: width, Height: height}
	}
	return Form{Shape: Disc, Radius: height / 2}
}

func (b *builder) gel(path document.Path, text string) spectrum.Band {
	if text == "" {
		return Clear
	}
	gel, err := spectrum.ParseGel(text)
	if err != nil {
		b.failed(path, err)
		return Clear
	}
	return gel.Band
}

// bulbDiameter is that of the bulb in a shade (common practice, no source).
const bulbDiameter unit.Metre = 0.06

func (b *builder) practicals() {
	for i := range b.view.Document.Practicals {
		p := &b.view.Document.Practicals[i]
		b.practical(document.Path("practicals").Join(p.Name), p.Name, &p.Value)
	}
}

func (b *builder) practical(path document.Path, name string, p *plan.Practical) {
	at := b.where(path.Join("at"), &p.At, p.Height)
	axis := geometry.Up
	if p.Faces != nil {
		axis = b.toward(path.Join("faces"), p.Faces, at)
	}
	e := Emitter{Name: name, Source: name, Kind: Lamp, Centre: at, Basis: geometry.About(axis)}
	area := b.form(&e, p)
	var luminance float64
	if p.Luminance != nil {
		luminance = float64(*p.Luminance)
	} else { // a matt surface of area A that sends flux Φ has the luminance Φ/(πA)
		luminance = float64(*p.Flux) / (math.Pi * area)
	}
	if e.Form.Shape == Panel {
		e.Beam = photometry.Cosine(unit.Candela(luminance * area))
	} else {
		e.Luminance = luminance
	}
	light, err := spectrum.BiColour(*p.Colour, 0)
	if err != nil {
		b.failed(path.Join("colour"), err)
	}
	use := LampUse{Name: name, Dim: *p.Dim, MaxDim: 1, Output: 1}
	quality := gear.Quality(p.Quality)
	use.Emitter = b.emit(e, Dial{Level: use.Level(use.Dim), Light: light, Gel: Clear}, Source{Name: name, Doubts: []Doubt{
		{"figures of " + name, quality.LampDoubt()}, {"distance of " + name, gear.DistanceDoubt}, {"dim of " + name, gear.DimDoubt}}})
	b.setup.Lamps = append(b.setup.Lamps, use)
	if p.Kind == "shade" {
		b.shade(path, name, p, at)
	}
}

// form gives a practical its shape and returns the area that sends light.
func (b *builder) form(e *Emitter, p *plan.Practical) (area float64) {
	if p.Kind == "panel" {
		w, h := size2(*p.Size)
		e.Form = Form{Shape: Panel, Width: w, Height: h}
		return w * h
	}
	diameter := bulbDiameter
	if p.Kind != "shade" { // a shade's diameter is the shade's
		diameter = *p.Diameter
	}
	r := float64(diameter) / 2
	if p.Kind == "tube" {
		length := float64(*p.Length)
		// A tube lies along what it faces; the basis' X is its axis.
		z := e.Basis.Z
		e.Basis = geometry.Basis{X: z, Y: e.Basis.Y, Z: z.Cross(e.Basis.Y)}
		e.Form = Form{Shape: Tube, Radius: r, Height: length}
		return 2 * math.Pi * r * length
	}
	e.Form = Form{Shape: Globe, Radius: r}
	return 4 * math.Pi * r * r
}

// shade hangs an open cylinder of cloth about a bulb.
func (b *builder) shade(path document.Path, name string, p *plan.Practical, at geometry.Vector) {
	kit, ok := b.view.Kit.Cloth(p.Shade)
	if !ok {
		b.fail(path.Join("shade"), "no such cloth", p.Shade, "a cloth of the kit")
		return
	}
	o := kit.Optics()
	radius, length := float64(*p.Diameter)/2, float64(*p.Length)
	b.add(name+" shade", mantle(at, radius, length), Optics{
		ReflectFront: o.ReflectFront, ReflectBack: o.ReflectBack, Transmit: o.ScatterForward, Straight: o.StraightOn,
	})
}

// mantle is an upright cylinder without ends about its centre, facing out.
func mantle(at geometry.Vector, radius, height float64) (m geometry.Mesh) {
	const slices = 48
	for i := range int32(slices) {
		s, c := math.Sincos(2 * math.Pi * float64(i) / slices)
		side := at.Add(geometry.Vector{X: radius * c, Y: radius * s})
		m.Positions = append(m.Positions, side.AddMul(-height/2, geometry.Up), side.AddMul(height/2, geometry.Up))
		a, b := 2*i, 2*((i+1)%slices)
		m.Triangles = append(m.Triangles, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	return m
}
