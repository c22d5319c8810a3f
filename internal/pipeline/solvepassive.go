package pipeline

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
)

// What a passive answer is made of: 8 by 8 ft, a board as far from the point as it is wide, a black half as far (common
// practice, no source).
const (
	boardSide     = 2.44
	blackDistance = 1.22
)

// passive are worlds with a board where a point is to get more light, or a black where it is to get less than all lamps off
// leave it.
func (s *solver) passive() (all []*world) {
	tried := map[string]bool{}
	for i := range s.planned.Setup.Targets {
		t := &s.planned.Setup.Targets[i]
		if !t.IsLevel() {
			continue
		}
		p := s.planned.Setup.Points[t.Point]
		r := s.planned.Setup.Scene.Receivers[p.Receiver]
		if r.Kind == scene.Spot || tried[p.Name] || r.Normal.Z > 0.9 {
			continue
		}
		tried[p.Name] = true
		for _, c := range []struct {
			name, kind string
			distance   float64
		}{{"board", "white bounce", boardSide}, {"black", "black", blackDistance}} {
			if _, ok := s.view.Kit.Cloth(c.kind); !ok {
				continue
			}
			if at, ok := s.clear(&r, c.distance); ok {
				all = append(all, s.standing(c.name, c.kind, p.Name, at, r.Position))
			}
		}
	}
	return all
}

// clear returns a place before a receiver where a frame can stand: in the open, or as far off as the room lets it.
func (s *solver) clear(r *scene.Receiver, distance float64) (at geometry.Vector, ok bool) {
	level := geometry.Vector{X: r.Normal.X, Y: r.Normal.Y}
	if level.Length() < 0.1 {
		return at, false
	}
	level = level.Unit()
	for d := distance; d >= distance/2; d -= 0.1 {
		at = r.Position.AddMul(d, level)
		if at.Z < boardSide/2 {
			at.Z = boardSide / 2
		}
		if s.fits(r.Position, at) {
			return at, true
		}
	}
	return at, false
}

// fits reports whether a frame at a place stands in the same room as a point, or neither in one.
func (s *solver) fits(point, at geometry.Vector) bool {
	rooms := s.view.Document.Set.Rooms
	where := plan.NewLocator(&s.view.Document)
	inside := func(v geometry.Vector, margin float64) int {
		for i := range rooms {
			r := &rooms[i].Value
			corner, ok := where.Place(r.Corner, 0)
			if ok && v.X > corner.X+margin && v.X < corner.X+float64(r.Size.Width)-margin &&
				v.Y > corner.Y+margin && v.Y < corner.Y+float64(r.Size.Depth)-margin {
				return i
			}
		}
		return -1
	}
	return inside(point, 0) == inside(at, boardSide/2) && inside(at, boardSide/2) == inside(at, -boardSide/2)
}

// standing is a world with one more frame, upright, that faces a point.
func (s *solver) standing(name, kind, point string, at, toward geometry.Vector) *world {
	for n := 2; s.taken(name); n++ {
		name = fmt.Sprintf("%s %d", strings.TrimRight(name, " 0123456789"), n)
	}
	path := document.Path("cloths").Join(name)
	side := fmt.Sprintf("%.2f x %.2f m", boardSide, boardSide)
	return &world{
		what: []string{fmt.Sprintf("a %s, %s, %.1f m before %s", kind, side, at.Sub(toward).Length(), point)},
		changes: []plan.Change{{Path: path.Join("kind"), Value: kind}, {Path: path.Join("size"), Value: side},
			{Path: path.Join("at"), Value: spelt(at)}, {Path: path.Join("faces"), Value: spelt(toward)}},
		takes: costOfFrame(boardSide),
	}
}

func (s *solver) taken(name string) bool {
	_, ok := s.view.Document.Cloths.Get(name)
	return ok
}

// spelt writes a place to the centimetre.
func spelt(v geometry.Vector) string {
	const cm = 100
	round := func(x float64) float64 { return math.Round(x*cm)/cm + 0 } // and no −0
	return fmt.Sprintf("%.2f %.2f %.2f", round(v.X), round(v.Y), round(v.Z))
}
