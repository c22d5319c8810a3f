package pipeline

import (
	"math"
	"slices"

	"gloam/internal/exposure"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// dimStep is how fine a lamp's control is set: what crews call out.
const dimStep unit.Fraction = 0.01

// rank looks through what may stand at each place of a world and be on its panes, and keeps the best of each.
func (s *solver) rank(w *world) error {
	if !s.affords(&w.takes) {
		s.done++
		return nil
	}
	if err := s.ready(w); err != nil || w.layers == nil {
		s.done++
		return err
	}
	stands := s.stands()
	shapes, err := s.shapes(w, stands)
	if err != nil {
		return err
	}
	for i := range w.panes {
		look, receivers, err := s.look(w.panes[i].view, w.panes[i].setup, w.layers, nil)
		if err != nil {
			return err
		}
		kit := s.kit(w, &w.panes[i], look, receivers, stands, shapes)
		r, err := kit.Rank(s.ctx, nil)
		if err != nil {
			return err
		}
		s.choices += max(r.Choices, 1) // without lamps there is one
		for _, a := range r.Answers {
			addTakes(&a.Cost, &w.takes)
			s.found = append(s.found, candidate{KitAnswer: a, in: w, panes: i, stands: stands})
		}
		s.tell(0.5 + 0.5*float64(i+1)/float64(len(w.panes)))
	}
	s.done++
	return nil
}

// kept is how many answers of a world under one kind of panes stay in the running.
const kept = 40

// kit puts a world into the solver's terms.
func (s *solver) kit(w *world, on *panes, look solve.Problem, receivers []int, stands []stand, shapes []shaped) *solve.Kit {
	k := &solve.Kit{Problem: look, Budget: s.budget(&w.takes), Order: s.Order, Answers: kept}
	stock, number := s.stock()
	k.Stock = stock
	levels := make([]func(lamp int) []unit.Lux, len(shapes))
	for n := range shapes {
		levels[n] = fullLevels(shapes[n], on.setup.Scene.Openings, receivers)
	}
	for i := range stands {
		st := &stands[i]
		position := solve.Position{Name: st.name}
		for j := range st.outfits {
			o := &st.outfits[j]
			a := solve.Alternative{Name: o.say}
			if !o.off {
				u := &shapes[o.shape].setup.Lamps[st.use]
				a.Lamp = dialOf(u, o.most(u))
				a.By = levels[o.shape](st.use)
				a.Cost, a.Item = s.takes(o), number[o.item]
				if len(s.planned.Setup.Targets) > 0 && len(receivers) > 0 {
					a.Softness = softness(shapes[o.shape], u.Emitter, receivers[0], w.view.Document.Cloths)
				}
			}
			position.Alternatives = append(position.Alternatives, a)
		}
		k.Positions = append(k.Positions, position)
	}
	return k
}

// dialOf is a lamp's control.
func dialOf(u *scene.LampUse, most unit.Fraction) solve.Lamp {
	l := solve.Lamp{Name: u.Name, Max: most, Step: dimStep}
	if u.Kit != nil {
		l.Output = u.Kit.AtLevel
	}
	return l
}

// fullLevels returns what gives each lamp's levels at receivers, at full output, with what is on the openings.
func fullLevels(at shaped, openings []scene.Opening, receivers []int) func(lamp int) []unit.Lux {
	in := *at.setup.Scene
	in.Openings = openings
	dials := slices.Clone(at.setup.Dials)
	for i := range at.setup.Lamps {
		dials[at.setup.Lamps[i].Emitter].Level = at.setup.Lamps[i].Level(1)
	}
	weights := in.Weights(dials)
	return func(lamp int) []unit.Lux {
		columns := in.ColumnsOf(at.setup.Lamps[lamp].Emitter)
		out := make([]unit.Lux, len(receivers))
		for i, r := range receivers {
			level, _ := at.layers.Points[r].LevelOf(weights, columns...)
			out[i] = unit.Lux(level * greyOf(&in, r))
		}
		return out
	}
}

// greyOf turns a receiver's level into lux: a spot's luminance into the level of a grey as bright.
func greyOf(s *scene.Scene, receiver int) float64 {
	if s.Receivers[receiver].Kind == scene.Spot {
		return math.Pi / float64(exposure.MidGrey)
	}
	return 1
}

// look is the set-up's light without the lamps that may be set, and its targets; and the receiver of each of its points. Lamps
// in keep are not to be set.
func (s *solver) look(view *plan.View, setup *scene.Setup, l *transport.Layers, keep []int) (p solve.Problem, receivers []int, err error) {
	p = solve.Problem{Key: setup.Camera.Key(), Exposure: s.exposures(view, setup), Conditions: []string{setup.Clock}}
	var ambient func(receiver int) []unit.Lux
	if s.Free.From != nil {
		if p.Conditions, ambient, err = s.through(view, setup, l); err != nil {
			return p, nil, err
		}
	}
	weights := setup.Scene.Weights(setup.Dials)
	add := func(name string, receiver int) int {
		p.Points = append(p.Points, s.unset(name, receiver, setup, l, weights, keep))
		if q := &p.Points[len(p.Points)-1]; ambient != nil {
			q.Ambient = ambient(receiver)
		}
		receivers = append(receivers, receiver)
		return len(p.Points) - 1
	}
	for _, point := range setup.Points {
		add(point.Name, point.Receiver)
	}
	for i := range setup.Targets {
		t := &setup.Targets[i]
		target := solve.Target{Name: targetName(setup, t), Point: t.Point, Over: t.Over, Wanted: t.Wanted, Tolerance: t.Tolerance, Weight: t.Weight,
			By: t.By, Sense: map[scene.Bound]solve.Sense{scene.At: solve.At, scene.AtLeast: solve.AtLeast, scene.AtMost: solve.AtMost}[t.Bound]}
		switch {
		case t.Colour != nil:
			continue // kelvin is set once levels are
		case t.Walk >= 0:
			w := &setup.Walks[t.Walk]
			target.Point, target.Tolerance = 0, 0
			for i, receiver := range w.Receivers {
				target.Across = append(target.Across, add(w.Name+" "+w.Along[i].String(), receiver))
			}
		case len(t.Across) > 0:
			target.Point, target.Tolerance, target.Across = 0, 0, t.Across
		}
		p.Targets = append(p.Targets, target)
	}
	return p, receivers, nil
}

// targetName is what a target is about.
func targetName(s *scene.Setup, t *scene.TargetUse) string {
	switch {
	case t.Walk >= 0:
		return s.Walks[t.Walk].Name
	case len(t.Across) > 0:
		return s.Points[t.Across[0]].Name + " and others"
	case t.Over == scene.OverAmbient:
		return s.Points[t.Point].Name + " over ambient"
	case t.Over >= 0:
		return s.Points[t.Point].Name + " over " + s.Points[t.Over].Name
	}
	return s.Points[t.Point].Name
}

// unset is a point's light without the lamps that may be set: the ambient, and what else there is as planned.
func (s *solver) unset(name string, receiver int, setup *scene.Setup, l *transport.Layers, weights []spectrum.Band, keep []int) solve.Point {
	p := solve.Point{Name: name, Ambient: []unit.Lux{0}}
	settable := map[int]bool{}
	for i := range setup.Lamps {
		if (setup.Lamps[i].Kit != nil || s.Free.Practicals) && !slices.Contains(keep, i) {
			settable[setup.Lamps[i].Emitter] = true
		}
	}
	for _, source := range setup.Sources {
		for _, e := range source.Emitters {
			level, _ := l.Points[receiver].LevelOf(weights, setup.Scene.ColumnsOf(e)...)
			lux := unit.Lux(level * greyOf(setup.Scene, receiver))
			switch {
			case source.Ambient:
				p.Ambient[0] += lux
			case !settable[e]:
				p.Fixed += lux
			}
		}
	}
	return p
}
