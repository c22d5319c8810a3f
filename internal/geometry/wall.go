package geometry

import "sort"

// Hole is a rectangular opening in a wall: its lower left corner from the wall's own, its width and height, in metres.
type Hole struct{ X, Y, W, H float64 }

// Wall returns a wall with rectangular holes: its face runs from the corner w along basis.X and h along basis.Y and
// faces basis.Z, its body goes back against Z by the thickness. Holes may touch, overlap and reach over the edges. With a
// thickness the wall is a closed solid, reveals and rim included; without one it is the face alone.
//
// The cut is made in the plane: a grid over the holes' common bounds, and four fans from there to the wall's edges. No
// vertex lies inside another triangle's edge, and an edge of the wall that no hole reaches stays whole, so that a
// neighbour that shares its two corners meets it without a gap.
func Wall(corner Vector, basis Basis, w, h, thickness float64, holes []Hole) Mesh {
	cuts := clip(holes, w, h)
	sheet := Mesh{}
	if len(cuts) == 0 {
		sheet = Mesh{Positions: []Vector{{0, 0, 0}, {w, 0, 0}, {w, h, 0}, {0, h, 0}}}
		sheet.quad(0, 1, 2, 3)
	} else {
		sheet = pierced(w, h, cuts)
	}
	if thickness > 0 {
		sheet = extruded(sheet, thickness)
	}
	return sheet.Transform(basis, corner, 1)
}

// clip returns the parts of the holes inside the wall.
func clip(holes []Hole, w, h float64) []Hole {
	var inside []Hole
	for _, o := range holes {
		x0, x1 := max(0, o.X), min(w, o.X+o.W)
		y0, y1 := max(0, o.Y), min(h, o.Y+o.H)
		if x1 > x0 && y1 > y0 {
			inside = append(inside, Hole{x0, y0, x1 - x0, y1 - y0})
		}
	}
	return inside
}

// pierced returns the rectangle w by h less the cuts, in the plane z = 0.
func pierced(w, h float64, cuts []Hole) Mesh {
	var xs, ys []float64
	for _, o := range cuts {
		xs = append(xs, o.X, min(w, o.X+o.W))
		ys = append(ys, o.Y, min(h, o.Y+o.H))
	}
	g := grid{xs: distinct(xs), ys: distinct(ys), vertex: map[[2]float64]int32{}}
	for i := range len(g.xs) - 1 {
		for j := range len(g.ys) - 1 {
			if !g.open(i, j, cuts) {
				g.mesh.quad(g.at(g.xs[i], g.ys[j]), g.at(g.xs[i+1], g.ys[j]), g.at(g.xs[i+1], g.ys[j+1]), g.at(g.xs[i], g.ys[j+1]))
			}
		}
	}
	g.fans(w, h)
	return g.mesh
}

// distinct returns the values sorted, each once.
func distinct(v []float64) []float64 {
	sort.Float64s(v)
	kept := v[:1]
	for _, x := range v[1:] {
		if x != kept[len(kept)-1] {
			kept = append(kept, x)
		}
	}
	return kept
}

// grid is the mesh being cut, over the lines of all holes.
type grid struct {
	xs, ys []float64
	vertex map[[2]float64]int32 // looked up, never ranged over
	mesh   Mesh
}

// at returns the vertex at x, y.
func (g *grid) at(x, y float64) int32 {
	if v, ok := g.vertex[[2]float64{x, y}]; ok {
		return v
	}
	v := int32(len(g.mesh.Positions))
	g.vertex[[2]float64{x, y}] = v
	g.mesh.Positions = append(g.mesh.Positions, Vector{x, y, 0})
	return v
}

// open reports whether a hole covers cell i, j.
func (g *grid) open(i, j int, cuts []Hole) bool {
	x, y := (g.xs[i]+g.xs[i+1])/2, (g.ys[j]+g.ys[j+1])/2
	for _, o := range cuts {
		if x > o.X && x < o.X+o.W && y > o.Y && y < o.Y+o.H {
			return true
		}
	}
	return false
}

// fans fills from the grid's outline to the wall's edges: one trapezium a side, whose inner edge has the grid's points
// and whose outer edge is whole.
func (g *grid) fans(w, h float64) {
	x0, x1, y0, y1 := g.xs[0], g.xs[len(g.xs)-1], g.ys[0], g.ys[len(g.ys)-1]
	a, b, c, d := g.at(0, 0), g.at(w, 0), g.at(w, h), g.at(0, h)
	var bottom, right, top, left []int32
	for i, x := range g.xs {
		back := g.xs[len(g.xs)-1-i]
		bottom, top = append(bottom, g.at(back, y0)), append(top, g.at(x, y1))
	}
	for j, y := range g.ys {
		back := g.ys[len(g.ys)-1-j]
		right, left = append(right, g.at(x1, back)), append(left, g.at(x0, y))
	}
	if y0 > 0 {
		g.fan(a, b, bottom)
	}
	if x1 < w {
		g.fan(b, c, right)
	}
	if y1 < h {
		g.fan(c, d, top)
	}
	if x0 > 0 {
		g.fan(d, a, left)
	}
}

// fan fills between the outer edge a to b and the inner points, which run from beside b to beside a.
func (g *grid) fan(a, b int32, inner []int32) {
	g.mesh.Triangles = append(g.mesh.Triangles, [3]int32{a, b, inner[0]})
	for i := 1; i < len(inner); i++ {
		g.mesh.Triangles = append(g.mesh.Triangles, [3]int32{a, inner[i-1], inner[i]})
	}
}

// extruded returns the flat sheet as the front of a closed solid of the given thickness behind it (against z).
func extruded(sheet Mesh, thickness float64) Mesh {
	n := int32(len(sheet.Positions))
	solid := Mesh{Positions: append([]Vector(nil), sheet.Positions...), Triangles: append([][3]int32(nil), sheet.Triangles...)}
	for _, p := range sheet.Positions {
		solid.Positions = append(solid.Positions, p.Sub(Vector{0, 0, thickness}))
	}
	inner := map[[2]int32]bool{} // looked up, never ranged over
	for _, t := range sheet.Triangles {
		solid.Triangles = append(solid.Triangles, [3]int32{t[0] + n, t[2] + n, t[1] + n})
		for k := range 3 {
			inner[[2]int32{t[k], t[(k+1)%3]}] = true
		}
	}
	for _, t := range sheet.Triangles {
		for k := range 3 {
			if a, b := t[k], t[(k+1)%3]; !inner[[2]int32{b, a}] {
				solid.quad(a, a+n, b+n, b)
			}
		}
	}
	return solid
}
