package scene

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

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
	light := b.light(path, p.Spectrum, p.Colour, p.Duv, onLocus)
	use := LampUse{Name: name, Dim: *p.Dim, MaxDim: 1, Output: 1}
	quality := gear.Quality(p.Quality)
	use.Emitter = b.emit(e, Dial{Level: use.Level(use.Dim), Light: light, Gel: b.gel(path.Join("gel"), p.Gel)}, Source{Name: name, Doubts: []Doubt{
		{"figures of " + name, quality.LampDoubt()}, {"distance of " + name, gear.DistanceDoubt}, {"dim of " + name, gear.DimDoubt}}})
	b.ripples(use.Emitter, p.Ripple)
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
