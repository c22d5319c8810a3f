package pipeline

import (
	"math"
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// every is the time from one setting of a schedule to the next.
const every = 15 * time.Minute

// schedule is what a target's lamps are set to through its window.
func (h *hours) schedule(t *clock.Target, w *ClockWindow, factors clock.Series) []ClockStep {
	steps := []ClockStep{}
	if w.Opens == nil {
		return steps
	}
	opens, _ := time.Parse(time.RFC3339, *w.Opens)
	closes, _ := time.Parse(time.RFC3339, *w.Closes)
	for at := opens; !at.After(closes); at = at.Add(every) {
		i := h.Nearest(at)
		step := ClockStep{At: *stamp(h.At(i)), Lamps: []ClockSet{}}
		for _, n := range t.Lamps {
			if u := h.lampOf(&h.setup.Sources[n]); u != nil {
				step.Lamps = append(step.Lamps, h.setting(u, factors[i], i))
			}
		}
		steps = append(steps, step)
	}
	return steps
}

// setting is a lamp's control for a factor of its planned light, and its colour.
func (h *hours) setting(u *scene.LampUse, factor float64, i int) ClockSet {
	set := ClockSet{Lamp: u.Name}
	level := factor * u.Level(u.Dim)
	if l, ok := h.doc.Lamps.Get(u.Name); ok && u.Kit != nil && h.under && l.Colour != nil {
		colour := func(i int) unit.Kelvin { return daylight.SkyColour(h.suns[i].Geometric, h.kind).Kelvin }
		k, err := clock.KeepDistance(*l.Colour, colour(h.Nearest(h.at)), colour(i))
		if share, no := u.Kit.Output(k); err == nil && no == nil && share > 0 {
			level *= u.Output / share
			set.Colour = &k
		}
	}
	set.Dim = dimFor(u, level)
	return set
}

// dimFor returns the control at which a lamp gives a level, or the highest it may have.
func dimFor(u *scene.LampUse, level float64) unit.Fraction {
	low, high := 0.0, float64(u.MaxDim)
	if level >= u.Level(unit.Fraction(high)) {
		return u.MaxDim
	}
	for range 50 {
		middle := (low + high) / 2
		if u.Level(unit.Fraction(middle)) < level {
			low = middle
		} else {
			high = middle
		}
	}
	return unit.Fraction(math.Round(high*1000) / 1000)
}
