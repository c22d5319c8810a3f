package solve

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Reserve is log2 of a lamp's full output in the mode allowed over the least output with which the targets it carries
// reach what is wanted, in the worst condition, all else as set. Below 0 full output is not enough.
type Reserve struct {
	Stops  unit.Stop
	Target int // that asks most; -1: the lamp carries none, and Stops is over its setting
}

// Reserves returns the reserve of each lamp under settings by lamp, with the exposure opened from the key. A lamp that no
// target needs has +∞, one that can't reach its target at any output −∞.
func (p *Problem) Reserves(dims []unit.Fraction, opened unit.Stop) []Reserve {
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
				n = max(n, p.needed(j, &p.Targets[i], c, share, opened))
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

// carries reports whether the target asks for light and is the lamp's to meet: as it says, or since the lamp gives the point
// enough to be asked.
func (p *Problem) carries(lamp int, t *Target, share []float64) bool {
	if len(t.Across) > 0 || t.Sense == AtMost {
		return false
	}
	if t.By != "" {
		return t.By == p.Lamps[lamp].Name
	}
	sum := 0.
	for j, e := range p.Points[t.Point].By {
		sum += float64(e) * share[j]
	}
	return exposure.Carries(float64(p.Points[t.Point].By[lamp])*share[lamp], sum)
}

// needed returns the share of full output with which the target is as wanted, all else as set.
func (p *Problem) needed(lamp int, t *Target, condition int, share []float64, opened unit.Stop) float64 {
	over := exposure.Part{Rest: float64(p.Key) / opened.Factor()}
	switch {
	case t.Over == OverAmbient:
		over.Rest = float64(p.Points[t.Point].Ambient[condition])
	case t.Over >= 0:
		over = p.part(lamp, t.Over, condition, share)
	}
	return exposure.NeededShare(p.part(lamp, t.Point, condition, share), over, t.Wanted)
}

// part returns what a lamp gives a point at full output, and what all else gives it, in lux.
func (p *Problem) part(lamp, point, condition int, share []float64) exposure.Part {
	q := &p.Points[point]
	rest := float64(q.Ambient[condition] + q.Fixed)
	for j, e := range q.By {
		if j != lamp {
			rest += float64(e) * share[j]
		}
	}
	return exposure.Part{Full: float64(q.By[lamp]), Rest: rest}
}
