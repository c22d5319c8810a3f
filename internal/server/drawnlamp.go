package server

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// LampDrawn is a head with the edges of its beam, where the intensity is half of that on the axis.
type LampDrawn struct {
	Name   string     `json:"name"`
	Kind   string     `json:"kind"`
	At     Spot       `json:"at"`
	Height unit.Metre `json:"height_m"`
	Axis   Spot       `json:"axis" doc:"way it is aimed, of length 1 or less: less where it points up or down"`
	Edges  []Spot     `json:"edges" doc:"ends of the beam's two edges, as far away as what it is aimed at; empty for a lamp that shines all round"`
	Across []Spot     `json:"across" doc:"outline of the beam there, square to it, seen from above; empty without edges"`
	Floor  []Spot     `json:"floor" doc:"outline of the beam on the floor; empty unless all of it falls there"`
	Fields []Field    `json:"fields"`
}

// openThrow is how far the edges of a beam are drawn that is aimed at nothing, m.
const openThrow = 4

func (d *drawer) lamps() {
	doc := &d.view.Document
	for i := range d.setup.Lamps {
		use := &d.setup.Lamps[i]
		e := &d.setup.Scene.Emitters[use.Emitter]
		drawn := LampDrawn{Name: use.Name, At: d.spot(e.Centre), Height: unit.Metre(e.Centre.Z), Axis: Spot{e.Basis.Z.X, e.Basis.Z.Y},
			Edges: []Spot{}, Across: []Spot{}, Floor: []Spot{}}
		if l, ok := doc.Lamps.Get(use.Name); ok {
			d.out.Lamps = append(d.out.Lamps, d.lamp(drawn, l, e))
		} else if p, ok := doc.Practicals.Get(use.Name); ok {
			d.out.Practicals = append(d.out.Practicals, d.practical(drawn, p, e))
		}
	}
}

func (d *drawer) lamp(drawn LampDrawn, l *plan.Lamp, e *scene.Emitter) LampDrawn {
	path := document.Path("lamps").Join(drawn.Name)
	drawn.Kind = l.Kit
	if b, ok := beamOf(e, d.throw(l, e)); ok {
		d.beams[drawn.Name] = b
		drawn.Edges = b.edges(geometry.Up)
		drawn.Across, drawn.Floor = b.across(), b.floor()
	}
	drawn.Fields = []Field{d.field("dim", path.Join("dim"), l.Dim.String()), d.field("colour", path.Join("colour"), written(l.Colour))}
	h := d.handle("lamp", drawn.Name, path, e.Centre, "at", "height", "aim", "kit", "zoom", "dim", "colour", "gel")
	h.moves(d, &l.At, false)
	h.faces("aim", e.Basis.Z)
	return drawn
}

func (d *drawer) practical(drawn LampDrawn, p *plan.Practical, e *scene.Emitter) LampDrawn {
	path := document.Path("practicals").Join(drawn.Name)
	drawn.Kind = p.Kind
	drawn.Fields = []Field{d.field("dim", path.Join("dim"), p.Dim.String()), d.field("colour", path.Join("colour"), written(p.Colour))}
	h := d.handle("practical", drawn.Name, path, e.Centre, "at", "height", "faces", "flux", "diameter", "dim", "colour")
	h.moves(d, &p.At, false)
	if p.Faces != nil {
		if way, ok := d.where.Way(p.Faces, e.Centre); ok {
			h.faces("faces", way)
		}
	}
	return drawn
}

// throw is how far a beam is drawn: to what it is aimed at.
func (d *drawer) throw(l *plan.Lamp, e *scene.Emitter) float64 {
	if way, ok := d.where.Way(&l.Aim, e.Centre); ok && l.Aim.Bearing == nil {
		return way.Length()
	}
	return openThrow
}

func written(k *unit.Kelvin) string {
	if k == nil {
		return ""
	}
	return k.String()
}

// half is the share of the axis' intensity at which a beam ends [CIE121].
const half = 0.5

// beam is a cone of light as far as it is drawn.
type beam struct {
	from, axis geometry.Vector
	throw      float64 // m
	slope      float64 // tangent of half its angle
}

// beamOf returns the beam of a lamp; ok is false for one that shines all round, or nearly.
func beamOf(e *scene.Emitter, throw float64) (beam, bool) {
	if e.Beam == nil {
		return beam{}, false
	}
	s, c := math.Sincos(photometry.BeamAngle(e.Beam, half).Radians() / 2)
	return beam{e.Centre, e.Basis.Z, throw, s / c}, c >= 0.1
}

// ends returns the ends of the beam's edges in the plane of its axis that is square to a view.
func (b *beam) ends(view geometry.Vector) []geometry.Vector {
	across := view.Cross(b.axis)
	if across.Length() < 1e-6 {
		return nil
	}
	middle, reach := b.from.AddMul(b.throw, b.axis), b.throw*b.slope
	return []geometry.Vector{middle.AddMul(reach, across.Unit()), middle.AddMul(-reach, across.Unit())}
}

// edges returns the ends seen from above.
func (b *beam) edges(view geometry.Vector) []Spot {
	spots := []Spot{}
	for _, v := range b.ends(view) {
		spots = append(spots, Spot{v.X, v.Y})
	}
	return spots
}

// round is how many places outline a beam.
const round = 48

// rim gives the ways of the beam's rim, each as long as 1 m along the axis asks.
func (b *beam) rim(take func(geometry.Vector)) {
	basis := geometry.About(b.axis)
	for i := range round {
		s, c := math.Sincos(2 * math.Pi * float64(i) / round)
		take(b.axis.AddMul(b.slope*c, basis.X).AddMul(b.slope*s, basis.Y))
	}
}

func (b *beam) across() []Spot {
	spots := []Spot{}
	b.rim(func(way geometry.Vector) {
		at := b.from.AddMul(b.throw, way)
		spots = append(spots, Spot{at.X, at.Y})
	})
	return spots
}

// farthest is how far off a beam's place on the floor is drawn, m.
const farthest = 50

// floor outlines the beam on the floor at height 0, if all of it falls there.
func (b *beam) floor() []Spot {
	spots := []Spot{}
	b.rim(func(way geometry.Vector) {
		if far := -b.from.Z / way.Z; way.Z < 0 && far > 0 && far*math.Hypot(way.X, way.Y) < farthest {
			at := b.from.AddMul(far, way)
			spots = append(spots, Spot{at.X, at.Y})
		}
	})
	if len(spots) < round {
		return []Spot{}
	}
	return spots
}
