package ray

import "unsafe"

// Tree is a set of triangles made ready for rays. It does not change and may be used by many workers at once.
type Tree struct {
	nodes     []node
	blocks    []block
	triangles [][8]int32 // the number of each triangle of each block
	reach     float32    // the largest coordinate of any corner
	count     int32      // of the triangles it was built over
	depth     int32      // levels of nodes
	plain     bool       // keep to the plain kernel
}

// node has up to eight children. An empty place has its low planes above its high ones.
type node struct {
	planes   [6][8]float32 // low x, high x, low y, high y, low z, high z
	children [8]child
	_        [8]uint32 // to four cache lines
}

// child names a node or a block.
type child uint32

const leaf child = 1 << 31

// block is a leaf: up to eight triangles over up to eight corner positions, so that positions which triangles share are
// stored, fetched and sheared once. Triangles stand in the order of their numbers; places left over repeat the last.
type block struct {
	positions [3][8]float32 // by axis
	corners   [8]uint16     // three bits for each of a, b, c, from the lowest
	_         [4]uint32     // to two cache lines
}

// maxDepth bounds the levels of nodes, and so the stack of the kernels. Build makes 71 at most (see plainDepth), a dozen as
// a rule.
const maxDepth = 160

// Scratch is the working memory of one worker; it must not be shared between goroutines that trace at once. The zero
// Scratch is ready. The assembly reads and writes all but the query by field offset.
type Scratch struct {
	wide  [64 + unsafe.Sizeof(wideScratch{})]byte // a wideScratch, from the first multiple of 64 bytes on
	query query
	stack [maxDepth]entry
}

// wideScratch is where the assembly keeps what its registers cannot hold.
type wideScratch struct {
	nearOrigin, farOrigin, inverse [4]float32
	origin, shear                  [4]float32
	axes                           [3]uint32     // byte offsets of positions in a block
	number                         int32         // of the triangle hit
	lanes                          [3][8]float32 // T, U, V of a block's triangles
	stack                          [maxDepth + 1]entry
}

// entry is a node with children still to visit. keys order them: the time of entry as the upper bits of its float32,
// absent for what is missed or done with.
type entry struct {
	keys [8]uint16
	node uint64 // its place, or its address where the assembly walks
	_    uint64
}

const (
	absent   = 0xffff
	keyShift = 15 // leaves 8 bits of exponent and 8 of mantissa; the sign is always 0
)

// Plain returns the same tree kept to the kernel without assembly, to compare with.
func (t *Tree) Plain() *Tree {
	plain := *t
	plain.plain = true
	return &plain
}

// Nearest finds the hit with the smallest T, and of equal ones the one with the lowest triangle number.
func (t *Tree) Nearest(r *Ray, h *Hit, s *Scratch) bool {
	if len(t.nodes) == 0 {
		return false
	}
	return t.nearest(r, h, s)
}

// Occluded reports whether the ray hits anything.
func (t *Tree) Occluded(r *Ray, s *Scratch) bool {
	if len(t.nodes) == 0 {
		return false
	}
	return t.occluded(r, s)
}
