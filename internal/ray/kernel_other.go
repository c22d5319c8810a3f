//go:build !amd64

package ray

// nearest walks the tree for the nearest hit.
func (t *Tree) nearest(s *Scratch) bool { return t.nearestPlain(s) }

// occluded walks the tree for any hit.
func (t *Tree) occluded(s *Scratch) bool { return t.occludedPlain(s) }
