package gear

import (
	"cmp"
	"slices"
)

// curve is a table read as straight lines between its points, by ascending x.
type curve []point

type point struct{ x, y float64 }

// sort orders the points by x and reports whether every x is there once.
func (c curve) sort() bool {
	slices.SortFunc(c, func(a, b point) int { return cmp.Compare(a.x, b.x) })
	for i := 1; i < len(c); i++ {
		if c[i].x == c[i-1].x {
			return false
		}
	}
	return true
}

// at returns the value at x; outside the table that of its nearer end.
func (c curve) at(x float64) float64 {
	last := len(c) - 1
	switch {
	case x <= c[0].x:
		return c[0].y
	case x >= c[last].x:
		return c[last].y
	}
	i := 1
	for c[i].x < x {
		i++
	}
	return between(c[i-1].x, c[i-1].y, c[i].x, c[i].y, x)
}

// reach returns the greatest x whose value is at most y, for a curve that never falls.
func (c curve) reach(y float64) float64 {
	i := len(c) - 1
	for i >= 0 && c[i].y > y {
		i--
	}
	switch {
	case i < 0:
		return c[0].x
	case i == len(c)-1:
		return c[i].x
	}
	return between(c[i].y, c[i].x, c[i+1].y, c[i+1].x, y)
}

// between returns the value at x of the line through two points.
func between(x0, y0, x1, y1, x float64) float64 { return y0 + (y1-y0)*(x-x0)/(x1-x0) }
