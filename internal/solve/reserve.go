package solve

import (
	"math"

	"gloam/internal/unit"
)

// Reserve is log2 of a lamp's full output in the mode allowed over the least output with which the targets it carries
// reach what is wanted, in the worst condition, all else as set. Below 0 full output is not enough.
type Reserve struct {
	Stops  unit.Stop
	Target int // that asks most; -1: the lamp carries none, and Stops is over its setting
}

// carried is the part of all lamps' light at a point from which a lamp counts as carrying its target (common practice,
// no source).
const carried = 0.25

// Reserves returns the reserve of each lamp under settings by lamp. A lamp that no target needs has +∞, one that can't
// reach its target at any output −∞.
func (p *Problem) Reserves(dims []unit.Fraction, exposure unit.Stop) []Reserve {
	share := make([]float64, len(p.Lamps))
	for j := range share {
		share[j] = p.Lamps[j].output(dims[j])
	}
	all := make([]Reserve, len(p.Lamps))
	for j := range all {
		most := p.Lamps[j].output(p.Lamps[j].Max)
		needed, target := 0., -1
		for i := range p.Targets {
			if !p.carries(j, &p.Targets[i], share) {
				continue
			}
			n := 0.
			for c := range p.Conditions {
				n = max(n, p.needed(j, &p.Targets[i], c, share, exposure))
			}
			if target < 0 || n > needed {
				needed, target = n, i
			}
		}
		if target < 0 {
			needed = share[j]
		}
		all[j] = Reserve{unit.Stop(math.Inf(1)), target}
		if needed > 0 {
			all[j].Stops = unit.Stops(most / needed)
		}
	}
	return all
}

// carries reports whether the target asks for light and the lamp gives enough of it to be asked.
func (p *Problem) carries(lamp int, t *Target, share []float64) bool {
	if len(t.Across) > 0 || t.Sense == AtMost {
		return false
	}
	sum, own := 0., 0.
	for j, e := range p.Points[t.Point].By {
		sum += float64(e) * share[j]
		if j == lamp {
			own = float64(e) * share[j]
		}
	}
	return own > 0 && own >= carried*sum
}

// needed returns the share of full output with which a·x + o = 2^wanted·(b·x + q): the point's level over what it is
// measured over.
func (p *Problem) needed(lamp int, t *Target, condition int, share []float64, exposure unit.Stop) float64 {
	a, o := p.part(lamp, t.Point, condition, share)
	b, q := 0., float64(p.Key)/exposure.Factor()
	switch {
	case t.Over == OverAmbient:
		q = float64(p.Points[t.Point].Ambient[condition])
	case t.Over >= 0:
		b, q = p.part(lamp, t.Over, condition, share)
	}
	ratio := t.Wanted.Factor()
	lacks, gain := ratio*q-o, a-ratio*b
	switch {
	case lacks <= 0:
		return 0
	case gain <= 0:
		return math.Inf(1)
	}
	return lacks / gain
}

// part returns what a lamp gives a point at full output, and what all else gives it, in lux.
func (p *Problem) part(lamp, point, condition int, share []float64) (own, rest float64) {
	q := &p.Points[point]
	rest = float64(q.Ambient[condition] + q.Fixed)
	for j, e := range q.By {
		if j != lamp {
			rest += float64(e) * share[j]
		}
	}
	return float64(q.By[lamp]), rest
}
