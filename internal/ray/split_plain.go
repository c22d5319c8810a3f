package ray

// fillPlain sorts prims into bins along each axis.
func fillPlain(prims []box, s *slicing, b *bins) {
	for i := range prims {
		p := &prims[i]
		for k := range 3 {
			bin := min(max(int32(float32(p.middle(k)-s.low[k])*s.scale[k]), 0), s.last[k])
			b.boxes[k][bin].add(p)
			b.weights[k][bin] += p.weight
		}
	}
}

// partitionPlain moves the prims of bins below first to the front, adds their middles and those of the others to the
// sides, and returns how many they are.
func partitionPlain(prims []box, s *slicing, axis, first int, sides *[2]box) int32 {
	end := 0
	for i := range prims {
		p := prims[i]
		middle := emptyBox
		for k := range 3 {
			middle.low[k], middle.negHigh[k] = p.middle(k), -p.middle(k)
		}
		prims[i], prims[end] = prims[end], p
		if int32(float32(middle.low[axis]-s.low[axis])*s.scale[axis]) < int32(first) {
			end++
			sides[0].add(&middle)
		} else {
			sides[1].add(&middle)
		}
	}
	return int32(end)
}

// areasPlain sets the areas of the first box, the first two and so on.
func areasPlain(boxes []box, areas []float32) {
	all := emptyBox
	for i := range boxes {
		all.add(&boxes[i])
		areas[i] = all.area()
	}
}

// areasBackPlain sets the areas of all boxes, all but the first and so on.
func areasBackPlain(boxes []box, areas []float32) {
	all := emptyBox
	for i := len(boxes) - 1; i >= 0; i-- {
		all.add(&boxes[i])
		areas[i] = all.area()
	}
}
