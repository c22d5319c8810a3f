package meter

import (
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// Doubts returns by target what each cause leaves open in its level, in the order of the causes' names: signed 95 %
// half-widths in stops whose squares, with those of the sampling and of the meter that checks it, add up to the square of
// the interval. There are none of a target of colour and of one in the dark.
func Doubts(s *scene.Setup, l *transport.Layers) [][]Cause {
	r := newReader(s, l)
	lights := make([]light, len(s.Points))
	for i, p := range s.Points {
		lights[i] = r.at(p.Receiver)
	}
	out := make([][]Cause, len(s.Targets))
	for i := range s.Targets {
		doubts := r.doubts(&s.Targets[i], lights)
		for _, c := range doubts.causes() {
			out[i] = append(out[i], Cause{c, unit.Stop(doubts[c])})
		}
	}
	return out
}

func (r *reader) doubts(t *scene.TargetUse, lights []light) sensitivity {
	var a, b light // the level, and what it is over
	switch {
	case t.Walk >= 0:
		along := make([]light, len(r.setup.Walks[t.Walk].Receivers))
		for i, receiver := range r.setup.Walks[t.Walk].Receivers {
			along[i] = r.at(receiver)
		}
		dark, bright := swing(along, func(l *light) float64 { return l.level })
		a, b = along[bright], along[dark]
	case len(t.Across) > 0:
		dark, bright, lit := r.ends(t, lights)
		if !lit {
			return nil
		}
		a, b = lights[bright], lights[dark]
	case t.Colour != nil:
		return nil
	case t.Over == scene.OverKey:
		return lights[t.Point].doubts
	case t.Over == scene.OverAmbient:
		a, b = lights[t.Point], r.ambient(&lights[t.Point])
	default:
		a, b = lights[t.Point], lights[t.Over]
	}
	if a.level <= 0 || b.level <= 0 {
		return nil
	}
	return doubtsBetween(&a, &b)
}
