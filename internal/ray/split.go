package ray

import "math"

// cut is where a span is split, with the boxes of the centres of both sides. middle at the begin of the span means that
// it stays whole.
type cut struct {
	middle      int32
	left, right box
}

const (
	binCount = 32
	sweepMax = 16 // prims up to which every split is tried
)

// split reorders a span into two halves and returns where. Without byArea it halves the span as it stands.
func (b *builder) split(s span, centres *box, byArea, fits bool) cut {
	if byArea {
		if s.len() <= sweepMax {
			if c, ok := b.sweep(s, fits); ok {
				return c
			}
		} else if axis, bin, ok := b.bestBin(s, centres); ok {
			return b.partition(s, centres, axis, bin)
		}
	}
	middle := s.begin + int32(s.len()/2)
	return cut{middle, b.centroids(span{s.begin, middle}), b.centroids(span{middle, s.end})}
}

// centroids returns the box of the centres of a span.
func (b *builder) centroids(s span) box {
	c := emptyBox
	for i := s.begin; i < s.end; i++ {
		p := &b.prims[i]
		at := [3]float32{p.centre(0), p.centre(1), p.centre(2)}
		c.add(&at, &at)
	}
	return c
}

// bin holds the prims whose centres fall in one slice of the span.
type bin struct {
	box   box
	count int32
}

// slicing maps centres along one axis to bins.
type slicing struct{ low, scale float32 }

func slicingOf(centres *box, k int) slicing {
	width := centres.high[k] - centres.low[k]
	return slicing{centres.low[k], binCount * (1 - 1e-6) / width}
}

func (s slicing) bin(centre float32) int {
	return min(max(int((centre-s.low)*s.scale), 0), binCount-1)
}

// bestBin returns the axis and the first bin of the right side of the best split.
func (b *builder) bestBin(s span, centres *box) (axis, first int, ok bool) {
	var bins [3][binCount]bin
	b.fill(s, centres, &bins)
	best := math.Inf(1)
	for k := range 3 {
		if !(centres.high[k] > centres.low[k]) {
			continue
		}
		var right [binCount]float64 // cost of bins from here on
		box, count := emptyBox, int32(0)
		for i := binCount - 1; i > 0; i-- {
			box.add(&bins[k][i].box.low, &bins[k][i].box.high)
			count += bins[k][i].count
			right[i] = box.area() * float64(count)
		}
		box, count = emptyBox, 0
		for i := 1; i < binCount; i++ {
			box.add(&bins[k][i-1].box.low, &bins[k][i-1].box.high)
			count += bins[k][i-1].count
			if cost := box.area()*float64(count) + right[i]; cost < best && count > 0 && int(count) < s.len() {
				best, axis, first, ok = cost, k, i, true
			}
		}
	}
	return axis, first, ok
}

// fill sorts a span into bins along each axis.
func (b *builder) fill(s span, centres *box, bins *[3][binCount]bin) {
	for k := range bins {
		for i := range bins[k] {
			bins[k][i].box = emptyBox
		}
	}
	slices := [3]slicing{slicingOf(centres, 0), slicingOf(centres, 1), slicingOf(centres, 2)}
	for i := s.begin; i < s.end; i++ {
		p := &b.prims[i]
		for k := range 3 {
			n := &bins[k][slices[k].bin(p.centre(k))]
			n.box.add(&p.low, &p.high)
			n.count++
		}
	}
}

// partition moves the prims of bins below first to the front.
func (b *builder) partition(s span, centres *box, axis, first int) cut {
	slices := slicingOf(centres, axis)
	left, right := emptyBox, emptyBox
	i, j := s.begin, s.end
	for i < j {
		p := &b.prims[i]
		at := [3]float32{p.centre(0), p.centre(1), p.centre(2)}
		if slices.bin(at[axis]) < first {
			left.add(&at, &at)
			i++
		} else {
			right.add(&at, &at)
			j--
			b.prims[i], b.prims[j] = b.prims[j], b.prims[i]
		}
	}
	return cut{i, left, right}
}

// sweep tries every split of a short span along each axis. Where the span fits in a leaf and no split is better, it
// stays whole.
func (b *builder) sweep(s span, fits bool) (c cut, ok bool) {
	n := s.len()
	prims := b.prims[s.begin:s.end]
	var sorted, order [sweepMax]prim
	best, middle := math.Inf(1), 0
	if fits {
		whole := emptyBox
		for i := range prims {
			whole.add(&prims[i].low, &prims[i].high)
		}
		best = whole.area()
	}
	for k := range 3 {
		for i, p := range prims {
			j := i
			for ; j > 0 && sorted[j-1].centre(k) > p.centre(k); j-- {
				sorted[j] = sorted[j-1]
			}
			sorted[j] = p
		}
		var right [sweepMax]float64
		box := emptyBox
		for i := n - 1; i > 0; i-- {
			box.add(&sorted[i].low, &sorted[i].high)
			right[i] = box.area() * b.leaves(n-i)
		}
		box = emptyBox
		for i := 1; i < n; i++ {
			box.add(&sorted[i-1].low, &sorted[i-1].high)
			if cost := box.area()*b.leaves(i) + right[i]; cost < best {
				best, middle = cost, i
				order = sorted
			}
		}
	}
	if middle == 0 {
		return cut{middle: s.begin}, fits
	}
	copy(prims, order[:n])
	return cut{middle: s.begin + int32(middle)}, true
}

// leaves estimates how many leaves n prims take.
func (b *builder) leaves(n int) float64 {
	if n <= b.most*3/4 {
		return 1
	}
	return float64(n) / b.perLeaf
}
