//go:build !amd64

package ray

// nearest walks the tree for the nearest hit.
func (t *Tree) nearest(r *Ray, h *Hit, s *Scratch) bool { return t.nearestPlain(r, h, s) }

// occluded walks the tree for any hit.
func (t *Tree) occluded(r *Ray, s *Scratch) bool { return t.occludedPlain(r, s) }
