package solve

import (
	"math"
	"slices"

	"gloam/internal/unit"
)

// dials sets lamps as their controls allow: off or above their least, in steps.
type dials struct {
	*descent
	problem   *Problem
	low, high []float64 // bounds of the branch at hand
	best      []float64 // the best setting found
	cost      float64
	free      []float64 // the best without regard to steps
	freeCost  float64
	dims      []unit.Fraction // by lamp: the control as tried
	bestDims  []unit.Fraction
	start     []float64

	heldLow, heldHigh []float64
	branches          int
	stopped           bool
}

// mostBranches bounds the settings of lamps that may be off or not that are tried; ten such lamps make 1024 in all.
const mostBranches = 2048

// Solve returns the settings of the lamps that come nearest to meeting all targets: the weighted sum of their squared
// misses is made least. The error is a fault.List of what makes the problem impossible to read.
func Solve(p *Problem) (Answer, error) {
	if err := p.check(); err != nil {
		return Answer{}, err
	}
	d := newDials(p)
	d.solve()
	return d.answer(), nil
}

func newDials(p *Problem) *dials {
	s := newSystem(p)
	vector := func() []float64 { return make([]float64, s.variables) }
	return &dials{descent: newDescent(s), problem: p, low: slices.Clone(s.low), high: slices.Clone(s.high), best: vector(),
		free: vector(), start: vector(), heldLow: vector(), heldHigh: vector(), dims: make([]unit.Fraction, s.lamps), bestDims: make([]unit.Fraction, s.lamps)}
}

// solve fills best and free.
func (d *dials) solve() {
	d.cost, d.freeCost = math.Inf(1), math.Inf(1)
	d.branches, d.stopped = 0, false
	copy(d.low, d.system.low)
	copy(d.high, d.system.high)
	d.branch()
}

// descend finds the least cost inside the bounds of the branch. One start is enough for levels over a constant (of 900
// problems at random, none had a better end from another); differences between points and a free exposure make valleys,
// and are tried from several, until three come to the same.
func (d *dials) descend() float64 {
	starts := 4 + d.lamps
	if d.exposure >= 0 {
		starts += 2
	}
	cost, rested, agreed := math.Inf(1), false, 0
	for k := range starts {
		d.begin(k)
		again, rest := d.run(d.low, d.high)
		switch {
		case again < cost*(1-1e-4):
			agreed = 1
		case again <= cost*(1+1e-4):
			agreed++
		}
		if again < cost {
			copy(d.start, d.x)
			cost, rested = again, rest
			if d.known = (valley{}); rest && cost < hopeless {
				d.known = valley{d.start, cost}
			}
		}
		if rested && (cost < missed || cost < hopeless && (!d.mixed || agreed == 3)) {
			break
		}
	}
	d.known = valley{}
	copy(d.x, d.start)
	d.stopped = d.stopped || !rested
	return cost
}

// begin sets x to one of the starts: from the relative misses, all lamps alike, one lamp alone, and from the ends of the
// exposure.
func (d *dials) begin(start int) {
	switch {
	case start == 0:
		d.relative(d.low, d.high, 0)
		d.settle(d.x)
	case start <= 3:
		d.spread([3]float64{0, 1, 0.25}[start-1], -1)
	case start <= 3+d.lamps:
		d.spread(0.02, start-4)
	case start == 4+d.lamps:
		d.relative(d.low, d.high, d.system.low[d.exposure])
	default:
		d.relative(d.low, d.high, d.system.high[d.exposure])
	}
}

// spread sets every lamp to a share of its range, but one to full.
func (d *dials) spread(share float64, full int) {
	for j := range d.lamps {
		d.x[j] = d.low[j] + share*(d.high[j]-d.low[j])
		if j == full {
			d.x[j] = d.high[j]
		}
	}
	d.settle(d.x)
}

// missed is a cost that means a miss: pull and thrift alone stay below it.
const missed = 1e-3

// branch solves with the lamps that must be off or above their least let run between; where one does so, both ways are
// tried.
func (d *dials) branch() {
	if d.branches++; d.branches > mostBranches {
		d.stopped = true
		return
	}
	cost := d.descend()
	if cost >= d.cost {
		return
	}
	lamp := d.between()
	if lamp < 0 {
		if cost < d.freeCost {
			d.freeCost = cost
			copy(d.free, d.x)
		}
		d.finish(cost)
		return
	}
	least := d.problem.Lamps[lamp].output(d.problem.Lamps[lamp].Min)
	ways := [2][2]float64{{least, d.high[lamp]}, {0, 0}}
	if d.x[lamp] < least/2 {
		ways[0], ways[1] = ways[1], ways[0]
	}
	low, high := d.low[lamp], d.high[lamp]
	for _, way := range ways {
		d.low[lamp], d.high[lamp] = way[0], way[1]
		d.branch()
	}
	d.low[lamp], d.high[lamp] = low, high
}

// between returns a lamp set above off and below its least, or -1.
func (d *dials) between() int {
	for j := range d.problem.Lamps {
		l := &d.problem.Lamps[j]
		if l.CanBeOff && d.x[j] > 0 && d.x[j] < l.output(l.Min) {
			return j
		}
	}
	return -1
}
