package ray

import "golang.org/x/sys/cpu"

//go:generate sh -c "cd gen && go run . -out ../kernel_amd64.s -pkg ray"

// wide says that this machine can run the AVX2 kernels.
var wide = cpu.X86.HasAVX2

//go:noescape
func nearestAVX2(t *Tree, r *Ray, h *Hit, s *Scratch) bool

//go:noescape
func occludedAVX2(t *Tree, r *Ray, s *Scratch) bool

// nearest walks the tree for the nearest hit.
func (t *Tree) nearest(r *Ray, h *Hit, s *Scratch) bool {
	if t.plain || !wide {
		return t.nearestPlain(r, h, s)
	}
	return nearestAVX2(t, r, h, s)
}

// occluded walks the tree for any hit.
func (t *Tree) occluded(r *Ray, s *Scratch) bool {
	if t.plain || !wide {
		return t.occludedPlain(r, s)
	}
	return occludedAVX2(t, r, s)
}

//go:noescape
func fillAVX2(prims *box, n int, s *slicing, bins *bins)

//go:noescape
func partitionAVX2(prims *box, n int, low, scale float32, axis, first int32, sides *[2]box) int

//go:noescape
func areasAVX2(boxes *box, n int, areas *float32)

//go:noescape
func areasBackAVX2(boxes *box, n int, areas *float32)

func fill(prims []box, s *slicing, b *bins) {
	if wide {
		fillAVX2(&prims[0], len(prims), s, b)
	} else {
		fillPlain(prims, s, b)
	}
}

func partition(prims []box, s *slicing, axis, first int, sides *[2]box) int32 {
	if wide {
		return int32(partitionAVX2(&prims[0], len(prims), s.low[axis], s.scale[axis], int32(axis), int32(first), sides))
	}
	return partitionPlain(prims, s, axis, first, sides)
}

func areas(boxes []box, to []float32) {
	if wide {
		areasAVX2(&boxes[0], len(boxes), &to[0])
	} else {
		areasPlain(boxes, to)
	}
}

func areasBack(boxes []box, to []float32) {
	if wide {
		areasBackAVX2(&boxes[0], len(boxes), &to[0])
	} else {
		areasBackPlain(boxes, to)
	}
}
