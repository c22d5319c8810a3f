package ray

// shear carries a ray to the space of [WOOP2013] in which it runs along +z from the origin, with unit speed. kz is the
// axis along which the ray is fastest.
type shear struct {
	kx, ky, kz int
	sx, sy, sz float32
	origin     [3]float32
}

func shearOf(r *Ray) shear {
	d := &r.Direction
	kz := 0
	if abs(d[1]) > abs(d[kz]) {
		kz = 1
	}
	if abs(d[2]) > abs(d[kz]) {
		kz = 2
	}
	// The winding of the triangle is of no interest, so the axes need not be swapped for a negative direction.
	kx, ky := (kz+1)%3, (kz+2)%3
	return shear{kx, ky, kz, d[kx] / d[kz], d[ky] / d[kz], 1 / d[kz], r.Origin}
}

// point returns p in sheared space, its z not yet scaled. The conversions keep the compiler from fusing the operations,
// which would give other digits on other machines.
func (s *shear) point(p [3]float32) (x, y, z float32) {
	z = p[s.kz] - s.origin[s.kz]
	x = float32(p[s.kx]-s.origin[s.kx]) - float32(s.sx*z)
	y = float32(p[s.ky]-s.origin[s.ky]) - float32(s.sy*z)
	return x, y, z
}

// hit intersects one triangle. A float32 difference of two products has the sign of the exact one or is zero, and
// triangles that share an edge compute the same two products for it; a zero counts as inside. So one of the two is hit.
func (s *shear) hit(a, b, c [3]float32, near, far float32) (t, u, v float32, ok bool) {
	ax, ay, az := s.point(a)
	bx, by, bz := s.point(b)
	cx, cy, cz := s.point(c)
	e0 := float32(cx*by) - float32(cy*bx)
	e1 := float32(ax*cy) - float32(ay*cx)
	e2 := float32(bx*ay) - float32(by*ax)
	if (e0 < 0 || e1 < 0 || e2 < 0) && (e0 > 0 || e1 > 0 || e2 > 0) {
		return 0, 0, 0, false
	}
	det := float32(e0+e1) + e2
	inverse := 1 / det
	z := float32(float32(e0*az)+float32(e1*bz)) + float32(e2*cz)
	t = float32(z*s.sz) * inverse
	if !(t >= near && t <= far) || det == 0 {
		return 0, 0, 0, false
	}
	return t, float32(e1 * inverse), float32(e2 * inverse), true
}
