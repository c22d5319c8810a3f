package scene

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// faceHeight is what is lit when a mark with no height of its own is aimed at: the face of someone who stands there
// (common practice, no source).
const faceHeight = 1.6

// or returns what the plan gives, or the default.
func or[T any](given *T, otherwise T) T {
	if given != nil {
		return *given
	}
	return otherwise
}

func point(x, y, z unit.Metre) geometry.Vector {
	return geometry.Vector{X: float64(x), Y: float64(y), Z: float64(z)}
}

// where returns a place in metres. height is that of the thing placed above a named place; coordinates with a height of
// their own have it already.
func (b *builder) where(path document.Path, w *plan.Where, height unit.Metre) geometry.Vector {
	if w.Place != nil {
		return point(w.Place.X, w.Place.Y, or(w.Place.Z, height))
	}
	from := b.foot(path, w.Name)
	if w.Distance > 0 {
		way := b.bearing(w.Bearing)
		if w.Toward != (plan.Name{}) {
			way = level(b.foot(path, w.Toward).Sub(from))
		}
		from = from.AddMul(float64(w.Distance), way)
	}
	return from.AddMul(float64(height), geometry.Up)
}

// bearing is the level direction of an azimuth from true north.
func (b *builder) bearing(azimuth unit.Bearing) geometry.Vector {
	s, c := math.Sincos((float64(azimuth) - float64(b.view.Document.Set.North)) * math.Pi / 180)
	return geometry.Vector{X: s, Y: c}
}

// level is the horizontal part of a vector, as a direction.
func level(v geometry.Vector) geometry.Vector {
	v.Z = 0
	return v.Unit()
}

// foot returns where a named thing stands: on the floor for a mark, a person or an object, else its middle. Each is found
// once, since a chain of places that hang on two others each would be walked more often than there are stars.
func (b *builder) foot(path document.Path, n plan.Name) geometry.Vector {
	if at, ok := b.feet[n]; ok {
		return at
	}
	at := b.findFoot(path, n)
	b.feet[n] = at
	return at
}

func (b *builder) findFoot(path document.Path, n plan.Name) geometry.Vector {
	d := &b.view.Document
	if m, ok := d.Marks.Get(n.Thing); ok {
		return b.where(path, &m.At, 0)
	}
	if p, ok := d.People.Get(n.Thing); ok && n.Point == "" {
		return b.where(path, &p.At, 0)
	}
	if o, ok := d.Set.Objects.Get(n.Thing); ok && o.Kind != "mirror" {
		return b.where(path, &o.At, 0)
	}
	at, _ := b.centre(path, n)
	return at
}

// centre returns the middle of a named thing as light is aimed at it: a person's face, a frame's centre, a window's, a
// head; a mark's is face height above it.
func (b *builder) centre(path document.Path, n plan.Name) (geometry.Vector, bool) {
	d := &b.view.Document
	if n.Thing == plan.CameraName && d.Camera != nil && d.Camera.At != nil {
		return b.where(path, d.Camera.At, d.Camera.Height), true
	}
	if m, ok := d.Marks.Get(n.Thing); ok {
		at := b.where(path, &m.At, 0)
		if m.At.Place == nil || m.At.Place.Z == nil {
			at.Z += faceHeight
		}
		return at, true
	}
	if p, ok := d.People.Get(n.Thing); ok {
		who := b.figure(path, n.Thing, p)
		if at, _, ok := who.point(n.Point); ok {
			return at, true
		}
		return who.face(), true
	}
	if l, ok := d.Lamps.Get(n.Thing); ok {
		return b.where(path, &l.At, l.Height), true
	}
	if c, ok := d.Cloths.Get(n.Thing); ok {
		return b.where(path, &c.At, c.Height), true
	}
	if p, ok := d.Practicals.Get(n.Thing); ok {
		return b.where(path, &p.At, p.Height), true
	}
	if p, ok := d.Points.Get(n.Thing); ok {
		return b.where(path, &p.At, p.Height), true
	}
	if o, ok := d.Set.Objects.Get(n.Thing); ok {
		at := b.where(path, &o.At, 0)
		if o.Kind != "mirror" {
			at.Z += float64(o.Size.Height) / 2
		}
		return at, true
	}
	if w, ok := d.Walks.Get(n.Thing); ok && len(w.Marks) > 0 {
		first := b.where(path, &w.Marks[0], 0)
		last := b.where(path, &w.Marks[len(w.Marks)-1], 0)
		return first.Lerp(last, 0.5).Add(geometry.Vector{Z: float64(*w.Height)}), true
	}
	for _, o := range b.setup.Scene.Openings {
		if o.Name == n.Thing {
			return o.Centre, true
		}
	}
	b.fail(path, "nothing of that name has a place", n.String(), "a mark, person, point, lamp, cloth, practical, opening or object")
	return geometry.Vector{}, false
}

// toward returns the direction from a place that a plan states: a unit vector. flat keeps it level, as a person or a
// walk looks.
func (b *builder) toward(path document.Path, t *plan.Toward, from geometry.Vector, flat bool) geometry.Vector {
	var v geometry.Vector
	if p, ok := b.view.Document.People.Get(t.Name.Thing); flat && ok && t.Name.Point == "" {
		v = b.where(path, &p.At, 0).Sub(from) // where they stand: two people may face each other
	} else {
		v = b.aim(path, t, from)
	}
	if flat {
		v = level(v)
	}
	if v == (geometry.Vector{}) {
		b.fail(path, "faces the place it stands on", "", "")
		return geometry.Vector{Y: 1}
	}
	return v.Unit()
}

func (b *builder) aim(path document.Path, t *plan.Toward, from geometry.Vector) geometry.Vector {
	switch {
	case t.Place != nil:
		return point(t.Place.X, t.Place.Y, or(t.Place.Z, unit.Metre(from.Z))).Sub(from)
	case t.Bearing != nil:
		s, c := math.Sincos(t.Below.Radians())
		return b.bearing(*t.Bearing).Mul(c).AddMul(-s, geometry.Up)
	case t.Name.Thing == plan.SunName:
		return b.sunward(path)
	}
	at, _ := b.centre(path, t.Name)
	return at.Sub(from)
}

// sunward is the direction to the plan's sun.
func (b *builder) sunward(path document.Path) geometry.Vector {
	for _, a := range b.view.Document.Ambient {
		if a.Value.Shape == "sun" && a.Value.Altitude != nil && a.Value.Azimuth != nil {
			return b.sky(*a.Value.Azimuth, *a.Value.Altitude)
		}
	}
	b.fail(path, "there is no sun in the plan", "sun", "an ambient of shape sun, with altitude and azimuth")
	return geometry.Up
}

// sky is the direction at an azimuth and altitude.
func (b *builder) sky(azimuth unit.Bearing, altitude unit.Degree) geometry.Vector {
	s, c := math.Sincos(altitude.Radians())
	return b.bearing(azimuth).Mul(c).AddMul(s, geometry.Up)
}
