package ray

import "sort"

// collapse merges the binary tree into nodes of eight and leaves.
func (b *builder) collapse(root ref) *Tree {
	t := &Tree{nodes: make([]node, 1)}
	if _, ok := b.asLeaf(root); ok {
		t.nodes[0] = emptyNode
		b.place(t, 0, 0, root)
		t.depth = 1
		return t
	}
	b.expand(t, 0, root, 1)
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

// expand fills node at with the children of branch r, and goes on with those.
func (b *builder) expand(t *Tree, at int, r ref, depth int32) {
	t.depth = max(t.depth, depth)
	n := &b.branches[r]
	k := int(n.shares[8])
	children := b.children(nil, n.left, k)
	children = b.children(children, n.right, 8-k)
	t.nodes[at] = emptyNode
	first := len(t.nodes)
	for _, c := range children {
		if _, ok := b.asLeaf(c); !ok {
			t.nodes = append(t.nodes, node{})
		}
	}
	for i, c := range children {
		if b.place(t, at, i, c) {
			t.nodes[at].children[i] = child(first)
			b.expand(t, first, c, depth+1)
			first++
		}
	}
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

// place sets the box of child i of a node, and the child itself where it is a leaf. It reports whether it is a node.
func (b *builder) place(t *Tree, at, i int, r ref) bool {
	s, isLeaf := b.asLeaf(r)
	var c box
	if r >= 0 {
		c = b.branches[r].box
	} else {
		c = b.end(s).box
	}
	n := &t.nodes[at]
	for k := range 3 {
		n.planes[2*k][i], n.planes[2*k+1][i] = c.low[k], c.high[k]
	}
	if isLeaf {
		n.children[i] = b.leaf(t, s)
	}
	return !isLeaf
}

// block appends the block of a span.
func (b *builder) block(t *Tree, s span) child {
	var numbers [8]int32
	n := s.len()
	for i := range n {
		numbers[i] = b.prims[int(s.begin)+i].number
	}
	sort.Slice(numbers[:n], func(i, j int) bool { return numbers[i] < numbers[j] })
	for i := n; i < 8; i++ {
		numbers[i] = numbers[n-1]
	}
	var vertices [8]int32
	var out block
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
	t.blocks = append(t.blocks, out)
	t.triangles = append(t.triangles, numbers)
	return leaf | child(len(t.blocks)-1)
}
