package pipeline

import (
	"context"
	"fmt"
	"math"

	"gloam/internal/document"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// colours finds the colour temperature of the lamps that are to meet targets of colour, by halving in mired, one target after
// the other, dims as they are: a change of colour costs no rays.
func (s *solver) colours(ctx context.Context, setup *scene.Setup, l *transport.Layers, changes []plan.Change) (tints []plan.Change, err error) {
	if !s.Free.Colour {
		return nil, nil
	}
	for i := range setup.Targets {
		t := &setup.Targets[i]
		if t.Colour == nil {
			continue
		}
		u := s.tinter(setup, l, t)
		if u == nil {
			continue
		}
		path := document.Path("lamps").Join(u.Name).Join("colour")
		off := func(m unit.Mired) (unit.Mired, error) {
			tint := plan.Change{Path: path, Value: fmt.Sprintf("%.0f K", 1e6/float64(m))}
			view, err := s.view.With(append(append(changes[:len(changes):len(changes)], tints...), tint)...)
			if err != nil {
				return 0, err
			}
			tinted, err := s.session.build(ctx, view, s.Options)
			if err != nil {
				return 0, err
			}
			c := meter.Read(tinted, l).Points[t.Point].Mired
			if c == nil {
				return 0, nil
			}
			return *c - t.Colour.Wanted, nil
		}
		low, high := u.Kit.Colours() // in kelvin
		cool, warm := high.Mired(), low.Mired()
		cold, err := off(cool)
		if err != nil {
			return nil, err
		}
		for range 12 {
			middle := (cool + warm) / 2
			here, err := off(middle)
			if err != nil {
				return nil, err
			}
			if math.Signbit(float64(here)) == math.Signbit(float64(cold)) {
				cool = middle
			} else {
				warm = middle
			}
		}
		at := unit.Kelvin(math.Round(1e5/float64((cool+warm)/2)) * 10)
		tints = append(tints, plan.Change{Path: path, Value: fmt.Sprintf("%.0f K", float64(min(max(at, low), high)))})
	}
	return tints, nil
}

// tinter is the lamp that is to meet a target of colour: the one the plan names, or that which gives the point most, of those
// whose colour can be set; nil: there is none.
func (s *solver) tinter(setup *scene.Setup, l *transport.Layers, t *scene.TargetUse) (best *scene.LampUse) {
	weights := setup.Scene.Weights(setup.Dials)
	most := 0.0
	for i := range setup.Lamps {
		u := &setup.Lamps[i]
		level, _ := l.Points[setup.Points[t.Point].Receiver].LevelOf(weights, setup.Scene.ColumnsOf(u.Emitter)...)
		if u.Kit == nil || level <= most || t.By != "" && t.By != u.Name {
			continue
		}
		if low, high := u.Kit.Colours(); low < high {
			best, most = u, level
		}
	}
	return best
}
