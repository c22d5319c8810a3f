package pipeline

import (
	"context"
	"slices"

	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// brighten holds the panes against pairs of readings, inside and outside: what comes in by them becomes as much as was read, be
// it for dirt, frames or trees that the plan leaves out. Pairs that name the same openings are taken together. Unlike
// a daylight factor alone, layers know which part of the sky each place sees, so that the correction holds under any sky.
func (s *Session) brighten(ctx context.Context, setup *scene.Setup, o Options) (found []strength, err error) {
	var faults fault.List
	pairs := map[*scene.PairUse][]daylight.Pair{}
	for i := range setup.Pairs {
		p := &setup.Pairs[i]
		computed, err := s.inside(ctx, setup, p, o)
		if err != nil {
			return nil, unfinished(err)
		}
		found = append(found, computed)
		if computed.level <= 0 {
			faults = append(faults, fault.Fault{Place: p.Place, Path: p.Path, Text: "no light of the sky gets to where the reading was taken",
				Hint: "check the place and the facing"})
			continue
		}
		of := p
		for j := range i {
			if slices.Equal(setup.Pairs[j].Through, p.Through) {
				of = &setup.Pairs[j]
				break
			}
		}
		pairs[of] = append(pairs[of], daylight.Pair{Inside: p.Inside, Outside: p.Outside * unit.Lux(computed.level)})
	}
	for i := range setup.Pairs {
		if taken := pairs[&setup.Pairs[i]]; len(taken) > 0 && faults.Err() == nil {
			if err := correct(setup, setup.Pairs[i].Through, taken); err != nil {
				return nil, err
			}
		}
	}
	return found, faults.Err()
}

// correct scales what passes openings by what pairs of read and computed levels agree on.
func correct(setup *scene.Setup, through []int, pairs []daylight.Pair) error {
	f, err := daylight.FactorOf(pairs)
	if err != nil {
		return err
	}
	for _, o := range through {
		gel := &setup.Scene.Openings[o].Gel
		*gel = gel.Scale(float64(f.Share))
	}
	for _, e := range append(setup.Daylight.Sky[:1:1], setup.Daylight.Sun) {
		setup.Doubt(e, scene.Doubt{Cause: "what the panes pass, by pairs of readings", Stops: f.Interval})
	}
	return nil
}

// inside finds what a sky that gives open level ground 1 lx reads where the pair was read inside.
func (s *Session) inside(ctx context.Context, setup *scene.Setup, p *scene.PairUse, o Options) (strength, error) {
	under := *setup.Scene
	under.Emitters = []scene.Emitter{p.Sky}
	alone := scene.Setup{Scene: &under, Dials: []scene.Dial{{Level: 1, Light: p.Light, Gel: scene.Clear}}}
	return s.strength(ctx, &alone, &scene.AmbientUse{Receiver: p.Receiver}, o)
}
