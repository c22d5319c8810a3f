package numeric

import (
	"math"
	"slices"
)

// Lowest searches a box of one to a few dimensions for the lowest value of a function without derivatives, by dividing
// rectangles: the algorithm DIRECT of [Jones1993]. It needs no start and no constant, finds the lowest of several
// valleys, and draws nothing at random. A value may be noisy: a rectangle is only divided if it may lie lower than the
// best by more than the best's standard error, so that noise is not refined.
type Lowest struct {
	Low, High  []float64
	Resolution []float64 // rectangles with no side above it are divided no more
	Budget     int       // evaluations at most
}

// cell is a rectangle: its centre, how often each side was cut in three, and the value at the centre.
type cell struct {
	at            []float64 // in the unit cube
	cuts          []int
	value, stderr float64
	size          float64 // half its diagonal in the unit cube
}

// promise is the part of the best value by which a rectangle must be able to undercut it [Jones1993]; it balances looking
// around and closing in.
const promise = 1e-4

// Find returns the place with the lowest value and whether the box was searched down to the resolution; otherwise the
// budget ran out or the function called a halt, with a result that is not counted. Where that happened at once, at is nil.
func (l *Lowest) Find(f func(x []float64) (value, stderr float64, goOn bool)) (at []float64, searched bool) {
	n := len(l.Low)
	if len(l.High) != n || len(l.Resolution) != n || n == 0 {
		panic("numeric: a box needs as many ends and resolutions as dimensions")
	}
	d := &dividing{Lowest: l, f: f, left: l.Budget}
	middle := cell{at: make([]float64, n), cuts: make([]int, n)}
	for i := range n {
		middle.at[i] = 0.5
	}
	if !d.add(middle) {
		return nil, false
	}
	for {
		chosen := d.promising()
		if len(chosen) == 0 {
			return d.place(d.cells[d.best].at), true
		}
		for _, i := range chosen {
			if !d.divide(i) {
				return d.place(d.cells[d.best].at), false
			}
		}
	}
}

type dividing struct {
	*Lowest
	f     func(x []float64) (value, stderr float64, goOn bool)
	cells []cell
	best  int
	left  int
}

func (d *dividing) place(at []float64) []float64 {
	x := make([]float64, len(at))
	for i, u := range at {
		x[i] = d.Low[i] + u*(d.High[i]-d.Low[i])
	}
	return x
}

// add evaluates a cell and keeps it.
func (d *dividing) add(c cell) bool {
	if d.left == 0 {
		return false
	}
	d.left--
	var goOn bool
	c.value, c.stderr, goOn = d.f(d.place(c.at))
	if !goOn {
		return false
	}
	if math.IsNaN(c.value) {
		c.value = math.Inf(1)
	}
	c.measure()
	if d.cells = append(d.cells, c); c.value < d.cells[d.best].value {
		d.best = len(d.cells) - 1
	}
	return true
}

func (c *cell) measure() {
	sum := 0.
	for _, k := range slices.Sorted(slices.Values(c.cuts)) { // so that equal shapes have the same digits
		sum += math.Pow(3, -2*float64(k))
	}
	c.size = math.Sqrt(sum) / 2
}

// longest returns the sides to cut next: the least often cut of those still above the resolution.
func (d *dividing) longest(c *cell) (sides []int) {
	least := math.MaxInt
	for i, k := range c.cuts {
		if (d.High[i]-d.Low[i])*math.Pow(3, -float64(k)) <= d.Resolution[i] {
			continue
		}
		if k < least {
			least, sides = k, sides[:0]
		}
		if k == least {
			sides = append(sides, i)
		}
	}
	return sides
}

// promising returns the cells that for some rate of change could hold the lowest value: the lower right hull of value
// over size, from the best cell's promise on.
func (d *dividing) promising() []int {
	lowest := map[float64]int{} // by size
	for i := range d.cells {
		c := &d.cells[i]
		if j, ok := lowest[c.size]; (!ok || c.value < d.cells[j].value) && len(d.longest(c)) > 0 {
			lowest[c.size] = i
		}
	}
	order := make([]int, 0, len(lowest))
	for _, i := range lowest {
		order = append(order, i)
	}
	slices.SortFunc(order, func(a, b int) int { return int(math.Copysign(1, d.cells[a].size-d.cells[b].size)) })
	var hull []int
	for _, i := range order {
		for len(hull) > 0 && d.cells[hull[len(hull)-1]].value >= d.cells[i].value {
			hull = hull[:len(hull)-1]
		}
		for len(hull) > 1 && d.rate(hull[len(hull)-2], hull[len(hull)-1]) >= d.rate(hull[len(hull)-2], i) {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, i)
	}
	best := &d.cells[d.best]
	goal := best.value - max(promise*math.Abs(best.value), best.stderr)
	var chosen []int
	for k, i := range hull {
		// The largest cell can hold any value; the others only what the rate to the next allows.
		if k == len(hull)-1 || d.cells[i].value-d.rate(i, hull[k+1])*d.cells[i].size <= goal {
			chosen = append(chosen, i)
		}
	}
	return chosen
}

func (d *dividing) rate(a, b int) float64 {
	return (d.cells[b].value - d.cells[a].value) / (d.cells[b].size - d.cells[a].size)
}

// divide cuts a cell in three along its longest sides, first along that which leads to the lowest value, so that low
// values get the largest parts.
func (d *dividing) divide(i int) bool {
	sides := d.longest(&d.cells[i])
	first := len(d.cells)
	for _, side := range sides {
		for _, way := range [2]float64{-1, 1} {
			c := cell{at: slices.Clone(d.cells[i].at), cuts: slices.Clone(d.cells[i].cuts)}
			c.at[side] += way * math.Pow(3, -float64(c.cuts[side]+1))
			if !d.add(c) {
				return false
			}
		}
	}
	rank := make([]int, len(sides))
	for k := range rank {
		rank[k] = k
	}
	low := func(k int) float64 { return min(d.cells[first+2*k].value, d.cells[first+2*k+1].value) }
	slices.SortStableFunc(rank, func(a, b int) int {
		switch {
		case low(a) < low(b):
			return -1
		case low(a) > low(b):
			return 1
		}
		return 0
	})
	for j, k := range rank {
		d.cells[i].cuts[sides[k]]++
		for _, later := range rank[j:] {
			for _, c := range d.cells[first+2*later : first+2*later+2] {
				c.cuts[sides[k]]++
			}
		}
	}
	d.cells[i].measure()
	for c := range d.cells[first:] {
		d.cells[first+c].measure()
	}
	return true
}
