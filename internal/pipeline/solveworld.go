package pipeline

import (
	"fmt"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/gear"
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
