package pipeline

import (
	"context"
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

// draft is a candidate on its way to a proposal: the set-up with its changes so far, traced, and the settings found in it.
type draft struct {
	solver    *solver
	candidate *candidate
	lit, off  []int // stands
	changes   []plan.Change
	view      *plan.View
	setup     *scene.Setup
	layers    *transport.Layers
	problem   solve.Problem
	answer    solve.Answer
}

// draftOf begins with what a candidate changes, and the dims it was found with: a mode may not give those as planned.
func (s *solver) draftOf(c *candidate) *draft {
	d := &draft{solver: s, candidate: c, changes: slices.Concat(c.in.changes, c.in.panes[c.panes].changes)}
	for i, k := range c.Choice {
		if o := &c.stands[i].outfits[k]; o.off {
			d.off = append(d.off, i)
			d.changes = append(d.changes, dimTo(s.view, c.stands[i].name, 0))
		} else {
			d.lit = append(d.lit, i)
			d.changes = append(d.changes, o.changes...)
		}
	}
	for i, stand := range c.LampAt {
		d.changes = append(d.changes, dimTo(s.view, c.stands[stand].name, c.Answer.Dims[i]))
	}
	return d
}

// build makes the set-up with the changes so far.
func (d *draft) build(ctx context.Context, o Options) (err error) {
	if d.view, err = d.solver.view.With(d.changes...); err != nil {
		return err
	}
	d.setup, err = d.solver.session.build(ctx, d.view, o)
	return err
}

// trace builds and traces it.
func (d *draft) trace(ctx context.Context, o Options) error {
	if err := d.build(ctx, o); err != nil {
		return err
	}
	r, err := finish(ctx, d.setup, d.solver.session.request(d.setup, o))
	if err != nil {
		return err
	}
	d.layers = r.Layers
	return nil
}

// dial finds the dims of the lamps that are lit. Where the targets can be met it goes for what is wanted itself, as near as
// lamps come, not for the edge of the tolerance: meters and lamps are off by more than nothing.
func (d *draft) dial() (err error) {
	stands := d.candidate.stands
	var keep []int // lamps that are off, which give nothing
	for _, i := range d.off {
		keep = append(keep, stands[i].use)
	}
	p, receivers, err := d.solver.look(d.view, d.setup, d.layers, keep)
	if err != nil {
		return err
	}
	full := fullLevels(shaped{d.setup, d.layers}, d.setup.Scene.Openings, receivers)
	for _, i := range d.lit {
		u := &d.setup.Lamps[stands[i].use]
		lamp := dialOf(u, u.MaxDim)
		lamp.CanBeOff = true
		p.Lamps = append(p.Lamps, lamp)
		for k, e := range full(stands[i].use) {
			p.Points[k].By = append(p.Points[k].By, e)
		}
	}
	d.problem = p
	if d.answer, err = nearest(&d.problem); err != nil {
		return err
	}
	for k, i := range d.lit {
		d.changes = append(d.changes, dimTo(d.solver.view, stands[i].name, d.answer.Dims[k]))
	}
	return nil
}

// tint finds the colours, and makes good what they cost in output. Colours cost no rays.
func (d *draft) tint(ctx context.Context) error {
	tints, err := d.solver.colours(ctx, d.setup, d.layers, d.changes)
	if err != nil || len(tints) == 0 {
		return err
	}
	d.changes = append(d.changes, tints...)
	if err := d.build(ctx, d.solver.Options); err != nil {
		return err
	}
	return d.dial()
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
