package geometry

import "math"

// Rectangle returns a flat rectangle about its centre, w along basis.X and h along basis.Y, facing basis.Z.
func Rectangle(centre Vector, basis Basis, w, h float64) Mesh {
	x, y := basis.X.Mul(w/2), basis.Y.Mul(h/2)
	return Mesh{
		Positions: []Vector{centre.Sub(x).Sub(y), centre.Add(x).Sub(y), centre.Add(x).Add(y), centre.Sub(x).Add(y)},
		Triangles: [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
}

// Box returns a closed box about its centre, its sides along the basis, facing outward.
func Box(centre Vector, basis Basis, size Vector) Mesh {
	m := Mesh{}
	for i := range 8 {
		corner := Vector{size.X * (float64(i&1) - 0.5), size.Y * (float64(i>>1&1) - 0.5), size.Z * (float64(i>>2) - 0.5)}
		m.Positions = append(m.Positions, centre.Add(basis.Out(corner)))
	}
	for _, q := range [6][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.quad(q[0], q[1], q[2], q[3])
	}
	return m
}

// quad adds two triangles for the corners a, b, c, d, counter-clockwise.
func (m *Mesh) quad(a, b, c, d int32) {
	m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
}

// Disc returns a flat disc of so many segments (3 or more) about its centre, facing basis.Z.
func Disc(centre Vector, basis Basis, radius float64, segments int) Mesh {
	need(segments >= 3)
	m := Mesh{Positions: []Vector{centre}}
	for i := range segments {
		x, y := circle(i, segments)
		m.Positions = append(m.Positions, centre.Add(basis.Out(Vector{radius * x, radius * y, 0})))
		m.Triangles = append(m.Triangles, [3]int32{0, int32(1 + i), int32(1 + (i+1)%segments)})
	}
	return m
}

// circle returns point i of n on the unit circle.
func circle(i, n int) (x, y float64) {
	y, x = math.Sincos(2 * math.Pi * float64(i) / float64(n))
	return x, y
}

func need(enough bool) {
	if !enough {
		panic("geometry: too few segments for the shape")
	}
}

// Sphere returns a closed sphere about the origin, facing outward and smooth, of so many stacks (2 or more) from pole to
// pole and slices (3 or more) around.
func Sphere(radius float64, stacks, slices int) Mesh {
	need(stacks >= 2)
	m := lathe(stacks+1, slices, func(ring, slice int) Vector {
		s, c := math.Sincos(math.Pi * float64(ring) / float64(stacks))
		x, y := circle(slice, slices)
		return Vector{s * x, s * y, -c}
	})
	m.Normals = m.Positions
	m.Positions = make([]Vector, len(m.Normals))
	for i, n := range m.Normals {
		m.Positions[i] = n.Mul(radius)
	}
	return m
}

// lathe returns a closed surface of so many rings (3 or more) of so many slices, the rings from below upward and the
// slices counter-clockwise from above. The first and the last ring are a single point, that of slice 0.
func lathe(rings, slices int, at func(ring, slice int) Vector) Mesh {
	need(rings >= 3 && slices >= 3)
	m := Mesh{Positions: []Vector{at(0, 0)}}
	for r := 1; r < rings-1; r++ {
		for s := range slices {
			m.Positions = append(m.Positions, at(r, s))
		}
	}
	m.Positions = append(m.Positions, at(rings-1, 0))
	vertex := func(r, s int) int32 { return int32(1 + (r-1)*slices + s%slices) }
	top := int32(len(m.Positions) - 1)
	for s := range slices {
		m.Triangles = append(m.Triangles, [3]int32{0, vertex(1, s+1), vertex(1, s)})
		for r := 1; r < rings-2; r++ {
			m.quad(vertex(r, s), vertex(r, s+1), vertex(r+1, s+1), vertex(r+1, s))
		}
		m.Triangles = append(m.Triangles, [3]int32{vertex(rings-2, s), vertex(rings-2, s+1), top})
	}
	return m
}

// Cylinder returns a closed cylinder standing on the origin along z, facing outward, its side smooth and its ends flat.
func Cylinder(radius, height float64, segments int) Mesh {
	need(segments >= 3)
	m := Mesh{Positions: []Vector{{}, {0, 0, height}}, Normals: []Vector{{}, {}}}
	for i := range segments {
		x, y := circle(i, segments)
		low, high := Vector{radius * x, radius * y, 0}, Vector{radius * x, radius * y, height}
		m.Positions = append(m.Positions, low, high, low, high)
		m.Normals = append(m.Normals, Vector{x, y, 0}, Vector{x, y, 0}, Vector{}, Vector{})
		a, b := int32(2+4*i), int32(2+4*((i+1)%segments))
		m.quad(a, b, b+1, a+1)
		m.Triangles = append(m.Triangles, [3]int32{0, b + 2, a + 2}, [3]int32{1, a + 3, b + 3})
	}
	return m
}

// Vault returns a barrel vault, smooth and facing down into the room: an arc of the given rise over the width along x,
// straight along y for the length. It stands about the origin, its springing lines at z = 0. The rise is above 0 and at
// most half the width. Ends are open: see Lunette.
func Vault(width, length, rise float64, segments int) Mesh {
	arc, normals := vaultArc(width, rise, segments)
	m := Mesh{}
	for i, p := range arc {
		m.Positions = append(m.Positions, p.Add(Vector{0, -length / 2, 0}), p.Add(Vector{0, length / 2, 0}))
		m.Normals = append(m.Normals, normals[i], normals[i])
		if i > 0 {
			a := int32(2 * i)
			m.quad(a, a-2, a-1, a+1)
		}
	}
	return m
}

// Lunette returns the flat wall that closes one end of a vault of the same width, rise and segments, at y = 0 and
// facing +y. Its arc has the vault's own points, so that nothing leaks between them.
func Lunette(width, rise float64, segments int) Mesh {
	arc, _ := vaultArc(width, rise, segments)
	m := Mesh{Positions: arc}
	for i := 2; i < len(arc); i++ {
		m.Triangles = append(m.Triangles, [3]int32{0, int32(i - 1), int32(i)})
	}
	return m
}

// vaultArc returns points and inward normals of a vault's arc at y = 0, from −x to +x.
func vaultArc(width, rise float64, segments int) (points, normals []Vector) {
	need(segments >= 2)
	if !(rise > 0 && rise <= width/2) {
		panic("geometry: rise of a vault is not within 0 and half its width")
	}
	radius := (width*width/4 + rise*rise) / (2 * rise)
	half := math.Asin(math.Min(1, width/2/radius))
	for i := range segments + 1 {
		s, c := math.Sincos(half * float64(2*i-segments) / float64(segments))
		points = append(points, Vector{radius * s, 0, radius*c - (radius - rise)})
		normals = append(normals, Vector{-s, 0, -c})
	}
	// The springing points are exact, so that walls below meet them.
	points[0], points[segments] = Vector{-width / 2, 0, 0}, Vector{width / 2, 0, 0}
	return points, normals
}
