package plan

import (
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// Locator finds where the things of a document are and which way they face, in metres. What hangs on a name that is not
// there, or on itself, has no place. Each place is worked out once, so the document must stay as it is.
type Locator struct {
	doc    *Document
	things []*thing
	named  map[string]*thing
	known  map[node]*located

	trail   []node   // what is being worked out, each for the sake of the one before
	circles [][]node // of places that hang on themselves, as they were met
	links   int      // in circles
}

// node is what a place may hang on: some part of what is known of a thing.
type node struct {
	name string
	part part
}

type part int

const (
	standing part = iota // where it is
	turned               // which way a person looks
	sided                // which is a person's key side
)

// located is what is known of a node.
type located struct {
	open, ok bool // open: being worked out
	at       geometry.Vector
	figure   Figure
	left     bool // the key side
}

// NewLocator returns the locator of a document whose absent fields are at their defaults.
func NewLocator(d *Document) *Locator {
	l := &Locator{doc: d, things: d.things(), known: map[node]*located{}}
	l.named = index(l.things)
	if c := d.Camera; c != nil {
		l.named[CameraName] = &thing{name: CameraName, kind: cameraKind, path: "camera", at: c.At, height: c.Height}
	}
	return l
}

// mostLinks bounds what a hostile plan can make of circles.
const mostLinks = 10_000

// once works out a node, unless that is done. A node that is met again meanwhile hangs on itself.
func (l *Locator) once(n node, work func(*located)) *located {
	if at, met := l.known[n]; met {
		if at.open && l.links < mostLinks {
			around := slices.Clone(l.trail[slices.Index(l.trail, n):])
			l.circles, l.links = append(l.circles, around), l.links+len(around)
		}
		return at
	}
	at := &located{open: true}
	l.known[n] = at
	l.trail = append(l.trail, n)
	work(at)
	l.trail = l.trail[:len(l.trail)-1]
	at.open = false
	return at
}

// Place returns a place, and whether there is one. The height is that of the thing placed, above the place; coordinates
// with a height have it already.
func (l *Locator) Place(w *Where, height unit.Metre) (geometry.Vector, bool) {
	if w.Place != nil {
		v := geometry.Vector{X: float64(w.Place.X), Y: float64(w.Place.Y), Z: float64(height)}
		if w.Place.Z != nil {
			v.Z = float64(*w.Place.Z)
		}
		return v, true
	}
	from, ok := l.foot(w.Name)
	at := from
	if w.Distance > 0 {
		way := l.bearing(w.Bearing)
		if w.Toward != (Name{}) {
			to, found := l.foot(w.Toward)
			way, ok = to.Sub(from), ok && found
			way.Z = 0
		}
		at = at.AddMul(float64(w.Distance), way.Unit())
	}
	at.Z += float64(height)
	return at, ok
}

// Meter returns where a meter is held, and whether there is such a place: in the middle of a thing, where the thing alone
// is named, else as Place says.
func (l *Locator) Meter(w *Where, height unit.Metre) (geometry.Vector, bool) {
	if w.Place == nil && w.Distance == 0 && height == 0 {
		return l.middle(w.Name)
	}
	return l.Place(w, height)
}

// foot returns where a thing stands, which others are measured from; of what hangs free, its middle.
func (l *Locator) foot(n Name) (geometry.Vector, bool) {
	if n.Point != "" {
		at, _, ok := l.PersonPoint(n)
		return at, ok
	}
	t, ok := l.named[n.Thing]
	if !ok {
		return geometry.Vector{}, false
	}
	found := l.once(node{t.name, standing}, func(at *located) { at.at, at.ok = l.locate(t) })
	return found.at, found.ok
}

func (l *Locator) locate(t *thing) (geometry.Vector, bool) {
	switch {
	case t.hole != nil:
		return l.opening(t)
	case t.walk != nil && len(t.walk.Marks) > 0:
		first, ok := l.Place(&t.walk.Marks[0], 0)
		last, found := l.Place(&t.walk.Marks[len(t.walk.Marks)-1], 0)
		return first.Lerp(last, 0.5), ok && found
	case t.at == nil:
		return geometry.Vector{}, false
	case t.kind == pointKind:
		return l.Meter(t.at, t.height)
	}
	return l.Place(t.at, t.height)
}

// opening returns the middle of an opening.
func (l *Locator) opening(t *thing) (geometry.Vector, bool) {
	corner, ok := l.Place(t.room.Corner, 0)
	w, found := FindWall(Walls(corner, t.room.Size), t.hole.Wall, l.doc.Set.North)
	if !ok || !found {
		return geometry.Vector{}, false
	}
	return t.hole.HoleIn(w).Centre(w), true
}

// middle returns where a thing is met by what is aimed at it: a person in the face.
func (l *Locator) middle(n Name) (geometry.Vector, bool) {
	t, ok := l.named[n.Thing]
	if ok && n.Point == "" && t.person != nil {
		f, ok := l.Figure(n.Thing)
		return f.Face, ok
	}
	at, found := l.foot(n)
	if ok && n.Point == "" {
		at.Z += t.rise()
	}
	return at, found
}

// faceHeight is what is lit where a mark is aimed at, m: the face of someone who stands there (common practice, no
// source).
const faceHeight = 1.6

// rise returns how far above its foot the middle of a thing is, m.
func (t *thing) rise() float64 {
	switch {
	case t.kind == markKind && (t.at.Place == nil || t.at.Place.Z == nil):
		return faceHeight
	case t.walk != nil:
		return float64(*t.walk.Height)
	case t.object != nil && t.object.Kind != "mirror":
		return float64(t.object.Size.Height) / 2
	}
	return 0
}
