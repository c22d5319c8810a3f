package solve

import (
	"cmp"
	"math"
	"slices"

	"gloam/internal/unit"
)

// Input is something that is not known exactly, and how far it may be off: a 95 % half-width in stops of the light that
// passes through it. What sampling leaves is an input of each source, 1.96 times its standard error.
type Input struct {
	Name    string
	Doubt   unit.Stop
	Through []Through
}

// Through is the light of a source that an input touches.
type Through struct {
	Source int             // a lamp, OfAmbient or OfFixed
	Share  []unit.Fraction // by point: how much of the source's light there passes through; nil is all
}

// Sources that are no lamp.
const (
	OfAmbient = -1
	OfFixed   = -2
)

// Influence is what an input's doubt does to the targets.
type Influence struct {
	Input    int
	Targets  []unit.Stop // by target: half of what lies between its level with the input off one way and the other
	Greatest unit.Stop   // of their sizes
}

// Sensitivity returns each input's influence under settings by lamp, the greatest first: what to measure before all. A
// target's stop moves by half the difference between the input off its doubt up and down, over the worst condition. Of
// a target across points the sign says nothing.
func (p *Problem) Sensitivity(dims []unit.Fraction, inputs []Input) ([]Influence, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	out := make([]Influence, len(inputs))
	for i := range inputs {
		in := &inputs[i]
		out[i] = Influence{Input: i, Targets: make([]unit.Stop, len(p.Targets))}
		for t := range p.Targets {
			for c := range p.Conditions {
				up, down := p.moved(t, c, dims, in, in.Doubt), p.moved(t, c, dims, in, -in.Doubt)
				half := unit.Stop(up-down) / 2
				if math.IsNaN(float64(half)) {
					half = 0 // dark either way
				}
				if math.Abs(float64(half)) > math.Abs(float64(out[i].Targets[t])) {
					out[i].Targets[t] = half
				}
			}
			out[i].Greatest = max(out[i].Greatest, unit.Stop(math.Abs(float64(out[i].Targets[t]))))
		}
	}
	slices.SortStableFunc(out, func(a, b Influence) int { return cmp.Compare(b.Greatest, a.Greatest) })
	return out, nil
}

// Intervals returns how far each of so many targets may be off by all inputs together, as 95 % half-widths in stops: the
// root of the sum of the squares of what each does alone.
func Intervals(all []Influence, targets int) []unit.Stop {
	out := make([]unit.Stop, targets)
	for t := range out {
		sum := 0.
		for i := range all {
			sum += float64(all[i].Targets[t] * all[i].Targets[t])
		}
		out[t] = unit.Stop(math.Sqrt(sum))
	}
	return out
}

// moved returns a target's stops with an input off by so much.
func (p *Problem) moved(target, condition int, dims []unit.Fraction, in *Input, off unit.Stop) float64 {
	t := &p.Targets[target]
	level := func(point int, ambientOnly bool) float64 {
		q := &p.Points[point]
		sum := float64(q.Ambient[condition]) * in.factor(OfAmbient, point, off)
		if ambientOnly {
			return sum
		}
		sum += float64(q.Fixed) * in.factor(OfFixed, point, off)
		for j, e := range q.By {
			sum += float64(e) * p.Lamps[j].output(dims[j]) * in.factor(j, point, off)
		}
		return sum
	}
	if len(t.Across) > 0 {
		least, most := math.Inf(1), 0.
		for _, point := range t.Across {
			least, most = min(least, level(point, false)), max(most, level(point, false))
		}
		return math.Log2(most / least)
	}
	over := float64(p.Key)
	switch {
	case t.Over == OverAmbient:
		over = level(t.Point, true)
	case t.Over >= 0:
		over = level(t.Over, false)
	}
	return math.Log2(level(t.Point, false) / over)
}

// factor returns how a source's light at a point changes when the input is off by so much.
func (in *Input) factor(source, point int, off unit.Stop) float64 {
	for _, through := range in.Through {
		if through.Source == source {
			share := 1.
			if through.Share != nil {
				share = float64(through.Share[point])
			}
			return 1 + share*(off.Factor()-1)
		}
	}
	return 1
}
