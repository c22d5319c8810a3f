package solve

import (
	"math"
	"slices"

	"gloam/internal/unit"
)

// Outcome is how a search ended.
type Outcome string

// The outcomes.
const (
	Met     Outcome = "met"           // every target, in every condition
	Best    Outcome = "best possible" // some target is missed, and Limits says why
	Stopped Outcome = "stopped"       // before the best was found
)

// Answer is a proposal for the settings of all lamps, and how the targets then stand.
type Answer struct {
	Outcome  Outcome
	Miss     unit.Stop       // how far the worst target lies outside its tolerance
	Dims     []unit.Fraction // by lamp; 0 is off
	Exposure unit.Stop       // opened from the key, closed below 0
	Targets  []Standing      // by target
	Limits   []Limit
}

// Standing is where a target stands: its least and its greatest level over the conditions, in the stops it is wanted
// in (−∞ in the dark), and the most it is missed by. Of a target across points both are how far these differ.
type Standing struct {
	Low, High unit.Stop
	Miss      unit.Stop
}

// LimitKind is what stands between an answer and its targets.
type LimitKind string

// What limits an answer.
const (
	LampFull     LimitKind = "lamp at full"          // it would need to give more
	LampLeast    LimitKind = "lamp at its least"     // it would need to give less, and off is not better
	OtherLight   LimitKind = "light of no lamp"      // too much with every lamp at its least
	Unlit        LimitKind = "no light reaches it"   // whatever is set
	Conflict     LimitKind = "targets in conflict"   // what one gains another loses
	ExposureEnd  LimitKind = "exposure at its end"   // it would need to go further
	ControlSteps LimitKind = "steps of the control"  // stepless lamps would meet all
	Unmoved      LimitKind = "no setting changes it" // such as the swing of a lamp that is alone
	NoLamp       LimitKind = "no lamp"               // there is nothing to set
)

// Limit is one thing that keeps targets from being met.
type Limit struct {
	Kind    LimitKind
	Lamp    int   // of LampFull and LampLeast, else -1
	Targets []int // that it concerns
}

// near is the miss in stops that nobody sees or sets.
const near = 0.005

// answer judges the best setting found.
func (d *dials) answer() Answer {
	copy(d.x, d.best)
	d.light(d.x)
	a := Answer{Outcome: Met, Dims: slices.Clone(d.bestDims), Targets: d.standings()}
	if d.exposure >= 0 {
		a.Exposure = unit.Stop(d.x[d.exposure])
	}
	for _, t := range a.Targets {
		a.Miss = max(a.Miss, t.Miss)
	}
	if a.Miss <= near {
		a.Miss = 0
		return a
	}
	a.Outcome = Best
	if d.stopped {
		a.Outcome = Stopped
	}
	a.Limits = d.limits(a.Targets)
	return a
}

// standings judges every target in the light as last found.
func (d *dials) standings() []Standing {
	all := make([]Standing, len(d.problem.Targets))
	for i := range all {
		all[i] = Standing{Low: unit.Stop(math.Inf(1)), High: unit.Stop(math.Inf(-1))}
		if d.dark[i] {
			all[i] = Standing{Low: unit.Stop(math.Inf(-1)), High: unit.Stop(math.Inf(-1)), Miss: unit.Stop(math.Inf(1))}
		}
	}
	for i := range d.rows {
		if r := &d.rows[i]; len(d.problem.Targets[r.target].Across) == 0 {
			all[r.target].add(unit.Stop(d.of(r, d.x)))
		}
	}
	for _, m := range d.middles {
		least, most := math.Inf(1), math.Inf(-1)
		for i := m.first; i < m.end; i++ {
			least, most = min(least, d.log[d.rows[i].over]), max(most, d.log[d.rows[i].over])
		}
		all[d.rows[m.first].target].add(unit.Stop(most - least))
	}
	for i := range all {
		if d.dark[i] {
			continue
		}
		low, high := d.problem.Targets[i].band()
		r := row{low: low, high: high}
		all[i].Miss = unit.Stop(max(math.Abs(r.miss(float64(all[i].Low))), math.Abs(r.miss(float64(all[i].High)))))
	}
	return all
}

func (s *Standing) add(v unit.Stop) { s.Low, s.High = min(s.Low, v), max(s.High, v) }
