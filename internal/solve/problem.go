// Package solve works backward: from the look to the settings.
//
// Light adds up, so the level at a point is what each lamp gives it at full output, times how far it is dimmed up, plus
// what is there anyway. The package takes that matrix as plain values and proposes settings that meet the targets, with
// a named outcome; it traces nothing, reads no plan and changes none. Whatever it answers is to be run forward again.
//
// Levels are those of one receptor, in lux. A spot's luminance is given as the level of a grey with the same luminance,
// π·L/0.18, so that one key holds for all.
package solve

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Problem is light that adds up, and what it should be.
type Problem struct {
	Key        unit.Lux // what the working exposure asks for, above 0
	Exposure   Range    // how far the exposure may be opened, below 0 closed; the zero Range keeps the key
	Conditions []string // the times, or the extremes of a doubtful sky, that one setting is to serve; at least one
	Lamps      []Lamp
	Points     []Point
	Targets    []Target
}

// Range is a span of stops.
type Range struct{ Low, High unit.Stop }

// Lamp is a light that can be set.
type Lamp struct {
	Name     string
	Min, Max unit.Fraction               // of the dim control, in the mode allowed
	Step     unit.Fraction               // of the control, counted from 0; 0 is stepless
	CanBeOff bool                        // may go off below Min
	Output   func(unit.Fraction) float64 // share of full output at a dim, rising from 0 to 1; nil is the dim itself
}

// Point is a metering point and its light.
type Point struct {
	Name    string
	By      []unit.Lux // of each lamp at full output
	Ambient []unit.Lux // by condition: the light that was there
	Fixed   unit.Lux   // of lamps that can't be set
}

// What a target's level is measured over, when not over a point.
const (
	OverKey     = -1
	OverAmbient = -2 // the ambient alone at the same point, in the same condition
)

// Sense is on which side of the wanted level a target binds.
type Sense int

// The senses of a target.
const (
	At Sense = iota
	AtLeast
	AtMost
)

// Target is one wish. It is met in a condition when its level in stops lies within the tolerance of what is wanted, or
// beyond on the side that the sense leaves free.
type Target struct {
	Name      string
	Point     int
	Over      int   // OverKey, OverAmbient or a point
	Across    []int // if given, the target is how far these points differ, at most Wanted: a walk's swing, an area's evenness
	Sense     Sense // of a target at a point
	Wanted    unit.Stop
	Tolerance unit.Stop
	Weight    float64 // of its miss against others'; 0 is 1
	By        string  // the lamp whose reserve it asks for; if not given, each that gives the point a quarter of the lamps' light
}

// check returns what makes the problem impossible to read. Lengths that differ are the programmer's mistake.
func (p *Problem) check() error {
	var faults fault.List
	fail := func(path, text string) { faults = append(faults, fault.Fault{Path: path, Text: text}) }
	if !(p.Key > 0) || math.IsInf(float64(p.Key), 1) {
		fail("key", "the key must be above 0 lx")
	}
	if !(p.Exposure.Low <= 0 && p.Exposure.High >= 0) || math.IsInf(float64(p.Exposure.High-p.Exposure.Low), 1) {
		fail("exposure", "the exposure's range must be finite and include 0 stops")
	}
	if len(p.Conditions) == 0 {
		fail("conditions", "at least one condition is needed")
	}
	for i := range p.Lamps {
		l := &p.Lamps[i]
		if !(l.Min >= 0 && l.Min <= l.Max && l.Max <= 1 && l.Step >= 0 && l.Step <= 1) {
			fail("lamps."+l.Name, "the dim control must go up from 0 to at most 1")
		}
	}
	for i := range p.Points {
		p.Points[i].check(p, fail)
	}
	for i := range p.Targets {
		p.Targets[i].check(p, fail)
	}
	return faults.Err()
}

func (q *Point) check(p *Problem, fail func(path, text string)) {
	if len(q.By) != len(p.Lamps) || len(q.Ambient) != len(p.Conditions) {
		panic("solve: a point needs a level for each lamp and each condition")
	}
	good := isLevel(q.Fixed)
	for _, e := range q.By {
		good = good && isLevel(e)
	}
	for _, e := range q.Ambient {
		good = good && isLevel(e)
	}
	if !good {
		fail("points."+q.Name, "a level is not a number of lux from 0")
	}
}

func isLevel(e unit.Lux) bool { return e >= 0 && !math.IsInf(float64(e), 1) }

func (t *Target) check(p *Problem, fail func(path, text string)) {
	known := func(point int) bool { return point >= 0 && point < len(p.Points) }
	if len(t.Across) == 0 && (!known(t.Point) || t.Over < OverAmbient || t.Over >= len(p.Points)) {
		panic("solve: a target names a point that is not there")
	}
	for _, point := range t.Across {
		if !known(point) {
			panic("solve: a target names a point that is not there")
		}
	}
	path := "targets." + t.Name
	if !isStops(t.Wanted) || !isStops(t.Tolerance) || t.Tolerance < 0 {
		fail(path, fmt.Sprintf("wanted and tolerance must be stops, the tolerance from 0: %g ± %g", float64(t.Wanted), float64(t.Tolerance)))
	}
	if len(t.Across) > 0 && t.Wanted+t.Tolerance < 0 {
		fail(path, "points can't differ by less than nothing")
	}
	if !(t.Weight >= 0) || math.IsInf(t.Weight, 1) {
		fail(path, "the weight must be a number from 0")
	}
}

func isStops(s unit.Stop) bool { return math.Abs(float64(s)) <= 60 }

// output returns the share of full output at a dim.
func (l *Lamp) output(dim unit.Fraction) float64 {
	if l.Output == nil {
		return float64(dim)
	}
	return l.Output(dim)
}

// dimFor returns the dim, from Min to Max, that comes nearest the share of full output, by halving.
func (l *Lamp) dimFor(share float64) unit.Fraction {
	if l.Output == nil {
		return unit.Fraction(min(max(share, float64(l.Min)), float64(l.Max)))
	}
	low, high := l.Min, l.Max
	for range 50 {
		if middle := (low + high) / 2; l.Output(middle) < share {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
