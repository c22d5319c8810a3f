package pipeline

import (
	"slices"

	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// dimTo is the change of a lamp's dim.
func dimTo(view *plan.View, name string, dim unit.Fraction) plan.Change {
	section := document.Path("practicals")
	if _, ok := view.Document.Lamps.Get(name); ok {
		section = "lamps"
	}
	return plan.Change{Path: section.Join(name).Join("dim"), Value: dim.String()}
}

// dials finds the dims of the lamps that are on, in a set-up that stands. Where the targets can be met it goes for what is
// wanted itself, as near as lamps come, not for the edge of the tolerance: meters and lamps are off by more than nothing.
func (s *solver) dials(view *plan.View, setup *scene.Setup, l *transport.Layers, c *candidate, on []int) ([]plan.Change, solve.Answer, *solve.Problem, error) {
	var keep []int // lamps that are off, which give nothing
	for i, k := range c.Choice {
		if c.stands[i].outfits[k].off {
			keep = append(keep, c.stands[i].use)
		}
	}
	p, receivers, err := s.look(view, setup, l, keep)
	if err != nil {
		return nil, solve.Answer{}, nil, err
	}
	full := fullLevels(shaped{setup, l}, setup.Scene.Openings, receivers)
	for _, i := range on {
		u := &setup.Lamps[c.stands[i].use]
		lamp := dialOf(u, u.MaxDim)
		lamp.CanBeOff = true
		p.Lamps = append(p.Lamps, lamp)
		for k, e := range full(c.stands[i].use) {
			p.Points[k].By = append(p.Points[k].By, e)
		}
	}
	answer, err := nearest(&p)
	if err != nil {
		return nil, answer, nil, err
	}
	var changes []plan.Change
	for k, i := range on {
		changes = append(changes, dimTo(s.view, c.stands[i].name, answer.Dims[k]))
	}
	return changes, answer, &p, nil
}

// nearest solves a problem, within the tolerances and then, where that can be, without.
func nearest(p *solve.Problem) (solve.Answer, error) {
	within, err := solve.Solve(p)
	if err != nil || within.Outcome != solve.Met {
		return within, err
	}
	exact := *p
	exact.Targets = slices.Clone(p.Targets)
	for i := range exact.Targets {
		if len(exact.Targets[i].Across) == 0 && exact.Targets[i].Sense == solve.At {
			exact.Targets[i].Tolerance = 0
		}
	}
	near, err := solve.Solve(&exact)
	if err != nil {
		return within, err
	}
	for i := range p.Targets {
		if near.Targets[i].Miss > p.Targets[i].Tolerance-exact.Targets[i].Tolerance {
			return within, nil
		}
	}
	near.Outcome, near.Limits, near.Miss = solve.Met, nil, 0
	return near, nil
}
