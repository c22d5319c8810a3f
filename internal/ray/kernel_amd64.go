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
