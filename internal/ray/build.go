package ray

import (
	"math"
	"sync"
)

// Build returns the tree over triangles given by three corner numbers each into positions of three coordinates each. A
// triangle with a coordinate that is not within ±2⁶⁰ is never hit. It panics where the lengths are no multiples of three
// or a corner names no position.
//
// It first makes a binary tree by the surface area heuristic over bins [WALD2007], then merges it into nodes of eight
// and blocks at least cost [YLITIE2017]. The result is the same for any number of processors.
func Build(positions []float32, triangles []int32) *Tree {
	if len(positions)%3 != 0 || len(triangles)%3 != 0 {
		panic("ray: lengths of positions and triangles are not multiples of 3")
	}
	for _, v := range triangles {
		if v < 0 || int(v) >= len(positions)/3 {
			panic("ray: a triangle names a position that is not there")
		}
	}
	b := builder{positions: positions, corners: welded(positions, triangles), most: 8, perLeaf: 5}
	b.leaf = b.block
	b.gather()
	t := b.build()
	t.count = int32(len(triangles) / 3)
	return t
}

// build makes the tree over the prims.
func (b *builder) build() *Tree {
	if len(b.prims) == 0 {
		return &Tree{}
	}
	b.branches = make([]branch, len(b.prims))
	all := span{0, int32(len(b.prims))}
	root := b.grow(all, b.middles(all), 0)
	t := b.collapse(root.ref)
	for k := range 3 {
		t.reach = max(t.reach, abs(root.box.low[k]), abs(root.box.negHigh[k]))
	}
	return t
}

// builder is the state of one build. Its prims are triangles, or whole subtrees where trees are joined.
type builder struct {
	positions []float32
	corners   []int32 // three a triangle; corners at one place have one number
	prims     []box   // sorted into the order of the leaves as the tree grows
	branches  []branch

	most    int                                      // prims in a leaf
	perLeaf float32                                  // prims in a leaf as a rule
	leaf    func(t *Tree, s span, block int32) child // makes the leaf of a span
}

// box is a box along the axes. Its high corner has the sign changed, so that adding a box takes the lesser of each number.
// While the tree grows a prim is a box with its number, and with the number of leaves in it as its weight, or 1.
type box struct {
	low     [3]float32
	number  int32
	negHigh [3]float32
	weight  int32
}

// middle returns twice the middle along an axis.
func (b *box) middle(k int) float32 { return b.low[k] - b.negHigh[k] }

// span is a run of prims.
type span struct{ begin, end int32 }

func (s span) len() int { return int(s.end - s.begin) }

var (
	inf      = float32(math.Inf(1))
	emptyBox = box{low: [3]float32{inf, inf, inf}, negHigh: [3]float32{inf, inf, inf}}
)

func (b *box) add(o *box) {
	for k := range 3 {
		if o.low[k] < b.low[k] {
			b.low[k] = o.low[k]
		}
		if o.negHigh[k] < b.negHigh[k] {
			b.negHigh[k] = o.negHigh[k]
		}
	}
}

// area returns half the surface of the box; it makes no sense of an empty one. The sides are negative, which their
// products are not.
func (b *box) area() float32 {
	x, y, z := b.low[0]+b.negHigh[0], b.low[1]+b.negHigh[1], b.low[2]+b.negHigh[2]
	return float32(float32(x*y)+float32(y*z)) + float32(z*x)
}

// welded returns the corner numbers with those of equal positions made equal, to the first of them.
func welded(positions []float32, triangles []int32) []int32 {
	n := len(positions) / 3
	size := 1
	for size < 2*n {
		size *= 2
	}
	table := make([]int32, size) // one more than the position; 0 is free
	canonical := make([]int32, n)
	for i := range n {
		p := positions[3*i : 3*i+3 : 3*i+3]
		x, y, z := math.Float32bits(p[0]), math.Float32bits(p[1]), math.Float32bits(p[2])
		h := uint64(x)*0x9e3779b97f4a7c15 + uint64(y)*0xc2b2ae3d27d4eb4f + uint64(z)*0x165667b19e3779f9
		h ^= h >> 32
		h *= 0x9e3779b97f4a7c15
		slot := int(h >> 32 & uint64(size-1))
		for {
			other := table[slot]
			if other == 0 {
				table[slot] = int32(i + 1)
				canonical[i] = int32(i)
				break
			}
			q := positions[3*other-3 : 3*other : 3*other]
			if x == math.Float32bits(q[0]) && y == math.Float32bits(q[1]) && z == math.Float32bits(q[2]) {
				canonical[i] = other - 1
				break
			}
			slot = (slot + 1) & (size - 1)
		}
	}
	corners := make([]int32, len(triangles))
	for i, v := range triangles {
		corners[i] = canonical[v]
	}
	return corners
}

// gather fills prims. Triangles with two corners at one place are left out: two of their edge functions are opposite and
// the third is zero, so that no ray ever meets them. Those with three corners in a line stay, since they may fill the
// crack that rounding opens beside them.
func (b *builder) gather() {
	b.prims = make([]box, 0, len(b.corners)/3)
	for i := 0; i+2 < len(b.corners); i += 3 {
		c := b.corners[i : i+3 : i+3]
		if c[0] == c[1] || c[1] == c[2] || c[2] == c[0] {
			continue
		}
		p := emptyBox
		p.number, p.weight = int32(i/3), 1
		within := true
		for _, v := range c {
			at := b.positions[3*v : 3*v+3 : 3*v+3]
			for k, x := range at {
				if x < p.low[k] {
					p.low[k] = x
				}
				if -x < p.negHigh[k] {
					p.negHigh[k] = -x
				}
				within = within && abs(x) <= farthest
			}
		}
		if within {
			b.prims = append(b.prims, p)
		}
	}
}

// branch is an inner node of the binary tree. It stands in branches at the place where its prims are split, which no
// other branch has.
type branch struct {
	box         box
	span        span
	left, right ref
	// shares says how the subtree is best made up of children of an eight-wide node: for j of them, the left side gets
	// shares[j] and the right side the rest; 0 means that j−1 do as well. shares[1] is 1 where the subtree is a leaf.
	shares        [9]uint8
	nodes, leaves int32 // of the eight-wide tree
}

// ref names a branch (its place) or, negative, a run of prims that is one leaf.
type ref int32

func leafRef(s span) ref { return ^ref(s.begin<<4 | (s.end - s.begin)) }

func (r ref) leaf() (span, bool) {
	if r >= 0 {
		return span{}, false
	}
	begin := int32(^r) >> 4
	return span{begin, begin + int32(^r)&15}, true
}

// grown is a finished subtree of the binary tree. costs[j] is the least cost of making it up of j children or fewer.
type grown struct {
	ref   ref
	box   box
	costs [9]float32
}

const (
	parallelSpan = 1 << 12 // prims above which the halves grow at the same time
	plainDepth   = 40      // levels after which spans are halved, which ends within 31 more
	leafCost     = 1.0     // of testing a leaf, in tests of a node
)

// grow makes the binary tree over a span, whose middles lie in the given box.
func (b *builder) grow(s span, middles box, depth int) grown {
	if s.len() == 1 {
		return b.end(s)
	}
	fits := b.fits(s)
	at := b.split(s, &middles, depth < plainDepth, fits)
	if at.middle == s.begin {
		return b.end(s)
	}
	var left, right grown
	if s.len() > parallelSpan {
		var wait sync.WaitGroup
		wait.Go(func() { left = b.grow(span{s.begin, at.middle}, at.sides[0], depth+1) })
		right = b.grow(span{at.middle, s.end}, at.sides[1], depth+1)
		wait.Wait()
	} else {
		left = b.grow(span{s.begin, at.middle}, at.sides[0], depth+1)
		right = b.grow(span{at.middle, s.end}, at.sides[1], depth+1)
	}
	return b.join(s, at.middle, &left, &right, fits)
}

// end returns a span as one leaf.
func (b *builder) end(s span) grown {
	g := grown{ref: leafRef(s), box: emptyBox}
	for i := s.begin; i < s.end; i++ {
		g.box.add(&b.prims[i])
	}
	cost := leafCost * g.box.area()
	for j := range g.costs {
		g.costs[j] = cost
	}
	return g
}

// join makes the branch over two subtrees and works out its costs.
func (b *builder) join(s span, middle int32, left, right *grown, fits bool) grown {
	g := grown{ref: ref(middle), box: left.box}
	g.box.add(&right.box)
	n := branch{box: g.box, span: s, left: left.ref, right: right.ref}
	g.costs[1] = inf
	for j := 2; j <= 8; j++ {
		g.costs[j] = inf
		for k := 1; k < j; k++ {
			if c := left.costs[k] + right.costs[j-k]; c < g.costs[j] {
				g.costs[j], n.shares[j] = c, uint8(k)
			}
		}
	}
	area := g.box.area()
	g.costs[1] = area + g.costs[8]
	if fits && !(leafCost*area > g.costs[1]) {
		g.costs[1], n.shares[1] = leafCost*area, 1
	}
	for j := 2; j <= 8; j++ {
		if !(g.costs[j] < g.costs[j-1]) && j < 8 {
			g.costs[j], n.shares[j] = g.costs[j-1], 0
		}
	}
	b.branches[middle] = n
	return g
}

// fits reports whether a span of more than one can be one leaf.
func (b *builder) fits(s span) bool {
	if s.len() > b.most {
		return false
	}
	var seen [8]int32
	n := 0
	for i := s.begin; i < s.end; i++ {
		c := 3 * b.prims[i].number
	corners:
		for _, v := range b.corners[c : c+3] {
			for _, o := range seen[:n] {
				if o == v {
					continue corners
				}
			}
			if n == 8 {
				return false
			}
			seen[n] = v
			n++
		}
	}
	return true
}
