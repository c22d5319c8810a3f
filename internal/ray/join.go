package ray

import "math"

// Join returns one tree over the triangles of all parts, which stand in the same coordinates. Those of a part are numbered
// after those of the parts before it, as if Build had been given them all in that order, and every answer has the same
// digits as from that tree.
//
// The parts are copied, at the speed of memory and some 35 bytes a triangle, and only the top is built anew: the widest
// nodes are opened and the pieces grouped by the surface area heuristic, so that parts which reach into each other cost a
// ray little [BENTHIN2017]. It panics where the triangles are 2³¹ or more, or where joined trees are joined again so often that
// the levels are too many for the kernels.
func Join(parts ...*Tree) *Tree {
	pieces := open(parts)
	b := builder{most: 1, perLeaf: 1, leaf: func(_ *Tree, s span, _ int32) child { return leaf | child(s.begin) }}
	b.prims = make([]box, len(pieces))
	for i, p := range pieces {
		b.prims[i] = p.box
		b.prims[i].number, b.prims[i].weight = int32(i), p.weight
	}
	top := b.build()
	t := &Tree{reach: top.reach, depth: top.depth}
	places := t.copy(len(top.nodes), parts)
	copy(t.nodes, top.nodes)
	for i := range top.nodes {
		for lane, c := range t.nodes[i].children {
			if c&leaf != 0 {
				p := pieces[b.prims[c&^leaf].number]
				t.nodes[i].children[lane] = places[p.part].of(p.child)
			}
		}
	}
	return t
}

// piece is a subtree of one of the parts, with the number of its leaves.
type piece struct {
	box    box
	part   int
	child  child
	weight int32
}

// open cuts the parts into as many pieces as the top is to be made of.
func open(parts []*Tree) []piece {
	var pieces []piece
	weights := make([][]int32, len(parts))
	for i, t := range parts {
		if len(t.nodes) > 0 {
			weights[i] = t.weights()
			root := piece{emptyBox, i, 0, weights[i][0]}
			for _, p := range t.pieces(i, 0, weights[i]) {
				root.box.add(&p.box)
			}
			pieces = append(pieces, root)
		}
	}
	for most := 64 + 2*len(pieces); len(pieces) < most; {
		widest, area := -1, float32(-1)
		for i := range pieces {
			if a := pieces[i].box.area(); pieces[i].child&leaf == 0 && a > area {
				widest, area = i, a
			}
		}
		if widest < 0 {
			break
		}
		p := pieces[widest]
		pieces = append(append(pieces[:widest], pieces[widest+1:]...), parts[p.part].pieces(p.part, p.child, weights[p.part])...)
	}
	return pieces
}

// weights returns the number of leaves below each node. Nodes stand before those below them.
func (t *Tree) weights() []int32 {
	weights := make([]int32, len(t.nodes))
	for at := len(t.nodes) - 1; at >= 0; at-- {
		n := &t.nodes[at]
		for i, c := range n.children {
			if n.planes[0][i] > n.planes[1][i] {
				continue
			}
			if c&leaf != 0 {
				weights[at]++
			} else {
				weights[at] += weights[c]
			}
		}
	}
	return weights
}

// pieces returns the children of a node.
func (t *Tree) pieces(part int, at child, weights []int32) (p []piece) {
	n := &t.nodes[at]
	for i, c := range n.children {
		if n.planes[0][i] <= n.planes[1][i] {
			b := box{low: [3]float32{n.planes[0][i], n.planes[2][i], n.planes[4][i]}}
			for k := range 3 {
				b.negHigh[k] = -n.planes[2*k+1][i]
			}
			weight := int32(1)
			if c&leaf == 0 {
				weight = weights[c]
			}
			p = append(p, piece{b, part, c, weight})
		}
	}
	return p
}

// place is where a part stands in a joined tree.
type place struct{ nodes, blocks child }

// of returns where a child of the part stands.
func (p place) of(c child) child {
	if c&leaf != 0 {
		return c + p.blocks
	}
	return c + p.nodes
}

// copy fills the tree with the parts, after so many nodes of a top, and returns their places.
func (t *Tree) copy(top int, parts []*Tree) []place {
	nodes, blocks, count, depth := top, 0, 0, int32(0)
	for _, p := range parts {
		nodes, blocks, count, depth = nodes+len(p.nodes), blocks+len(p.blocks), count+int(p.count), max(depth, p.depth)
	}
	if count > math.MaxInt32 {
		panic("ray: more triangles than can be numbered")
	}
	if t.depth += depth; t.depth > maxDepth {
		panic("ray: joined trees are joined too often")
	}
	t.nodes, t.blocks, t.triangles = array[node](nodes), array[block](blocks), array[[8]int32](blocks)
	places := make([]place, len(parts))
	at := place{nodes: child(top)}
	for i, p := range parts {
		places[i] = at
		for j := range p.nodes {
			n := &t.nodes[int(at.nodes)+j]
			*n = p.nodes[j]
			for lane, c := range n.children {
				n.children[lane] = at.of(c)
			}
		}
		copy(t.blocks[at.blocks:], p.blocks)
		for j := range p.triangles {
			for k, number := range p.triangles[j] {
				t.triangles[int(at.blocks)+j][k] = number + t.count
			}
		}
		at.nodes += child(len(p.nodes))
		at.blocks += child(len(p.blocks))
		t.count += p.count
	}
	return places
}
