package meter

import (
	"math"
	"slices"

	"gloam/internal/gear"
	"gloam/internal/unit"
)

// interval is the 95 % half-width of a level in stops: causes and sampling by root-sum-square (common practice, no
// source; the half-widths are gear's). The meter that will check the level brings its own.
func (l *light) interval() unit.Stop {
	if l.level <= 0 {
		return 0
	}
	return rootSum(l.doubts, float64(gear.MeterDoubt), float64(l.sampling()))
}

// intervalBetween is the half-width of the stops from b to a: what moves both alike drops out, the meter with it.
func intervalBetween(a, b *light) unit.Stop {
	if a.level <= 0 || b.level <= 0 {
		return 0
	}
	return rootSum(doubtsBetween(a, b), float64(a.sampling()), float64(b.sampling()))
}

// doubtsBetween is how the stops from b to a move for each cause.
func doubtsBetween(a, b *light) sensitivity {
	difference := sensitivity{}
	for c, x := range a.doubts {
		difference[c] += x
	}
	for c, x := range b.doubts {
		difference[c] -= x
	}
	return difference
}

// rootSum adds squares in the order of the causes' names, so that the digits never depend on a map's order.
func rootSum(doubts sensitivity, more ...float64) unit.Stop {
	var s float64
	for _, c := range doubts.causes() {
		s += doubts[c] * doubts[c]
	}
	for _, x := range more {
		s += x * x
	}
	return unit.Stop(math.Sqrt(s))
}

func (d sensitivity) causes() []string {
	names := make([]string, 0, len(d))
	for c := range d {
		names = append(names, c)
	}
	slices.Sort(names)
	return names
}
