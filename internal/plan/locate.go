package plan

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// locator finds where things are, as far as the checks need it: a person's points and what hangs on a name that is not
// there or on itself have no place.
type locator struct {
	doc   *Document
	named map[string]*thing
	known map[string]*located
}

// located is where a thing stands, and the middle of it, at which light is aimed.
type located struct {
	foot, middle geometry.Vector
	ok           bool
}

func newLocator(d *Document, named map[string]*thing) *locator {
	return &locator{d, named, map[string]*located{}}
}

// faceHeight is what is lit where a mark is aimed at, m: the face of someone who stands there (common practice, no
// source).
const faceHeight = 1.6

// where returns a place. The height is that of the thing placed, above the place, and counts where the place has none of
// its own.
func (l *locator) where(w *Where, height unit.Metre) (geometry.Vector, bool) {
	if w.Place != nil {
		v := geometry.Vector{X: float64(w.Place.X), Y: float64(w.Place.Y), Z: float64(height)}
		if w.Place.Z != nil {
			v.Z = float64(*w.Place.Z)
		}
		return v, true
	}
	from := l.thing(w.Name)
	at, ok := from.foot, from.ok
	if w.Distance > 0 {
		way := l.bearing(w.Bearing)
		if w.Toward != (Name{}) {
			to := l.thing(w.Toward)
			way, ok = to.foot.Sub(from.foot), ok && to.ok
			way.Z = 0
		}
		at = at.AddMul(float64(w.Distance), way.Unit())
	}
	at.Z += float64(height)
	return at, ok
}

// bearing returns the level direction of an azimuth.
func (l *locator) bearing(azimuth unit.Bearing) geometry.Vector {
	s, c := math.Sincos(unit.Degree(azimuth - l.doc.Set.North).Radians())
	return geometry.Vector{X: s, Y: c}
}

// thing returns where a named thing is. One whose place hangs on itself has none.
func (l *locator) thing(n Name) located {
	if n.Point != "" {
		return located{}
	}
	if at, met := l.known[n.Thing]; met {
		return *at
	}
	at := &located{}
	l.known[n.Thing] = at
	*at = l.locate(n.Thing)
	return *at
}

func (l *locator) locate(name string) (at located) {
	t, ok := l.named[name]
	switch {
	case !ok:
	case t.hole != nil:
		at.foot, at.ok = l.opening(t)
		at.middle = at.foot
	case t.at != nil:
		at.foot, at.ok = l.where(t.at, t.height)
		at.middle = at.foot.Add(geometry.Vector{Z: t.rise()})
	}
	return at
}

// rise returns how far above its foot a thing is aimed at, m.
func (t *thing) rise() float64 {
	switch {
	case t.person != nil:
		return float64(t.person.face())
	case t.kind == markKind && (t.at.Place == nil || t.at.Place.Z == nil):
		return faceHeight
	case t.object != nil && t.object.Kind != "mirror":
		return float64(t.object.Size.Height) / 2
	}
	return 0
}

// face returns the height of a person's face above the floor.
func (p *Person) face() unit.Metre {
	if p.Face != nil {
		return *p.Face
	}
	return unit.Metre(geometry.Person{Height: float64(*p.Height)}.Front().Z)
}

// corner returns a room's inner corner at the least x, y and z.
func (l *locator) corner(r *Room) (geometry.Vector, bool) { return l.where(r.Corner, 0) }

// opening returns the middle of an opening.
func (l *locator) opening(t *thing) (geometry.Vector, bool) {
	corner, ok := l.corner(t.room)
	if !ok {
		return geometry.Vector{}, false
	}
	all := Walls(corner, t.room.Size)
	w, ok := FindWall(all, t.hole.Wall, l.doc.Set.North)
	if !ok {
		return geometry.Vector{}, false
	}
	return t.hole.HoleIn(w).centre(w), true
}

// aimed returns the place that a direction leads to, or false where it leads to none: a bearing, the sun.
func (l *locator) aimed(t *Toward, from geometry.Vector) (geometry.Vector, bool) {
	if t.Place != nil {
		to := geometry.Vector{X: float64(t.Place.X), Y: float64(t.Place.Y), Z: from.Z}
		if t.Place.Z != nil {
			to.Z = float64(*t.Place.Z)
		}
		return to, true
	}
	at := l.thing(t.Name)
	return at.middle, at.ok
}
