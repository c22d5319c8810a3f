package pipeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/transport"
)

// world is a set-up in which only dials and lamps are still to be chosen: what stands in the light is settled.
type world struct {
	changes []plan.Change
	what    []string
	takes   solve.Cost         // beside what lamps take
	settle  func(*world) error // finds the changes when the world's turn comes; nil: they are known
	view    *plan.View
	setup   *scene.Setup
	layers  *transport.Layers
	panes   []panes
}

// panes is what is on all panes of a world.
type panes struct {
	changes []plan.Change
	what    []string
	view    *plan.View
	setup   *scene.Setup
}

// mostWorlds is how many worlds of cloths are looked through; each costs a trace.
const mostWorlds = 24

// worlds are the set-up as planned, with things moved to where that helps, with other cloths on the frames, with a board or a
// black near a point that is wanted at a level, and at another hour.
func (s *solver) worlds() (all []*world) {
	base := &world{view: s.view, setup: s.planned.Setup, layers: s.planned.Layers}
	all = append(all, base)
	if len(s.Free.Moves) > 0 {
		all = append(all, &world{settle: s.move})
	}
	if s.Free.Cloth {
		all = append(all, s.clothWorlds()...)
	}
	all = append(all, s.passive()...)
	if s.planned.Setup.Daylight != nil && s.Free.From == nil {
		all = append(all, &world{settle: s.hour})
	}
	for i := range s.view.Document.Cloths {
		frame := frameOf(&s.view.Document.Cloths[i].Value)
		for _, w := range all {
			addTakes(&w.takes, &frame)
		}
	}
	s.all = len(all)
	return all
}

// clothWorlds are all ways to put kit cloths of the same use on the frames; where these are too many, one frame at a time.
func (s *solver) clothWorlds() []*world {
	cloths := s.view.Document.Cloths
	all := []*world{{}}
	for i := range cloths {
		kinds := s.kinds(&cloths[i].Value)
		var next []*world
		for _, w := range all {
			if len(all)*(len(kinds)+1) > mostWorlds && len(w.changes) > 0 {
				next = append(next, w)
				continue
			}
			next = append(next, w)
			for _, kind := range kinds {
				path := document.Path("cloths").Join(cloths[i].Name).Join("kind")
				next = append(next, &world{changes: append(slices.Clone(w.changes), plan.Change{Path: path, Value: kind}),
					what: append(slices.Clone(w.what), cloths[i].Name+": "+kind)})
			}
		}
		all = next
	}
	return all[1:]
}

// kinds are the kit's other cloths that do what a cloth does: let light through, or throw it back.
func (s *solver) kinds(c *plan.Cloth) (kinds []string) {
	now, ok := s.view.Kit.Cloth(c.Kind)
	if !ok || now.Kind == gear.Black {
		return nil
	}
	passes := func(c *gear.Cloth) bool { return c.Kind == gear.Light || c.Through > 0 && c.Through >= c.Front/4 }
	for _, name := range s.view.Kit.ClothNames() {
		other, _ := s.view.Kit.Cloth(name)
		if other.Name != now.Name && !slices.Contains(kinds, other.Name) && other.Kind != gear.Black && passes(other) == passes(now) {
			kinds = append(kinds, other.Name)
		}
	}
	return kinds
}

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

// ready builds and traces a world.
func (s *solver) ready(w *world) (err error) {
	if w.settle != nil {
		if err := w.settle(w); err != nil || len(w.changes) == 0 {
			return err
		}
	}
	if w.layers == nil {
		if w.view, err = s.view.With(w.changes...); err != nil {
			return err
		}
		if w.setup, err = s.session.build(s.ctx, w.view, s.Options); err != nil {
			return err
		}
		q := s.session.request(w.setup, s.Options)
		q.Goal, q.Keep, q.Progress = draftGoal, walksKept, nil
		if w.layers, err = transport.Trace(s.ctx, w.setup.Scene, q); err != nil {
			return unfinished(err)
		}
	}
	w.panes = []panes{{view: w.view, setup: w.setup}}
	if s.Free.Window {
		err = s.glaze(w)
	}
	return err
}

// mostND is the densest filter put on panes, in steps of 0.3: seven of them.
const mostND = 7

// glaze adds what may be on all panes: each ND by 0.3, the same on all that are glazed, whatever colour is on them.
func (s *solver) glaze(w *world) error {
	rooms := w.view.Document.Set.Rooms
	for k := range mostND + 1 {
		nd := fmt.Sprintf("ND %.1f", 0.3*float64(k))
		p := panes{what: []string{nd + " on the panes"}}
		if k == 0 {
			nd, p.what = "", []string{"no ND on the panes"}
		}
		same := true
		for i := range rooms {
			for j := range rooms[i].Value.Openings {
				o := &rooms[i].Value.Openings[j]
				if o.Value.Glass == "none" {
					continue
				}
				gel := withND(o.Value.Gel, nd)
				same = same && gel == o.Value.Gel
				p.changes = append(p.changes, plan.Change{Path: document.Path("set.rooms").Join(rooms[i].Name).Join("openings").Join(o.Name).Join("gel"), Value: gel})
			}
		}
		if same || len(p.changes) == 0 {
			continue
		}
		var err error
		if p.view, err = w.view.With(p.changes...); err != nil {
			return err
		}
		if p.setup, err = s.session.build(s.ctx, p.view, s.Options); err != nil {
			return err
		}
		w.panes = append(w.panes, p)
	}
	return nil
}

// withND returns a gel as written with another ND in it, or none.
func withND(gel, nd string) string {
	var parts []string
	for _, part := range strings.Split(gel, "+") {
		if part = strings.TrimSpace(part); part != "" && !strings.HasPrefix(strings.ToUpper(part), "ND") {
			parts = append(parts, part)
		}
	}
	if nd != "" {
		parts = append(parts, nd)
	}
	return strings.Join(parts, " + ")
}

func frameOf(c *plan.Cloth) solve.Cost { return costOfFrame(float64(max(c.Size.Width, c.Size.Height))) }

// costOfFrame is what a square frame takes: up to 1.5 m one person, up to 2.5 m two, above four; 10, 15 and 20 minutes of one
// (common practice, no source).
func costOfFrame(side float64) solve.Cost {
	switch {
	case side <= 1.5:
		return solve.Cost{Hands: 1, Time: 600}
	case side <= 2.5:
		return solve.Cost{Hands: 2, Time: 900}
	}
	return solve.Cost{Hands: 4, Time: 1200}
}
