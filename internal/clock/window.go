package clock

import (
	"math"
	"time"

	"gloam/internal/unit"
)

// Window is a time in which a target holds.
type Window struct {
	Opens, Best, Closes time.Time
	Opening, Closing    float64 // stops a minute by which the level runs at the ends; 0 at an end that is the grid's
	Begun, GoesOn       bool    // it held before the grid begins, or goes on after its end
}

// Minutes returns how long it is.
func (w *Window) Minutes() float64 { return w.Closes.Sub(w.Opens).Minutes() }

// Certainty says how much of the interval must lie inside the tolerance.
type Certainty int

// The certainties.
const (
	Likely Certainty = iota // the middle of it
	Sure                    // all of it
	Maybe                   // any of it
)

// Windows returns when a target holds: the level within the tolerance of what is wanted, or beyond on the side that its bound leaves free.
func (c *Curve) Windows(t *Target, how Certainty) []Window {
	return c.windows(func(i int) float64 { return c.margin(t, how, i) }, func(i int) float64 { return c.off(t, i) })
}

// Together returns when all of several targets hold, each with its curve. Best is where the worst of them is best.
func Together(curves []Curve, targets []*Target, how Certainty) []Window {
	worst := func(i int) float64 {
		least := math.Inf(1)
		for k := range curves {
			least = math.Min(least, curves[k].margin(targets[k], how, i))
		}
		return least
	}
	c := &Curve{Grid: curves[0].Grid}
	windows := c.windows(worst, func(i int) float64 { return -worst(i) })
	return windows
}

// off is how far a level is from what is wanted, in stops; below 0 it is that far on the side that the bound leaves free.
func (c *Curve) off(t *Target, i int) float64 {
	off := c.Level[i] - float64(t.Wanted)
	switch t.Bound {
	case AtLeast:
		return -off
	case AtMost:
		return off
	}
	return math.Abs(off)
}

// margin is what is left of the tolerance, in stops; below 0 the target does not hold.
func (c *Curve) margin(t *Target, how Certainty, i int) float64 {
	left := float64(t.Tolerance) - c.off(t, i)
	switch {
	case math.IsNaN(left):
		return math.Inf(-1)
	case how == Sure:
		return left - c.Interval[i]
	case how == Maybe:
		return left + c.Interval[i]
	}
	return left
}

// hair is what rounding may take off a margin: a lamp that follows holds its target to the last digit.
const hair = 1e-9

// windows finds the stretches in which a margin is not below 0; each is best where off is least, in the middle of such times.
func (c *Curve) windows(margin, off func(i int) float64) (windows []Window) {
	for i := 0; i < c.Count; i++ {
		if margin(i) < -hair {
			continue
		}
		first := i
		for i+1 < c.Count && margin(i+1) >= -hair {
			i++
		}
		w := Window{Opens: c.At(first), Closes: c.At(i), Begun: first == 0, GoesOn: i == c.Count-1}
		if !w.Begun {
			w.Opens = c.between(first-1, crossing(margin(first-1), margin(first)))
			w.Opening = c.rate(first-1, first)
		}
		if !w.GoesOn {
			w.Closes = c.between(i, crossing(margin(i), margin(i+1)))
			w.Closing = c.rate(i, i+1)
		}
		w.Best = c.At(best(off, first, i))
		windows = append(windows, w)
	}
	return windows
}

// crossing is where on the way from a to b a straight line passes 0; from or to where nothing is known, at the end that is.
func crossing(a, b float64) float64 {
	switch {
	case math.IsInf(a, -1):
		return 1
	case math.IsInf(b, -1):
		return 0
	}
	return math.Min(1, math.Max(0, a/(a-b)))
}

// rate is the stops a minute from one instant to the next; 0 for a curve without levels.
func (c *Curve) rate(i, j int) float64 {
	if c.Level == nil || math.IsNaN(c.Level[i]) || math.IsNaN(c.Level[j]) {
		return 0
	}
	return (c.Level[j] - c.Level[i]) / c.Step.Minutes()
}

// best returns the middle of the longest run of instants whose off is within a hundredth of a stop of the least.
func best(off func(i int) float64, first, last int) int {
	least := math.Inf(1)
	for i := first; i <= last; i++ {
		least = math.Min(least, off(i))
	}
	from, length := first, 0
	for i := first; i <= last; i++ {
		start := i
		for i <= last && off(i) <= least+0.01 {
			i++
		}
		if i-start > length {
			from, length = start, i-start
		}
	}
	return from + length/2
}

// Plan is what a window asks of the day's order.
type Plan struct {
	RigBy time.Time // the last start of rigging for the window's opening
	Slack unit.Minute
}

// PlanFor returns when rigging for a window must begin at the latest, and how long its start may slip: the window less what
// shooting takes; below 0 it is too short.
func PlanFor(w *Window, rig, shoot unit.Minute) Plan {
	return Plan{w.Opens.Add(-rig.Duration()), unit.Minute(w.Minutes()) - shoot}
}
