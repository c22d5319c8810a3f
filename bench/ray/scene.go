//go:build linux

package main

import (
	"math"

	"gloam/internal/geometry"
)

// brick is a box of the furnished room.
type brick struct {
	centre, size geometry.Vector
	inward       bool
}

// room is 6 x 5 x 2.8 m with a table, chairs, shelves with books and some boxes. Made up; nothing depends on it but
// that most surfaces are large and some are small, as in a room.
func room() []brick {
	v := func(x, y, z float64) geometry.Vector { return geometry.Vector{X: x, Y: y, Z: z} }
	bricks := []brick{{centre: v(3, 2.5, 1.4), size: v(6, 5, 2.8), inward: true}}
	add := func(x, y, z, dx, dy, dz float64) {
		bricks = append(bricks, brick{centre: v(x+dx/2, y+dy/2, z+dz/2), size: v(dx, dy, dz)})
	}
	table := func(x, y, w, d, h, leg float64) {
		add(x, y, h, w, d, 0.04)
		for i := range 4 {
			add(x+float64(i%2)*(w-leg), y+float64(i/2)*(d-leg), 0.001, leg, leg, h-0.002)
		}
	}
	table(2, 1.6, 1.8, 0.9, 0.72, 0.07)
	table(0.3, 3.9, 0.6, 0.6, 0.5, 0.05)
	for i := range 6 {
		x, y := 2.1+0.6*float64(i%3), 1.05+1.5*float64(i/3)
		table(x, y, 0.42, 0.42, 0.45, 0.035)
		add(x, y+0.39*float64(i/3), 0.5, 0.42, 0.03, 0.45)
	}
	for shelf := range 5 {
		z := 0.1 + 0.4*float64(shelf)
		add(4.2, 4.68, z, 1.6, 0.3, 0.02)
		for book := range 16 {
			w := 0.03 + 0.02*math.Abs(math.Sin(float64(7*book+3*shelf)))
			add(4.25+0.095*float64(book), 4.72, z+0.021, w, 0.2, 0.2+0.1*math.Abs(math.Sin(float64(5*book+shelf))))
		}
	}
	add(0.02, 0.5, 1.2, 0.03, 0.9, 0.7)
	add(5.0, 0.3, 0.001, 0.8, 2.0, 0.45)
	return bricks
}

// scene returns the room as triangles with sides of about the given length, each vertex shifted by noise as in a scan.
// Without a length (0) every face is two triangles and nothing is shifted. ends says after how many triangles each thing
// in it ends.
func scene(side float64) (m geometry.Mesh, ends []int) {
	add := func(thing geometry.Mesh) {
		m.Append(thing)
		ends = append(ends, len(m.Triangles))
	}
	for _, b := range room() {
		add(tessellated(b, side))
	}
	stacks, slices := 12, 24
	if side > 0 {
		stacks = max(stacks, int(math.Pi*0.3/side))
		slices = 2 * stacks
	}
	for _, at := range []geometry.Vector{{X: 1, Y: 1.2, Z: 1.6}, {X: 3, Y: 2, Z: 1.1}} {
		add(geometry.Sphere(0.3, stacks, slices).Transform(geometry.About(geometry.Up), at, 1))
	}
	if side > 0 {
		for i, p := range m.Positions {
			m.Positions[i] = p.Add(noise(p).Mul(0.3 * side))
		}
	}
	return m, ends
}

// tessellated returns a brick with each face cut into a grid. Edges shared by two faces are cut alike.
func tessellated(b brick, side float64) geometry.Mesh {
	var m geometry.Mesh
	size := [3]float64{b.size.X, b.size.Y, b.size.Z}
	axes := [3]geometry.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	for face := range 6 {
		k := face / 2
		x, y, out := axes[(k+1)%3], axes[(k+2)%3], axes[k]
		w, h := size[(k+1)%3], size[(k+2)%3]
		if face%2 == 1 {
			x, y, out, w, h = y, x, out.Neg(), h, w
		}
		if b.inward {
			x, y, w, h = y, x, h, w
		}
		corner := b.centre.AddMul(size[k]/2, out).AddMul(-w/2, x).AddMul(-h/2, y)
		m.Append(sheet(corner, x.Mul(w), y.Mul(h), cells(w, side), cells(h, side)))
	}
	return m
}

func cells(length, side float64) int {
	if side == 0 {
		return 1
	}
	return int(math.Ceil(length / side))
}

// sheet returns a grid of nx by ny cells over the parallelogram at the corner.
func sheet(corner, x, y geometry.Vector, nx, ny int) geometry.Mesh {
	var m geometry.Mesh
	for j := range ny + 1 {
		for i := range nx + 1 {
			m.Positions = append(m.Positions, corner.AddMul(float64(i)/float64(nx), x).AddMul(float64(j)/float64(ny), y))
		}
	}
	for j := range ny {
		for i := range nx {
			a := int32(j*(nx+1) + i)
			b, c, d := a+1, a+int32(nx)+2, a+int32(nx)+1
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}

// noise returns a vector within ±1 that depends on the place alone, so that sheets that meet stay together.
func noise(p geometry.Vector) geometry.Vector {
	h := func(seed uint64) float64 {
		x := seed
		for _, c := range []float64{p.X, p.Y, p.Z} {
			x = (x ^ uint64(int64(math.Round(c*1e5)))) * 0x9e3779b97f4a7c15
			x ^= x >> 29
		}
		return float64(x>>11)/(1<<52) - 1
	}
	return geometry.Vector{X: h(1), Y: h(2), Z: h(3)}
}
