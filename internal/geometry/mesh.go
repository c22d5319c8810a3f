package geometry

import (
	"fmt"
	"math"

	"gloam/internal/fault"
)

// Mesh is a set of triangles over shared vertices. A triangle's corners stand counter-clockwise seen from the side its
// normal points to. Positions are in metres.
//
// Normals, where there are any, are one unit vector a vertex and smooth the shading between corners. No Normals, or the
// zero vector at a vertex, is flat: the triangle's own normal.
type Mesh struct {
	Positions []Vector
	Normals   []Vector
	Triangles [][3]int32
}

// Append adds the triangles of other to m. Vertices are not merged.
func (m *Mesh) Append(other Mesh) {
	base := int32(len(m.Positions))
	if len(m.Normals) > 0 || len(other.Normals) > 0 {
		m.Normals = append(padded(m.Normals, len(m.Positions)), padded(other.Normals, len(other.Positions))...)
	}
	m.Positions = append(m.Positions, other.Positions...)
	for _, t := range other.Triangles {
		m.Triangles = append(m.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
	}
}

// padded returns the normals filled up with flat ones to n.
func padded(normals []Vector, n int) []Vector {
	if len(normals) == n {
		return normals
	}
	return append(normals, make([]Vector, n-len(normals))...)
}

// Transform returns the mesh scaled, turned and moved: a position p goes to origin + basis.Out(scale·p). It panics
// where scale is not above 0, which would turn the mesh inside out.
func (m Mesh) Transform(basis Basis, origin Vector, scale float64) Mesh {
	if !(scale > 0) {
		panic("geometry: scale of a mesh is not above 0")
	}
	moved := Mesh{Positions: make([]Vector, len(m.Positions)), Triangles: append([][3]int32(nil), m.Triangles...)}
	for i, p := range m.Positions {
		moved.Positions[i] = origin.Add(basis.Out(p.Mul(scale)))
	}
	if len(m.Normals) > 0 {
		moved.Normals = make([]Vector, len(m.Normals))
	}
	for i, n := range m.Normals {
		moved.Normals[i] = basis.Out(n)
	}
	return moved
}

// Corners returns the positions of triangle i.
func (m Mesh) Corners(i int) (a, b, c Vector) {
	t := m.Triangles[i]
	return m.Positions[t[0]], m.Positions[t[1]], m.Positions[t[2]]
}

// Area returns the sum of the triangles' areas in m².
func (m Mesh) Area() float64 {
	sum := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		sum += b.Sub(a).Cross(c.Sub(a)).Length() / 2
	}
	return sum
}

// Volume returns the volume in m³ a closed mesh encloses, positive where its normals point out.
func (m Mesh) Volume() float64 {
	sum := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		sum += a.Dot(b.Cross(c)) / 6
	}
	return sum
}

// Bounds returns the corners of the box along the axes that holds every vertex. Without vertices low is above high.
func (m Mesh) Bounds() (low, high Vector) {
	inf := math.Inf(1)
	low, high = Vector{inf, inf, inf}, Vector{-inf, -inf, -inf}
	for _, p := range m.Positions {
		low = Vector{math.Min(low.X, p.X), math.Min(low.Y, p.Y), math.Min(low.Z, p.Z)}
		high = Vector{math.Max(high.X, p.X), math.Max(high.Y, p.Y), math.Max(high.Z, p.Z)}
	}
	return low, high
}

// Check returns what is wrong with the mesh: a corner that names no vertex, a position or normal that is not finite,
// normals that are not one a vertex. One fault of each sort is told, with how many more there are.
func (m Mesh) Check() error {
	var faults fault.List
	tell := func(count int, text string) {
		if count > 1 {
			text += fmt.Sprintf(", and %d more like it", count-1)
		}
		if count > 0 {
			faults = append(faults, fault.Fault{Text: text})
		}
	}
	if n := len(m.Normals); n != 0 && n != len(m.Positions) {
		tell(1, fmt.Sprintf("the mesh has %d normals for %d vertices", n, len(m.Positions)))
	}
	i, count := first(len(m.Positions), func(i int) bool { return !m.Positions[i].Finite() })
	tell(count, fmt.Sprintf("the position of vertex %d is not finite", i))
	i, count = first(len(m.Normals), func(i int) bool { return !m.Normals[i].Finite() })
	tell(count, fmt.Sprintf("the normal of vertex %d is not finite", i))
	i, count = first(len(m.Triangles), func(i int) bool {
		for _, v := range m.Triangles[i] {
			if v < 0 || int(v) >= len(m.Positions) {
				return true
			}
		}
		return false
	})
	tell(count, fmt.Sprintf("triangle %d names a vertex that is not there", i))
	return faults.Err()
}

// first returns the lowest index under n that is bad, and how many are.
func first(n int, bad func(int) bool) (index, count int) {
	for i := n - 1; i >= 0; i-- {
		if bad(i) {
			index = i
			count++
		}
	}
	return index, count
}

// Smoothed returns the mesh with a normal at each vertex: the mean of its triangles' normals, weighted by their area.
func (m Mesh) Smoothed() Mesh {
	normals := make([]Vector, len(m.Positions))
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		for _, v := range t {
			normals[v] = normals[v].Add(n)
		}
	}
	for i := range normals {
		normals[i] = normals[i].Unit()
	}
	m.Normals = normals
	return m
}

// Packed returns the mesh as flat float32 coordinates (x, y, z a vertex) and corner numbers (three a triangle), the
// form in which rays are traced.
func (m Mesh) Packed() (positions []float32, triangles []int32) {
	positions = make([]float32, 0, 3*len(m.Positions))
	for _, p := range m.Positions {
		positions = append(positions, float32(p.X), float32(p.Y), float32(p.Z))
	}
	triangles = make([]int32, 0, 3*len(m.Triangles))
	for _, t := range m.Triangles {
		triangles = append(triangles, t[:]...)
	}
	return positions, triangles
}
