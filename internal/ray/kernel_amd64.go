package ray

import (
	"math"

	"golang.org/x/sys/cpu"
)

//go:generate sh -c "cd gen && go run . -out ../kernel_amd64.s -pkg ray"

// wide says that this machine can run the AVX2 kernels.
var wide = cpu.X86.HasAVX2

//go:noescape
func nearestAVX2(q *query, nodes *node, blocks *block, numbers *[8]int32, stack *entry)

//go:noescape
func occludedAVX2(q *query, nodes *node, blocks *block, stack *entry) bool

// nearest walks the tree for the nearest hit.
func (t *Tree) nearest(s *Scratch) bool {
	if t.plain || !wide {
		return t.nearestPlain(s)
	}
	s.query.hit = Hit{T: s.query.far, Triangle: math.MaxInt32}
	nearestAVX2(&s.query, &t.nodes[0], &t.blocks[0], &t.triangles[0], &s.stack[0])
	return s.query.hit.Triangle != math.MaxInt32
}

// occluded walks the tree for any hit.
func (t *Tree) occluded(s *Scratch) bool {
	if t.plain || !wide {
		return t.occludedPlain(s)
	}
	return occludedAVX2(&s.query, &t.nodes[0], &t.blocks[0], &s.stack[0])
}
