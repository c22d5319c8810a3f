package server

import (
	"cmp"
	"slices"
)

// hull returns the convex hull of spots, counter-clockwise, by Andrew's monotone chain.
func hull(spots []Spot) []Spot {
	slices.SortFunc(spots, func(a, b Spot) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	spots = slices.Compact(spots)
	if len(spots) < 3 {
		return spots
	}
	lower := chain(spots)
	slices.Reverse(spots)
	upper := chain(spots)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

func chain(spots []Spot) (out []Spot) {
	for _, s := range spots {
		for n := len(out); n >= 2 && turn(out[n-2], out[n-1], s) <= 0; n = len(out) {
			out = out[:n-1]
		}
		out = append(out, s)
	}
	return out
}

// turn is above 0 where the way from a over b to c turns left.
func turn(a, b, c Spot) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
