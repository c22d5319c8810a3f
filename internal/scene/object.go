package scene

import (
	"bytes"
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// groundReach is how far the ground goes, m: at face height what lies beyond is a twentieth of a degree of the view.
const groundReach = 2000

// underFloor keeps the ground out of the plane of a room's floor, m.
const underFloor = 0.005

func (b *builder) ground() {
	g := b.view.Document.Set.Ground
	if g == nil {
		return
	}
	z := float64(g.Level)
	if len(b.view.Document.Set.Rooms) > 0 {
		z -= underFloor
	}
	b.add("ground", geometry.Rectangle(geometry.Vector{Z: z}, upright, 2*groundReach, 2*groundReach),
		b.material("set.ground.material", g.Material))
}

func (b *builder) objects() {
	for i := range b.view.Document.Set.Objects {
		o := &b.view.Document.Set.Objects[i]
		path := document.Path("set.objects").Join(o.Name)
		optics := b.material(path.Join("material"), o.Value.Material)
		b.add(o.Name, b.object(path, &o.Value), optics)
	}
}

// object returns the mesh of an object in its place. Turn is clockwise from above.
func (b *builder) object(path document.Path, o *plan.Object) geometry.Mesh {
	foot := b.where(path.Join("at"), &o.At, 0)
	s, c := math.Sincos(o.Turn.Radians())
	turned := geometry.Basis{X: geometry.Vector{X: c, Y: -s}, Y: geometry.Vector{X: s, Y: c}, Z: geometry.Up}
	w, d, h := float64(o.Size.Width), float64(o.Size.Depth), float64(o.Size.Height)
	switch o.Kind {
	case "table":
		return table(w, d, h).Transform(turned, foot, 1)
	case "slope":
		down := turned.Y.Neg()
		if o.Faces != nil {
			down = b.level(path.Join("faces"), o.Faces, foot)
		}
		sin, cos := math.Sincos(o.Rise.Radians())
		up := down.Neg().Mul(cos).AddMul(sin, geometry.Up) // along the slope, uphill
		z := down.Mul(sin).AddMul(cos, geometry.Up)
		return geometry.Rectangle(foot.AddMul(h/2, up), geometry.Basis{X: up.Cross(z), Y: up, Z: z}, w, h)
	case "mirror":
		z := turned.Y.Neg()
		if o.Faces != nil {
			z = b.toward(path.Join("faces"), o.Faces, foot)
		}
		return geometry.Rectangle(foot, geometry.About(z), w, h)
	case "mesh":
		m, _, err := geometry.ReadOBJ(o.File, bytes.NewReader(b.view.Files[o.File]))
		if err != nil {
			b.failed(path.Join("file"), err)
			return m
		}
		return m.Transform(turned, foot, o.Scale)
	}
	return geometry.Box(foot.AddMul(h/2, geometry.Up), turned, geometry.Vector{X: w, Y: d, Z: h})
}

// table is a top on four legs, feet at the origin.
func table(w, d, h float64) (m geometry.Mesh) {
	const top, leg = 0.03, 0.05 // m, common practice, no source
	m = geometry.Box(geometry.Vector{Z: h - top/2}, upright, geometry.Vector{X: w, Y: d, Z: top})
	for _, x := range [2]float64{-1, 1} {
		for _, y := range [2]float64{-1, 1} {
			at := geometry.Vector{X: x * (w - leg) / 2, Y: y * (d - leg) / 2, Z: (h - top) / 2}
			m.Append(geometry.Box(at, upright, geometry.Vector{X: leg, Y: leg, Z: h - top}))
		}
	}
	return m
}

// size2 is a width and a height in metres.
func size2(s unit.Size2) (w, h float64) { return float64(s.Width), float64(s.Height) }
