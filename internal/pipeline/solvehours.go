package pipeline

import (
	"fmt"
	"math"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// conditionsApart is how far apart the instants lie at which a setting is to hold.
const conditionsApart = 15 * time.Minute

// hoursIn returns the day of a set-up that was traced.
func (s *solver) hoursIn(view *plan.View, setup *scene.Setup, l *transport.Layers) (*hours, error) {
	if faults := clockLacks(view); len(faults) > 0 {
		return nil, faults.Err()
	}
	return hoursOf(s.ctx, view, setup, l, s.Options)
}

// through returns the conditions under which one setting is to hold: at instants from begin to end, the least and the most the
// ambient may be then; and what each receiver gets of it.
func (s *solver) through(view *plan.View, setup *scene.Setup, l *transport.Layers) (names []string, of func(receiver int) []unit.Lux, err error) {
	h, err := s.hoursIn(view, setup, l)
	if err != nil {
		return nil, nil, err
	}
	from, err := s.instant(h, *s.Free.From)
	if err != nil {
		return nil, nil, err
	}
	to, err := s.instant(h, *s.Free.To)
	if err != nil {
		return nil, nil, err
	}
	if to < from {
		return nil, nil, fault.Fault{Kind: fault.Call, Path: "--to", Text: "is before --from", Read: s.Free.To.String()}
	}
	var at []int
	for i := from; i < to; i += int(conditionsApart / h.Step) {
		at = append(at, i)
	}
	at = append(at, to)
	for _, i := range at {
		clock := h.At(i).Format("15:04")
		names = append(names, clock+", as dark as it may be", clock+", as bright as it may be")
	}
	return names, func(receiver int) (out []unit.Lux) {
		grey := greyOf(setup.Scene, receiver)
		for _, i := range at {
			low, high := ambientAt(h, receiver, i)
			out = append(out, unit.Lux(low*grey), unit.Lux(high*grey))
		}
		return out
	}, nil
}

func (s *solver) instant(h *hours, c unit.Clock) (int, error) {
	times, err := daylight.Instants(*h.doc.Date, c, h.From.Location())
	if err != nil {
		return 0, err
	}
	return h.Nearest(times[0]), nil
}

// ambientAt is the least and the most that the ambient may give a receiver at an instant: all of it off one way, by all of its
// doubt.
func ambientAt(h *hours, receiver, i int) (low, high float64) {
	for n := range h.day.Sources {
		source := &h.day.Sources[n]
		if !source.Ambient {
			continue
		}
		p := &source.Parts[receiver]
		sum := 0.0
		for _, d := range p.Doubts {
			sum += d.Stops.At(i) * d.Stops.At(i)
		}
		level, off := p.Level.At(i), math.Exp2(math.Sqrt(sum))
		low, high = low+level/off, high+level*off
	}
	return low, high
}

// hourly is how far apart the hours lie that are tried.
const hourly = 30 * time.Minute

// hour finds the time of the day at which the planned lamps best meet the targets under a sky by the model: the change of a
// world. Where the planned time is as good, there is none.
func (s *solver) hour(w *world) error {
	if len(clockLacks(s.view)) > 0 {
		return nil
	}
	h, err := s.hoursIn(s.view, s.planned.Setup, s.planned.Layers)
	if err != nil {
		return err
	}
	look, receivers, err := s.look(s.view, s.planned.Setup, s.planned.Layers, nil)
	if err != nil {
		return err
	}
	stands := s.stands()
	kit := s.kit(w, &panes{view: s.view, setup: s.planned.Setup}, look, receivers, stands, []shaped{{s.planned.Setup, s.planned.Layers}})
	for i := range kit.Positions { // the planned lamps alone
		kit.Positions[i].Alternatives = kit.Positions[i].Alternatives[:1]
	}
	best, now := -1, h.Nearest(h.at)
	var least solve.KitAnswer
	judge := func(i int) (solve.KitAnswer, error) {
		for k := range kit.Points {
			low, high := ambientAt(h, receivers[k], i)
			kit.Points[k].Ambient = []unit.Lux{unit.Lux(math.Sqrt(low*high) * greyOf(s.planned.Setup.Scene, receivers[k]))}
		}
		r, err := kit.Rank(s.ctx, nil)
		if err != nil || len(r.Answers) == 0 {
			return solve.KitAnswer{}, err
		}
		return r.Answers[0], nil
	}
	planned, err := judge(now)
	if err != nil {
		return err
	}
	least = planned
	for i := 0; i < h.Count; i += int(hourly / h.Step) {
		if h.suns[i].Altitude < 0 {
			continue
		}
		a, err := judge(i)
		if err != nil {
			return err
		}
		if better := solve.Compare(&a, &least, s.Order); better < 0 {
			best, least = i, a
		}
	}
	if best < 0 || s.ctx.Err() != nil {
		return nil
	}
	clock := h.At(best).Format("15:04")
	w.changes = []plan.Change{{Path: document.Path("time"), Value: clock}}
	w.what = []string{fmt.Sprintf("at %s instead of %s", clock, h.at.Format("15:04"))}
	return nil
}
