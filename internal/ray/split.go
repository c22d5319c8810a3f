package ray

// cut is where a span is split, with the boxes of the middles on both sides. middle at the begin of the span means that it
// stays whole.
type cut struct {
	middle int32
	sides  [2]box
}

const (
	binCount = 32 // at most
	sweepMax = 16 // prims up to which every split is tried
)

// split reorders a span into two halves and returns where. Without byArea it halves the span as it stands.
func (b *builder) split(s span, middles *box, byArea, fits bool) cut {
	if byArea {
		if s.len() <= sweepMax {
			if c, ok := b.sweep(s, fits); ok {
				return c
			}
		} else if slices, axis, bin, ok := b.bestBin(s, middles); ok {
			c := cut{sides: [2]box{emptyBox, emptyBox}}
			c.middle = s.begin + partition(b.prims[s.begin:s.end], &slices, axis, bin, &c.sides)
			return c
		}
	}
	middle := s.begin + int32(s.len()/2)
	return cut{middle, [2]box{b.middles(span{s.begin, middle}), b.middles(span{middle, s.end})}}
}

// middles returns the box of the middles of a span.
func (b *builder) middles(s span) box {
	c := emptyBox
	for i := s.begin; i < s.end; i++ {
		p := &b.prims[i]
		for k := range 3 {
			c.low[k] = min(c.low[k], p.middle(k))
			c.negHigh[k] = min(c.negHigh[k], -p.middle(k))
		}
	}
	return c
}

// slicing carries middles to bins along each axis: the bin is (middle − low)·scale, from 0 to last.
type slicing struct {
	low, scale [4]float32
	last       [4]int32
}

func slicingOf(middles *box, bins int) (s slicing) {
	for k := range 3 {
		width := -(middles.low[k] + middles.negHigh[k])
		s.low[k], s.scale[k], s.last[k] = middles.low[k], float32(bins)*(1-1e-6)/width, int32(bins-1)
	}
	return s
}

// bins are the slices of a span along each axis: the boxes of the prims whose middles fall in each, and their weight.
type bins struct {
	boxes   [3][binCount]box
	weights [3][binCount]int32
}

// bestBin returns the axis and the first bin of the right side of the best split.
func (b *builder) bestBin(s span, middles *box) (slices slicing, axis, first int, ok bool) {
	n := min(binCount, 8+s.len()/8)
	slices = slicingOf(middles, n)
	var sorted bins
	for k := range 3 {
		for i := range n {
			sorted.boxes[k][i] = emptyBox
		}
	}
	fill(b.prims[s.begin:s.end], &slices, &sorted)
	best, all := inf, int32(0)
	for _, w := range sorted.weights[0] {
		all += w
	}
	for k := range 3 {
		if !(slices.scale[k] < inf) {
			continue
		}
		var left, right [binCount]float32
		areas(sorted.boxes[k][:n], left[:])
		areasBack(sorted.boxes[k][:n], right[:])
		weight := int32(0)
		for i := 1; i < n; i++ {
			weight += sorted.weights[k][i-1]
			// Of an empty side the cost is a NaN, which is no improvement.
			if cost := left[i-1]*float32(weight) + right[i]*float32(all-weight); cost < best {
				best, axis, first, ok = cost, k, i, true
			}
		}
	}
	return slices, axis, first, ok
}

// sweep tries every split of a short span along each axis. Where the span fits in a leaf and no split is better, it
// stays whole.
func (b *builder) sweep(s span, fits bool) (c cut, ok bool) {
	n := s.len()
	prims := b.prims[s.begin:s.end]
	var sorted, order [sweepMax]box
	best, middle, all := inf, 0, int32(0)
	for k := range 3 {
		var keys [sweepMax]float32
		var places [sweepMax]uint8
		for i := range prims {
			key := prims[i].middle(k)
			j := i
			for ; j > 0 && keys[j-1] > key; j-- {
				keys[j], places[j] = keys[j-1], places[j-1]
			}
			keys[j], places[j] = key, uint8(i)
		}
		for i := range prims {
			sorted[i] = prims[places[i]]
		}
		var left, right [sweepMax]float32
		areas(sorted[:n], left[:])
		areasBack(sorted[:n], right[:])
		if k == 0 {
			for i := range prims {
				all += prims[i].weight
			}
			if fits {
				best = right[0]
			}
		}
		weight := int32(0)
		for i := 1; i < n; i++ {
			weight += sorted[i-1].weight
			if cost := left[i-1]*b.leaves(weight) + right[i]*b.leaves(all-weight); cost < best {
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

// leaves estimates how many leaves prims of some weight take.
func (b *builder) leaves(weight int32) float32 {
	if weight <= int32(b.most)*3/4 {
		return 1
	}
	return float32(weight) / b.perLeaf
}
