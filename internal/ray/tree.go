package ray

import (
	"math"
	"sort"
)

// Tree is a set of triangles made ready for rays. It does not change and may be used by many workers at once.
type Tree struct {
	nodes     []node
	corners   [][3][3]float32
	triangles []int32
}

type node struct {
	low, high [3]float32
	// first is the second child of an inner node (the first stands beside it), or the first triangle of a leaf of count.
	first, count int32
}

// Build returns the tree over triangles given by three corner numbers each into positions of three coordinates each. A
// triangle with a coordinate that is not finite is never hit. It panics where the lengths are no multiples of three
// or a corner names no position.
func Build(positions []float32, triangles []int32) *Tree {
	if len(positions)%3 != 0 || len(triangles)%3 != 0 {
		panic("ray: lengths of positions and triangles are not multiples of 3")
	}
	t := &Tree{}
	var centres [][3]float32
	for i := 0; i < len(triangles); i += 3 {
		var c [3][3]float32
		sum := float32(0)
		for k := range 3 {
			v := int(triangles[i+k])
			if v < 0 || 3*v >= len(positions) {
				panic("ray: a triangle names a position that is not there")
			}
			copy(c[k][:], positions[3*v:])
			sum += c[k][0]*0 + c[k][1]*0 + c[k][2]*0
		}
		if sum == 0 {
			t.corners = append(t.corners, c)
			t.triangles = append(t.triangles, int32(i/3))
			centres = append(centres, [3]float32{c[0][0]/3 + c[1][0]/3 + c[2][0]/3, c[0][1]/3 + c[1][1]/3 + c[2][1]/3, c[0][2]/3 + c[1][2]/3 + c[2][2]/3})
		}
	}
	order := make([]int32, len(t.corners))
	for i := range order {
		order[i] = int32(i)
	}
	if len(order) > 0 {
		t.nodes = make([]node, 1, 2*len(order))
		t.split(0, order, centres, 0)
	}
	corners, numbers := make([][3][3]float32, len(order)), make([]int32, len(order))
	for i, o := range order {
		corners[i], numbers[i] = t.corners[o], t.triangles[o]
	}
	t.corners, t.triangles = corners, numbers
	return t
}

// split halves at the median of the widest axis of centres.
func (t *Tree) split(at int32, order []int32, centres [][3]float32, first int32) {
	inf := float32(math.Inf(1))
	n := node{low: [3]float32{inf, inf, inf}, high: [3]float32{-inf, -inf, -inf}, first: first, count: int32(len(order))}
	low, high := n.low, n.high
	for _, o := range order {
		for k := range 3 {
			for _, c := range t.corners[o] {
				n.low[k], n.high[k] = min(n.low[k], c[k]), max(n.high[k], c[k])
			}
			low[k], high[k] = min(low[k], centres[o][k]), max(high[k], centres[o][k])
		}
	}
	axis := 0
	for k := range 3 {
		if high[k]/2-low[k]/2 > high[axis]/2-low[axis]/2 {
			axis = k
		}
	}
	if len(order) > 4 {
		sort.SliceStable(order, func(i, j int) bool { return centres[order[i]][axis] < centres[order[j]][axis] })
		child := int32(len(t.nodes))
		t.nodes = append(t.nodes, node{}, node{})
		half := len(order) / 2
		n.first, n.count = child, 0
		t.split(child, order[:half], centres, first)
		t.split(child+1, order[half:], centres, first+int32(half))
	}
	t.nodes[at] = n
}

// Nearest finds the hit with the smallest T, and of equal ones the lowest triangle number.
func (t *Tree) Nearest(r *Ray, h *Hit, s *Scratch) bool {
	return t.trace(r, h, s, false)
}

// Occluded reports whether the ray hits anything.
func (t *Tree) Occluded(r *Ray, s *Scratch) bool {
	var h Hit
	return t.trace(r, &h, s, true)
}

func (t *Tree) trace(r *Ray, h *Hit, s *Scratch, any bool) bool {
	if !r.usable() || len(t.nodes) == 0 {
		return false
	}
	w := shearOf(r)
	var inverse [3]float32
	for k := range 3 {
		inverse[k] = 1 / r.Direction[k]
	}
	best := Hit{T: r.Far, Triangle: math.MaxInt32}
	near := max(r.Near, 0)
	found := false
	s.stack[0] = entry{0, near}
	for depth := 1; depth > 0; {
		depth--
		e := s.stack[depth]
		if e.near > best.T {
			continue
		}
		n := &t.nodes[e.node]
		if n.count > 0 {
			for i := n.first; i < n.first+n.count; i++ {
				c := &t.corners[i]
				if T, u, v, ok := w.hit(c[0], c[1], c[2], near, best.T); ok && (T < best.T || t.triangles[i] < best.Triangle) {
					best, found = Hit{T, u, v, t.triangles[i]}, true
				}
			}
			if found && any {
				break
			}
			continue
		}
		a, okA := t.nodes[n.first].enter(r, &inverse, near, best.T)
		b, okB := t.nodes[n.first+1].enter(r, &inverse, near, best.T)
		ea, eb := entry{n.first, a}, entry{n.first + 1, b}
		if okA && okB && a < b {
			ea, eb, okA, okB = eb, ea, okB, okA
		}
		if okA {
			s.stack[depth] = ea
			depth++
		}
		if okB {
			s.stack[depth] = eb
			depth++
		}
	}
	if found {
		*h = best
	}
	return found
}

func (n *node) enter(r *Ray, inverse *[3]float32, near, far float32) (float32, bool) {
	for k := range 3 {
		pad := 1e-5 * max(abs(n.low[k]-r.Origin[k]), abs(n.high[k]-r.Origin[k]))
		a, b := (n.low[k]-pad-r.Origin[k])*inverse[k], (n.high[k]+pad-r.Origin[k])*inverse[k]
		if a > b {
			a, b = b, a
		}
		if a > near {
			near = a
		}
		if b < far {
			far = b
		}
	}
	return near, near <= far
}
