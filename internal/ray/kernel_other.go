//go:build !amd64

package ray

// nearest walks the tree for the nearest hit.
func (t *Tree) nearest(r *Ray, h *Hit, s *Scratch) bool { return t.nearestPlain(r, h, s) }

// occluded walks the tree for any hit.
func (t *Tree) occluded(r *Ray, s *Scratch) bool { return t.occludedPlain(r, s) }

func fill(prims []box, s *slicing, b *bins) { fillPlain(prims, s, b) }

func partition(prims []box, s *slicing, axis, first int, sides *[2]box) int32 {
	return partitionPlain(prims, s, axis, first, sides)
}

func areas(boxes []box, to []float32) { areasPlain(boxes, to) }

func areasBack(boxes []box, to []float32) { areasBackPlain(boxes, to) }
