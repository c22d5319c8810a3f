package clock

import (
	"math"
	"slices"

	"gloam/internal/gear"
	"gloam/internal/unit"
)

// Target is what is wanted: a level at a receiver over a constant, over the ambient there or over another receiver, each with
// a tolerance either way; or of several receivers the most from the darkest to the brightest.
type Target struct {
	Receivers []int
	Over      int // a receiver, or one of OverKey, OverAmbient, OverDarkest
	Key       float64
	Wanted    unit.Stop
	Tolerance unit.Stop // 0 with OverDarkest
	Bound     Bound     // AtMost with OverDarkest
	Lamps     []int     // the sources that may follow to meet it
}

// Bound is on which side of what is wanted a target binds.
type Bound int

// The bounds.
const (
	At Bound = iota
	AtLeast
	AtMost
)

// What a target's level is measured over, when it is no receiver.
const (
	OverKey     = -1 // Key, in the unit of the receiver
	OverAmbient = -2
	OverDarkest = -3 // the darkest of Receivers
)

// Curve is a target's level in stops and the 95 % half-width of it, by instant. Where it is dark the level is NaN.
type Curve struct {
	Grid
	Level, Interval []float64
}

// Fixed returns how a target's level runs with all lamps as planned.
func (d *Day) Fixed(t *Target) Curve {
	e := newEvaluation(d, t)
	for i := range d.Count {
		e.measure(i, 1)
	}
	return e.curve
}

// Following returns how a target's level runs when its lamps follow, all by the same factor, so that it is where it is wanted
// as far as they can; and that factor of the planned output, by instant. A walk's swing is followed by nothing.
func (d *Day) Following(t *Target) (Curve, Series) {
	e := newEvaluation(d, t)
	factors := make(Series, d.Count)
	for i := range factors {
		factors[i] = e.factor(i)
		e.measure(i, factors[i])
	}
	return e.curve, factors
}

// evaluation measures one target.
type evaluation struct {
	day    *Day
	target *Target
	follow []bool // by source
	most   float64
	causes []string
	sense  [2][]float64 // by cause, of the point and of what it is measured over
	curve  Curve
}

func newEvaluation(d *Day, t *Target) *evaluation {
	e := &evaluation{day: d, target: t, follow: make([]bool, len(d.Sources)), most: math.Inf(1)}
	e.curve = Curve{d.Grid, make([]float64, d.Count), make([]float64, d.Count)}
	for _, l := range t.Lamps {
		e.follow[l] = true
		e.most = min(e.most, d.Sources[l].Most)
	}
	for _, s := range d.Sources {
		for _, p := range s.Parts {
			for _, doubt := range p.Doubts {
				e.causes = append(e.causes, doubt.Cause)
			}
		}
	}
	slices.Sort(e.causes)
	e.causes = slices.Compact(e.causes)
	e.sense = [2][]float64{make([]float64, len(e.causes)), make([]float64, len(e.causes))}
	return e
}

// level returns what a receiver gets when the lamps that follow give a factor of what is planned.
func (e *evaluation) level(receiver, i int, factor float64, only func(*Source) bool) (level float64) {
	for n := range e.day.Sources {
		level += e.part(n, receiver, i, factor, only)
	}
	return level
}

func (e *evaluation) part(n, receiver, i int, factor float64, only func(*Source) bool) float64 {
	s := &e.day.Sources[n]
	if !only(s) {
		return 0
	}
	x := s.Parts[receiver].Level.At(i)
	if e.follow[n] {
		x *= factor
	}
	return x
}

func all(*Source) bool       { return true }
func ambient(s *Source) bool { return s.Ambient }

// measure fills in the curve at an instant.
func (e *evaluation) measure(i int, factor float64) {
	t := e.target
	point, over := t.Receivers[0], t.Over
	only := all
	switch t.Over {
	case OverAmbient:
		over, only = point, ambient
	case OverDarkest:
		point, over = e.swing(i, factor)
	}
	level := e.level(point, i, factor, all)
	base := t.Key
	if t.Over != OverKey {
		base = e.level(over, i, factor, only)
	}
	if !(level > 0 && base > 0) {
		e.curve.Level[i], e.curve.Interval[i] = math.NaN(), 0
		return
	}
	e.curve.Level[i] = math.Log2(level / base)
	e.weigh(0, point, i, factor, level, all)
	sampling := square(e.day.Sampling[point])
	if t.Over == OverKey {
		clear(e.sense[1])
		sampling += square(gear.MeterDoubt)
	} else {
		e.weigh(1, over, i, factor, base, only)
		sampling += square(e.day.Sampling[over])
	}
	e.curve.Interval[i] = e.halfWidth(sampling)
}

func square(s unit.Stop) float64 { return float64(s) * float64(s) }

// swing returns the brightest and the darkest receiver.
func (e *evaluation) swing(i int, factor float64) (bright, dark int) {
	bright, dark = e.target.Receivers[0], e.target.Receivers[0]
	most, least := math.Inf(-1), math.Inf(1)
	for _, r := range e.target.Receivers {
		x := e.level(r, i, factor, all)
		if x > most {
			bright, most = r, x
		}
		if x < least {
			dark, least = r, x
		}
	}
	return bright, dark
}

// weigh books how many stops each cause moves a level by.
func (e *evaluation) weigh(side, receiver, i int, factor, level float64, only func(*Source) bool) {
	clear(e.sense[side])
	for n := range e.day.Sources {
		share := e.part(n, receiver, i, factor, only) / level
		if share == 0 {
			continue
		}
		for _, doubt := range e.day.Sources[n].Parts[receiver].Doubts {
			c, _ := slices.BinarySearch(e.causes, doubt.Cause)
			e.sense[side][c] += share * doubt.Stops.At(i)
		}
	}
}

// halfWidth takes the causes of both sides against each other and adds the rest, in stops², by root-sum-square.
func (e *evaluation) halfWidth(rest float64) float64 {
	for c := range e.causes {
		x := e.sense[0][c] - e.sense[1][c]
		rest += x * x
	}
	return math.Sqrt(rest)
}

// factor returns what the lamps must give, as a factor of the plan, from 0 to the most they can: the point's level is
// a·x + o, what it is measured over b·x + q, and a·x + o = 2^wanted · (b·x + q).
func (e *evaluation) factor(i int) float64 {
	t := e.target
	if len(t.Lamps) == 0 || t.Over == OverDarkest {
		return 1
	}
	point := t.Receivers[0]
	o := e.level(point, i, 0, all)
	a := e.level(point, i, 1, all) - o
	b, q := 0.0, t.Key
	switch {
	case t.Over == OverAmbient:
		q = e.level(point, i, 0, ambient)
	case t.Over >= 0:
		q = e.level(t.Over, i, 0, all)
		b = e.level(t.Over, i, 1, all) - q
	}
	ratio := t.Wanted.Factor()
	lacks, gain := ratio*q-o, a-ratio*b
	switch {
	case lacks <= 0:
		return 0
	case gain <= 0:
		return e.most
	}
	return min(lacks/gain, e.most)
}
