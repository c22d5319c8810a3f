package pipeline

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// items is what stands at each place; a lamp that is dimmed to nothing does not.
func (c *candidate) items() []string {
	items := make([]string, len(c.Choice))
	for k, at := range c.LampAt {
		if c.Answer.Dims[k] > 0 {
			items[at] = "lit " + c.stands[at].outfits[c.Choice[at]].item
		}
	}
	return items
}

// what says what a candidate changes beside dims and camera.
func (c *candidate) what() []string {
	words := slices.Clone(c.in.what)
	words = append(words, c.in.panes[c.panes].what...)
	for i, k := range c.Choice {
		if say := c.stands[i].outfits[k].say; say != "" {
			words = append(words, say)
		}
	}
	return words
}

// say is a candidate in one line.
func (c *candidate) say() string {
	words := c.what()
	if len(words) == 0 {
		words = []string{"as planned, other dims"}
	}
	outcome := "meets all"
	if c.Answer.Miss > 0 {
		outcome = fmt.Sprintf("misses by %.1f stops", float64(c.Answer.Miss))
	}
	return strings.Join(words, "; ") + ": " + outcome
}

// propose works a candidate out to its last digit: traced as sure as asked, its dims, exposure and colours found anew, and run
// forward with another seed. What was asked to stop still ends with whole answers.
func (s *solver) propose(c *candidate) (*Proposal, error) {
	ctx := context.WithoutCancel(s.ctx)
	d := s.draftOf(c)
	if err := d.trace(ctx, s.Options); err != nil {
		return nil, err
	}
	if err := d.dial(); err != nil {
		return nil, err
	}
	if err := d.tint(ctx); err != nil {
		return nil, err
	}
	p, err := d.proposal()
	if err != nil {
		return nil, err
	}
	o := s.Options
	o.Seed++
	o.Progress = nil
	if err := d.trace(ctx, o); err != nil {
		return nil, err
	}
	p.Forward = &Result{d.setup, d.layers, meter.Read(d.setup, d.layers)}
	p.Points, p.Targets, p.Lamps = p.Forward.Levels.Points, p.Forward.Levels.Targets, p.Forward.Levels.Lamps
	p.Settings = s.settings(d.changes)
	p.weigh()
	return p, nil
}

// proposal tells a draft, before it is run forward.
func (d *draft) proposal() (*Proposal, error) {
	p := &Proposal{Outcome: d.answer.Outcome, What: append([]string{}, d.candidate.what()...), Takes: takesOf(&d.candidate.Cost),
		Softness: d.candidate.Softness, Limits: []string{}, Cameras: []CameraWay{}, Through: []Through{}}
	if d.solver.Free.Exposure {
		var err error
		if p.Cameras, err = d.solver.cameras(d.setup, d.view, d.answer.Exposure); err != nil {
			return nil, err
		}
		if len(p.Cameras) > 0 {
			d.changes = append(d.changes, p.Cameras[0].changes(d.view.Document.Camera)...)
		}
	}
	if d.solver.Free.From != nil {
		for i, t := range d.answer.Targets {
			p.Through = append(p.Through, Through{d.problem.Targets[i].Name, finite(t.Low), finite(t.High), unit.Stop(min(float64(t.Miss), 60))})
		}
	}
	for _, limit := range d.answer.Limits {
		p.Limits = append(p.Limits, d.problem.Say(limit))
	}
	return p, nil
}

// finite is a level that there is.
func finite(s unit.Stop) *unit.Stop {
	if math.IsInf(float64(s), 0) {
		return nil
	}
	return &s
}

// settings are what changes come to, the last at each path, without those that change nothing.
func (s *solver) settings(changes []plan.Change) []Setting {
	all := []Setting{}
	for i, c := range changes {
		if slices.ContainsFunc(changes[i+1:], func(later plan.Change) bool { return later.Path == c.Path }) {
			continue
		}
		now := s.view.Text(c.Path)
		if now == c.Value {
			continue
		}
		of, field := c.Path.Ends()
		if of == "" {
			of = "set-up"
		}
		all = append(all, Setting{of, field, c.Path, now, c.Value})
	}
	return all
}

// hairOff is by how much a target may be missed forward before an answer that met it is no longer said to: what another seed and
// whole per cents leave.
const hairOff unit.Stop = 0.05

// weigh holds an answer against its run forward.
func (p *Proposal) weigh() {
	for i := range p.Lamps {
		l := &p.Lamps[i]
		if l.Reserve != nil && l.Dim > 0 && (p.Reserve == nil || *l.Reserve < *p.Reserve) {
			p.Reserve = l.Reserve
		}
	}
	for i := range p.Targets {
		t := &p.Targets[i]
		miss := t.Miss()
		if miss > hairOff && p.Outcome == solve.Met {
			p.Outcome = solve.Best
			p.Limits = append(p.Limits, fmt.Sprintf("run forward, %s misses by %.1f stops", t.Of, float64(miss)))
		}
		if c := t.Colour; c != nil && (c.Level == nil || math.Abs(float64(*c.Level-c.Wanted)) > float64(c.Within)) {
			if p.Outcome == solve.Met {
				p.Outcome = solve.Best
			}
			p.Limits = append(p.Limits, "colour at "+t.Of+": no lamp that may change reaches it")
		}
	}
}
