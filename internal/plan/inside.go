package plan

import (
	"fmt"
	"math"
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
)

const (
	inWall = 0.002 // m: nearer to a wall's plane than this is in it
	skin   = 0.001 // m: deeper in a box than this is inside it
)

// spot is one place where something stands.
type spot struct {
	path document.Path
	name string // of the thing
	at   geometry.Vector
}

// checkInside tells what stands in a wall or inside a box.
func (c *checker) checkInside() {
	solids := c.solids()
	for _, s := range c.spots() {
		for i := range solids {
			if text, hint := solids[i].holds(s.at); text != "" {
				c.tell(s.path, fault.Fault{Text: text, Hint: hint})
				break
			}
		}
	}
}

// solid is something that nothing else can be in: a wall with its holes, or a box.
type solid struct {
	name     string
	wall     *Wall
	holes    []Hole
	box      *Object
	foot     geometry.Vector // of the box
	sin, cos float64         // of the box's turn
}

// solids returns the walls, ceilings and boxes that have a place.
func (c *checker) solids() []solid {
	var found []solid
	for i := range c.doc.Set.Rooms {
		name, r := c.doc.Set.Rooms[i].Name, &c.doc.Set.Rooms[i].Value
		corner, ok := c.locator.Place(r.Corner, 0)
		all := Walls(corner, r.Size)
		for j := range all {
			if ok && !(all[j].Name == "ceiling" && r.Vault > 0) {
				found = append(found, solid{name: name, wall: &all[j], holes: r.holesIn(&all[j], all, c.doc.Set.North)})
			}
		}
	}
	for i := range c.doc.Set.Objects {
		name, o := c.doc.Set.Objects[i].Name, &c.doc.Set.Objects[i].Value
		if foot, ok := c.locator.foot(Name{Thing: name}); ok && o.Kind == "box" {
			sin, cos := math.Sincos(o.Turn.Radians())
			found = append(found, solid{name: name, box: o, foot: foot, sin: sin, cos: cos})
		}
	}
	return found
}

// holds returns what to tell of a place in the solid, or "".
func (s *solid) holds(at geometry.Vector) (text, hint string) {
	switch {
	case s.wall != nil && s.inWall(at):
		wall := s.wall.Name
		if wall != "ceiling" {
			wall += " wall"
		}
		return fmt.Sprintf("is in the %s of %q", wall, s.name), "move it 1 cm or more away"
	case s.box != nil && s.inBox(at):
		return fmt.Sprintf("is inside the box %q", s.name), ""
	}
	return "", ""
}

func (s *solid) inWall(at geometry.Vector) bool {
	w, from := s.wall, at.Sub(s.wall.Corner)
	x, y, off := from.Dot(w.Basis.X), from.Dot(w.Basis.Y), from.Dot(w.Basis.Z)
	return math.Abs(off) <= inWall && x >= -inWall && x <= w.Width+inWall && y >= -inWall && y <= w.Height+inWall &&
		!slices.ContainsFunc(s.holes, func(h Hole) bool { return h.holds(x, y) })
}

func (s *solid) inBox(at geometry.Vector) bool {
	from := at.Sub(s.foot)
	x, y := from.X*s.cos-from.Y*s.sin, from.X*s.sin+from.Y*s.cos
	return math.Abs(x) < float64(s.box.Size.Width)/2-skin && math.Abs(y) < float64(s.box.Size.Depth)/2-skin &&
		from.Z > -skin && from.Z < float64(s.box.Size.Height)-skin
}

// spots returns where light leaves, is thrown back or is measured, as far as it has a place: a person's face, a walk's
// marks at its height.
func (c *checker) spots() []spot {
	var all []spot
	for _, t := range c.things {
		switch {
		case t.kind == objectKind || t.kind == openingKind || t.kind == markKind || t.kind == walkKind:
		case t.kind == pointKind && c.isSpot(t.name):
		default:
			if at, ok := c.locator.middle(Name{Thing: t.name}); ok {
				all = append(all, spot{t.path.Join("at"), t.name, at})
			}
		}
	}
	for i := range c.doc.Walks {
		w := &c.doc.Walks[i].Value
		marks := document.Path("walks").Join(c.doc.Walks[i].Name).Join("marks")
		for j := range w.Marks {
			if at, ok := c.locator.Place(&w.Marks[j], *w.Height); ok {
				all = append(all, spot{marks.Item(j), c.doc.Walks[i].Name, at})
			}
		}
	}
	for i := range c.doc.Ambient {
		a := &c.doc.Ambient[i].Value
		if a.At == nil {
			continue
		}
		if at, ok := c.locator.Meter(a.At, a.Height); ok {
			all = append(all, spot{document.Path("ambient").Join(c.doc.Ambient[i].Name).Join("at"), c.doc.Ambient[i].Name, at})
		}
	}
	if at, ok := c.locator.foot(Name{Thing: CameraName}); ok {
		all = append(all, spot{"camera.at", CameraName, at})
	}
	return all
}

// isSpot reports whether a point is what a spot meter is aimed at, which may well be a wall.
func (c *checker) isSpot(name string) bool {
	p, ok := c.doc.Points.Get(name)
	return ok && p.Receptor == "spot"
}
