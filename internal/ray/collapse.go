package ray

import (
	"slices"
	"sync"
)

// collapse merges the binary tree into nodes of eight and leaves.
func (b *builder) collapse(root ref) *Tree {
	nodes, leaves := b.count(root)
	t := &Tree{nodes: array[node](int(nodes)), depth: 1}
	if b.corners != nil {
		t.blocks, t.triangles = array[block](int(leaves)), array[[8]int32](int(leaves))
	}
	if _, ok := b.asLeaf(root); ok {
		t.nodes[0] = emptyNode
		b.place(t, &t.nodes[0], 0, root, 0)
	} else {
		t.depth = b.expand(t, 0, 1, 0, root)
	}
	return t
}

var emptyNode = func() (n node) {
	for k := range n.planes {
		for i := range n.planes[k] {
			n.planes[k][i] = inf
			if k%2 == 1 {
				n.planes[k][i] = -inf
			}
		}
	}
	return n
}()

// asLeaf returns the prims of a subtree that is best as one leaf.
func (b *builder) asLeaf(r ref) (span, bool) {
	if s, ok := r.leaf(); ok {
		return s, true
	}
	n := &b.branches[r]
	return n.span, n.shares[1] == 1
}

// count sets how many nodes and leaves each subtree will have, from the root of this one down, and returns its own.
func (b *builder) count(r ref) (nodes, leaves int32) {
	if _, ok := b.asLeaf(r); ok {
		return 1, 1
	}
	var places [8]ref
	nodes = 1
	for _, c := range b.ofNode(places[:0], r) {
		if _, ok := b.asLeaf(c); ok {
			leaves++
			continue
		}
		n, l := b.count(c)
		nodes += n
		leaves += l
	}
	b.branches[r].nodes, b.branches[r].leaves = nodes, leaves
	return nodes, leaves
}

// expand fills node at with the children of branch r, and goes on with those: their nodes stand from free on, their leaves
// from block on. It returns how many levels it made.
func (b *builder) expand(t *Tree, at, free, block int32, r ref) int32 {
	var places [8]ref
	children := b.ofNode(places[:0], r)
	n := &t.nodes[at]
	*n = emptyNode
	first := free
	for _, c := range children {
		if _, ok := b.asLeaf(c); !ok {
			free++
		}
	}
	var wait sync.WaitGroup
	var depths [8]int32
	for i, c := range children {
		if b.place(t, n, i, c, block) {
			block++
			continue
		}
		n.children[i] = child(first)
		from := [3]int32{first, free, block}
		below := &b.branches[c]
		if below.leaves > parallelLeaves {
			wait.Go(func() { depths[i] = b.expand(t, from[0], from[1], from[2], c) })
		} else {
			depths[i] = b.expand(t, from[0], from[1], from[2], c)
		}
		first++
		free += below.nodes - 1
		block += below.leaves
	}
	wait.Wait()
	return 1 + slices.Max(depths[:])
}

// parallelLeaves is a number of leaves beyond which subtrees are expanded at the same time.
const parallelLeaves = 1 << 12

// ofNode appends the children of the node that a branch makes.
func (b *builder) ofNode(to []ref, r ref) []ref {
	n := &b.branches[r]
	k := int(n.shares[8])
	return b.children(b.children(to, n.left, k), n.right, 8-k)
}

// children appends the subtrees that stand for r as j children.
func (b *builder) children(to []ref, r ref, j int) []ref {
	if r < 0 {
		return append(to, r)
	}
	n := &b.branches[r]
	for j > 1 && n.shares[j] == 0 {
		j--
	}
	if j == 1 {
		return append(to, r)
	}
	k := int(n.shares[j])
	return b.children(b.children(to, n.left, k), n.right, j-k)
}

// place sets the box of child i of a node, and the child itself where it is a leaf, which it reports.
func (b *builder) place(t *Tree, n *node, i int, r ref, block int32) bool {
	s, isLeaf := b.asLeaf(r)
	var c box
	if r >= 0 {
		c = b.branches[r].box
	} else {
		c = b.end(s).box
	}
	for k := range 3 {
		n.planes[2*k][i], n.planes[2*k+1][i] = c.low[k], -c.negHigh[k]
	}
	if isLeaf {
		n.children[i] = b.leaf(t, s, block)
	}
	return isLeaf
}

// block makes the block of a span.
func (b *builder) block(t *Tree, s span, at int32) child {
	var numbers [8]int32
	n := s.len()
	for i := range n {
		numbers[i] = b.prims[int(s.begin)+i].number
	}
	slices.Sort(numbers[:n])
	for i := n; i < 8; i++ {
		numbers[i] = numbers[n-1]
	}
	var vertices [8]int32
	out := &t.blocks[at]
	count := 0
	for i, number := range numbers {
		for k, v := range b.corners[3*number : 3*number+3] {
			at := 0
			for at < count && vertices[at] != v {
				at++
			}
			if at == count {
				vertices[count] = v
				count++
			}
			out.corners[i] |= uint16(at) << (3 * k)
		}
	}
	for i := range 8 {
		v := vertices[min(i, count-1)]
		for k := range 3 {
			out.positions[k][i] = b.positions[3*int(v)+k]
		}
	}
	t.triangles[at] = numbers
	return leaf | child(at)
}
