package pipeline

import (
	"context"
	"math"
	"slices"

	"gloam/internal/exposure"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// dimStep is how fine a lamp's control is set: what crews call out.
const dimStep unit.Fraction = 0.01

// Proposal is settings for a set-up's lamps, and how its targets stand with them.
type Proposal struct {
	Planned  *Result
	Outcome  solve.Outcome
	Settings []Setting
	Limits   []string     // in words: what keeps targets from being met
	Forward  meter.Levels // of the settings, traced anew with another seed
}

// Setting is what a lamp is to be set to. Lamps that are not asked to change are not among them.
type Setting struct {
	Lamp     string
	Now, Dim unit.Fraction
}

// Solve looks for dims of the lamps that meet the set-up's targets at the planned exposure; practicals stay as they are. It
// proposes and changes nothing. What it proposes is run forward with another seed.
func Solve(ctx context.Context, view *plan.View, o Options) (*Proposal, error) {
	planned, err := Run(ctx, view, o)
	if err != nil {
		return nil, err
	}
	s := planned.Setup
	free := freeLamps(s)
	problem := problemOf(s, planned.Layers, free)
	answer, err := nearest(&problem)
	if err != nil {
		return nil, err
	}
	p := &Proposal{Planned: planned, Outcome: answer.Outcome}
	for _, limit := range answer.Limits {
		p.Limits = append(p.Limits, problem.Say(limit))
	}
	proposed := *s
	proposed.Dials, proposed.Lamps = slices.Clone(s.Dials), slices.Clone(s.Lamps)
	for k, i := range free {
		u := &proposed.Lamps[i]
		p.Settings = append(p.Settings, Setting{u.Name, u.Dim, answer.Dims[k]})
		u.Dim = answer.Dims[k]
		proposed.Dials[u.Emitter].Level = u.Level(u.Dim)
	}
	o.Seed++
	forward, err := finish(ctx, &proposed, new(Session).request(&proposed, o))
	if err != nil {
		return nil, err
	}
	p.Forward = forward.Levels
	return p, nil
}

// nearest solves a problem. Where the targets can be met it goes for what is wanted itself, as near as lamps come, not for the
// edge of the tolerance: meters and lamps are off by more than nothing.
func nearest(p *solve.Problem) (solve.Answer, error) {
	within, err := solve.Solve(p)
	if err != nil || within.Outcome != solve.Met {
		return within, err
	}
	exact := *p
	exact.Targets = slices.Clone(p.Targets)
	for i := range exact.Targets {
		exact.Targets[i].Tolerance = 0
	}
	near, err := solve.Solve(&exact)
	if err != nil {
		return within, err
	}
	for i, t := range p.Targets {
		if near.Targets[i].Miss > t.Tolerance {
			return within, nil
		}
	}
	near.Outcome, near.Limits = solve.Met, nil
	return near, nil
}

// freeLamps are the lamps that may be set, into Setup.Lamps.
func freeLamps(s *scene.Setup) (free []int) {
	for i := range s.Lamps {
		if s.Lamps[i].Kit != nil {
			free = append(free, i)
		}
	}
	return free
}

// problemOf is the set-up's light as it adds up: of each free lamp at full output, of all else as planned.
func problemOf(s *scene.Setup, l *transport.Layers, free []int) solve.Problem {
	p := solve.Problem{Key: s.Camera.Key(), Conditions: []string{s.Clock}}
	for _, i := range free {
		u := s.Lamps[i]
		p.Lamps = append(p.Lamps, solve.Lamp{Name: u.Name, Max: u.MaxDim, Step: dimStep, CanBeOff: true, Output: u.Kit.AtLevel})
	}
	dials := slices.Clone(s.Dials)
	for _, i := range free {
		dials[s.Lamps[i].Emitter].Level = s.Lamps[i].Level(1)
	}
	m := matrix{setup: s, points: l.Points, free: free}
	for e := range s.Scene.Emitters {
		m.columns = append(m.columns, s.Scene.ColumnsOf(e))
	}
	weights := s.Scene.Weights(dials)
	for _, point := range s.Points {
		p.Points = append(p.Points, m.point(point.Name, point.Receiver, weights))
	}
	for _, t := range s.Targets {
		target := solve.Target{Point: t.Point, Over: t.Over, Wanted: t.Wanted, Tolerance: t.Tolerance}
		if t.Walk >= 0 {
			target.Point = 0
			for i, receiver := range s.Walks[t.Walk].Receivers {
				target.Across = append(target.Across, len(p.Points))
				p.Points = append(p.Points, m.point(s.Walks[t.Walk].Name+" "+s.Walks[t.Walk].Along[i].String(), receiver, weights))
			}
			target.Name, target.Tolerance = s.Walks[t.Walk].Name, 0
		} else {
			target.Name = s.Points[t.Point].Name
		}
		p.Targets = append(p.Targets, target)
	}
	return p
}

// matrix reads levels out of layers.
type matrix struct {
	setup   *scene.Setup
	points  []transport.Point
	free    []int
	columns [][]int // by emitter
}

func (m *matrix) point(name string, receiver int, weights []spectrum.Band) solve.Point {
	p := solve.Point{Name: name, Ambient: []unit.Lux{0}}
	scale := 1.0
	if m.setup.Scene.Receivers[receiver].Kind == scene.Spot {
		scale = math.Pi / float64(exposure.MidGrey) // of a grey as bright
	}
	of := func(emitter int) unit.Lux {
		level, _ := m.points[receiver].LevelOf(weights, m.columns[emitter]...)
		return unit.Lux(level * scale)
	}
	settable := map[int]bool{}
	for _, i := range m.free {
		settable[m.setup.Lamps[i].Emitter] = true
		p.By = append(p.By, of(m.setup.Lamps[i].Emitter))
	}
	for _, source := range m.setup.Sources {
		for _, e := range source.Emitters {
			switch {
			case source.Ambient:
				p.Ambient[0] += of(e)
			case !settable[e]:
				p.Fixed += of(e)
			}
		}
	}
	return p
}
