package ray

import "math"

// nearestPlain walks the tree for the nearest hit.
func (t *Tree) nearestPlain(r *Ray, h *Hit, s *Scratch) bool {
	if !r.usable() {
		return false
	}
	q := &s.query
	q.set(r, t.reach)
	walk(t, s, func(b uint64) bool {
		q.nearestIn(&t.blocks[b], &t.triangles[b])
		return false
	})
	if q.hit.Triangle == math.MaxInt32 {
		return false
	}
	*h = q.hit
	return true
}

// occludedPlain walks the tree for any hit.
func (t *Tree) occludedPlain(r *Ray, s *Scratch) bool {
	if !r.usable() {
		return false
	}
	q := &s.query
	q.set(r, t.reach)
	return walk(t, s, func(b uint64) bool { return q.anyIn(&t.blocks[b]) })
}

// walk visits the blocks the ray may meet before q.hit.T, nearest first, until visit returns true.
func walk(t *Tree, s *Scratch, visit func(block uint64) bool) bool {
	q := &s.query
	depth := 0
	at := child(0)
	for {
		if at&leaf == 0 {
			e := &s.stack[depth]
			if q.enter(&t.nodes[at], &e.keys) {
				e.node = uint64(at)
				depth++
			}
		} else if visit(uint64(at &^ leaf)) {
			return true
		}
		limit := uint16(math.Float32bits(q.hit.T) >> keyShift)
		for {
			if depth == 0 {
				return false
			}
			e := &s.stack[depth-1]
			lane, key := 0, e.keys[0]
			for i, k := range e.keys {
				if k < key {
					lane, key = i, k
				}
			}
			if key <= limit {
				e.keys[lane] = absent
				at = t.nodes[e.node].children[lane]
				break
			}
			depth--
		}
	}
}

// enter tests the eight boxes of a node and reports whether any is met.
func (q *query) enter(n *node, keys *[8]uint16) bool {
	met := false
	x0, y0, z0 := &n.planes[q.nearPlane[0]], &n.planes[q.nearPlane[1]], &n.planes[q.nearPlane[2]]
	x1, y1, z1 := &n.planes[q.nearPlane[0]^1], &n.planes[q.nearPlane[1]^1], &n.planes[q.nearPlane[2]^1]
	for i := range 8 {
		near, far := q.near, q.hit.T
		// The tests are written so that a NaN, from a box side at infinity, shuts nothing out.
		if t := float32(q.nearOrigin[0]-x0[i]) * q.inverse[0]; t > near {
			near = t
		}
		if t := float32(q.nearOrigin[1]-y0[i]) * q.inverse[1]; t > near {
			near = t
		}
		if t := float32(q.nearOrigin[2]-z0[i]) * q.inverse[2]; t > near {
			near = t
		}
		if t := float32(q.farOrigin[0]-x1[i]) * q.inverse[0]; t < far {
			far = t
		}
		if t := float32(q.farOrigin[1]-y1[i]) * q.inverse[1]; t < far {
			far = t
		}
		if t := float32(q.farOrigin[2]-z1[i]) * q.inverse[2]; t < far {
			far = t
		}
		keys[i] = absent
		if near <= far {
			keys[i] = uint16(math.Float32bits(near) >> keyShift)
			met = true
		}
	}
	return met
}

// sheared is the corner positions of a block in the space where the ray runs along z.
type sheared struct {
	x, y, z [8]float32
	of      *block
}

// shears carries the positions of a block over. The conversions keep the compiler from fusing operations, which would
// give other digits on other machines.
func (q *query) shears(b *block, s *sheared) {
	s.of = b
	px, py, pz := &b.positions[q.axes[0]], &b.positions[q.axes[1]], &b.positions[q.axes[2]]
	for i := range 8 {
		z := q.origin[2] - pz[i]
		s.x[i] = float32(q.origin[0]-px[i]) - float32(q.shear[0]*z)
		s.y[i] = float32(q.origin[1]-py[i]) - float32(q.shear[1]*z)
		s.z[i] = z
	}
}

// meets intersects triangle i of a block with T within near and far.
//
// An edge function is a difference of two products. Rounded, it has the sign of the exact one or is zero, and the
// triangles on both sides of an edge compute the same two products for it. A zero counts as inside; so the ray
// meets one of the two at least.
func (s *sheared) meets(corners uint16, q *query, far float32) (h Hit, ok bool) {
	a, b, c := corners&7, corners>>3&7, corners>>6&7
	ax, ay, bx, by, cx, cy := s.x[a], s.y[a], s.x[b], s.y[b], s.x[c], s.y[c]
	e0 := float32(cx*by) - float32(cy*bx)
	e1 := float32(ax*cy) - float32(ay*cx)
	e2 := float32(bx*ay) - float32(by*ax)
	if (e0 < 0 || e1 < 0 || e2 < 0) && (e0 > 0 || e1 > 0 || e2 > 0) {
		return h, false
	}
	area := float32(e0+e1) + e2
	inverse := 1 / area // infinite for no area, which makes T a NaN
	w, u, v := float32(e0*inverse), float32(e1*inverse), float32(e2*inverse)
	z := float32(float32(w*s.z[a])+float32(u*s.z[b])) + float32(v*s.z[c])
	t, earliest := float32(z*q.shear[2]), q.near
	farthest := max(abs(ax), abs(ay), abs(bx), abs(by), abs(cx), abs(cy))
	if cube := float32(float32(farthest*farthest) * farthest); !(float32(cube*doubtShare)+doubtLeast <= float32(abs(area)*q.slack)) {
		t, earliest = q.hold(t, s.of, [3]uint16{a, b, c})
	}
	t += 0 // +0 of −0, whose bits would not order as a limit of the walk
	return Hit{T: t, U: u, V: v}, t >= earliest && t <= far
}

// The sum of the weighted corners is the ray but for rounding: in the space where it runs along z, but for 6·2⁻²⁴ of the
// cube of the distance of the farthest corner over twice the triangle's area. Where 16·2⁻²⁴ of it is within the slack, a
// hit lies in every box that holds the triangle. doubtLeast stands for what is lost below the least float32.
const (
	doubtShare = 1.0 / (1 << 20)
	doubtLeast = 1.0 / (1 << 100)
)

// hold brings the time at which a triangle is met to within those at which the ray is in the triangle's own box, and
// returns the earliest that counts.
//
// Where a triangle is thin or seen from the side, its edge functions are nearly all rounding, and the weighted mean of the
// distances may be that of any of its points. Held to its own box, it is never before or behind a box farther up: the walk
// comes to it, whatever the hierarchy.
func (q *query) hold(t float32, b *block, corners [3]uint16) (held, earliest float32) {
	earliest, latest := q.near, inf
	for k := range 3 {
		first, last := float32(q.nearOrigin[k]-b.positions[k][corners[0]])*q.inverse[k], float32(q.farOrigin[k]-b.positions[k][corners[0]])*q.inverse[k]
		for _, c := range corners[1:] {
			if enter := float32(q.nearOrigin[k]-b.positions[k][c]) * q.inverse[k]; enter < first {
				first = enter
			}
			if leave := float32(q.farOrigin[k]-b.positions[k][c]) * q.inverse[k]; leave > last {
				last = leave
			}
		}
		if first > earliest {
			earliest = first
		}
		if first > t {
			t = first
		}
		if last < latest {
			latest = last
		}
	}
	if latest < t {
		t = latest
	}
	return t, earliest
}

// nearestIn improves q.hit by the triangles of a block.
func (q *query) nearestIn(b *block, numbers *[8]int32) {
	var s sheared
	q.shears(b, &s)
	for i, corners := range b.corners {
		if h, ok := s.meets(corners, q, q.hit.T); ok && (h.T < q.hit.T || numbers[i] < q.hit.Triangle) {
			h.Triangle = numbers[i]
			q.hit = h
		}
	}
}

// anyIn reports whether the ray meets a triangle of a block.
func (q *query) anyIn(b *block) bool {
	var s sheared
	q.shears(b, &s)
	for _, corners := range b.corners {
		if _, ok := s.meets(corners, q, q.hit.T); ok {
			return true
		}
	}
	return false
}
