package solve

import (
	"math"

	"gloam/internal/unit"
)

// coarse is what steps may add to the root of the cost, in stops, before other ways of rounding are tried.
const coarse = 0.01

// finish puts x, the stepless best of a branch at the cost, on the steps of the controls, and keeps the best.
func (d *dials) finish(cost float64) {
	copy(d.start, d.x)
	if d.round(); math.Sqrt(d.cost)-math.Sqrt(cost) < coarse {
		return
	}
	// Holding one lamp on the step above or below or at its least, the others can follow before they are rounded; what is
	// off stays off.
	copy(d.heldLow, d.low)
	copy(d.heldHigh, d.high)
	defer func() {
		copy(d.low, d.heldLow)
		copy(d.high, d.heldHigh)
	}()
	for j := range d.problem.Lamps {
		if l := &d.problem.Lamps[j]; l.CanBeOff && d.start[j] == 0 {
			d.high[j] = 0
		} else {
			d.low[j] = max(d.low[j], l.output(l.Min))
		}
	}
	for j := range d.dims {
		l := &d.problem.Lamps[j]
		if l.Step == 0 || l.CanBeOff && d.start[j] == 0 {
			continue
		}
		low, high := d.low[j], d.high[j]
		for _, way := range [3]unit.Fraction{-l.Step / 2, l.Step / 2, -1} { // the last is its least
			at := l.output(l.onStep(l.dimFor(d.start[j]) + way))
			d.low[j], d.high[j] = at, at
			copy(d.x, d.start)
			d.run(d.low, d.high)
			d.round()
		}
		d.low[j], d.high[j] = low, high
	}
}

// round puts x on steps, tunes it and keeps it if it is the best.
func (d *dials) round() {
	for j := range d.dims {
		l := &d.problem.Lamps[j]
		switch {
		case l.CanBeOff && d.x[j] == 0:
			d.dims[j] = 0
		case l.Step == 0:
			d.set(j, l.dimFor(d.x[j]))
		default:
			d.set(j, l.onStep(l.dimFor(d.x[j])))
		}
	}
	if cost := d.tune(); cost < d.cost {
		d.cost = cost
		copy(d.best, d.x)
		copy(d.bestDims, d.dims)
	}
}

// set turns a lamp's control.
func (d *dials) set(lamp int, dim unit.Fraction) {
	d.dims[lamp] = dim
	d.x[lamp] = d.problem.Lamps[lamp].output(dim)
}

// tune turns the stepped controls one step either way as long as that gains, and returns the cost.
func (d *dials) tune() float64 {
	cost := d.settle(d.x)
	for gained := true; gained; {
		gained = false
		for j := range d.dims {
			l := &d.problem.Lamps[j]
			if off := l.CanBeOff && d.x[j] == 0; off || l.Step == 0 {
				continue
			}
			for _, step := range [2]unit.Fraction{l.Step, -l.Step} {
				was := d.dims[j]
				d.set(j, l.onStep(was+step))
				if next := d.settle(d.x); next < cost-1e-15 {
					cost, gained = next, true
					break
				}
				d.set(j, was)
			}
		}
	}
	return d.settle(d.x)
}

// onStep returns the step of the control that comes nearest, from Min to Max; Max where no step lies there.
func (l *Lamp) onStep(dim unit.Fraction) unit.Fraction {
	step := float64(l.Step)
	first, last := math.Ceil(float64(l.Min)/step-1e-9), math.Floor(float64(l.Max)/step+1e-9)
	if first > last {
		return l.Max
	}
	return unit.Fraction(min(max(math.Round(float64(dim)/step), first), last) * step)
}
