package plan

import "gloam/internal/geometry"

// Figure is a person in their place.
type Figure struct {
	Body  geometry.Person
	Basis geometry.Basis // X to their right, Y where they look, Z up
	Feet  geometry.Vector
	Face  geometry.Vector // the middle of the face's skin
}

// Figure returns a person by name, and whether they have a place and a way to look, which is level.
func (l *Locator) Figure(name string) (Figure, bool) {
	t, ok := l.named[name]
	if !ok || t.person == nil {
		return Figure{}, false
	}
	found := l.once(node{name, turned}, func(at *located) {
		f := Figure{Body: geometry.Person{Height: float64(*t.person.Height)}}
		if t.person.Face != nil {
			f.Body.Face = float64(*t.person.Face)
		}
		feet, ok := l.foot(Name{Thing: name})
		look, leads := l.LevelWay(&t.person.Faces, feet)
		f.Feet, look = feet, look.Unit()
		f.Basis = geometry.Basis{X: look.Cross(geometry.Up), Y: look, Z: geometry.Up}
		f.Face = f.out(f.Body.Front())
		at.figure, at.ok = f, ok && leads && look != geometry.Vector{}
	})
	return found.figure, found.ok
}

// out returns a place of the person's own frame, feet at the origin, in the plan.
func (f *Figure) out(local geometry.Vector) geometry.Vector { return f.Feet.Add(f.Basis.Out(local)) }

// offSkin is how far a person's points lie off the skin, m.
const offSkin = 0.10

// PersonPoint returns where one of a person's points is and the direction it faces, and whether there is such a point:
// front, hair, and 45° to either side, level.
func (l *Locator) PersonPoint(n Name) (at, facing geometry.Vector, ok bool) {
	f, ok := l.Figure(n.Thing)
	if !ok {
		return at, facing, false
	}
	var skin geometry.Vector
	switch n.Point {
	case Front:
		skin, facing = f.Body.Front(), geometry.Vector{Y: 1}
	case Hair:
		skin, facing = f.Body.Hair(), geometry.Up
	case KeySide, ShadowSide:
		left, known := l.keyLeft(n.Thing)
		if left == (n.Point == KeySide) {
			skin, facing = f.Body.Left(), geometry.Vector{X: -1, Y: 1}.Unit()
		} else {
			skin, facing = f.Body.Right(), geometry.Vector{X: 1, Y: 1}.Unit()
		}
		ok = known
	default:
		return at, facing, false
	}
	return f.out(skin.AddMul(offSkin, facing)), f.Basis.Out(facing), ok
}

// keyLeft reports whether a person's key side is the left, and whether that is known: as stated, or by the one lamp
// marked key.
func (l *Locator) keyLeft(name string) (left, known bool) {
	p := l.named[name].person
	if p.Key != "" {
		return p.Key == "left", true
	}
	found := l.once(node{name, sided}, func(at *located) {
		keys := l.doc.keyLamps()
		if len(keys) != 1 {
			return
		}
		f, turned := l.Figure(name)
		lamp, ok := l.foot(Name{Thing: keys[0]})
		at.left, at.ok = lamp.Sub(f.Feet).Dot(f.Basis.X) < 0, turned && ok
	})
	return found.left, found.ok
}

// keyLamps returns the names of the lamps marked key.
func (d *Document) keyLamps() []string {
	var names []string
	for i := range d.Lamps {
		if d.Lamps[i].Value.Key {
			names = append(names, d.Lamps[i].Name)
		}
	}
	return names
}
