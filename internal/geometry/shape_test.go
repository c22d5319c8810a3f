package geometry

import (
	"math"
	"math/rand"
	"testing"
)

// open returns how many edges of the mesh have no partner that runs the other way between the same two points: 0 for a
// closed surface. Vertices count as one where their positions are equal.
func open(m Mesh) int {
	edges := map[[2]Vector]int{}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		for _, e := range [][2]Vector{{a, b}, {b, c}, {c, a}} {
			edges[e]++
			edges[[2]Vector{e[1], e[0]}]--
		}
	}
	count := 0
	for _, n := range edges {
		if n > 0 {
			count += n
		}
	}
	return count
}

func TestClosedShapesAreClosedAndHoldTheirVolume(t *testing.T) {
	turned := About(Vector{1, 2, -0.5}.Unit()).Roll(0.3)
	// Polygons inscribed in circles: the area of a regular n-gon is n/2·r²·sin(2π/n).
	gon := func(n int, r float64) float64 { return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n)) }
	for _, c := range []struct {
		name            string
		mesh            Mesh
		volume, area    float64
		volumeTolerance float64
	}{
		{"box", Box(Vector{1, 2, 3}, turned, Vector{1, 2, 4}), 8, 28, 1e-12},
		{"cylinder", Cylinder(0.5, 2, 24), 2 * gon(24, 0.5), 2*gon(24, 0.5) + 2*24*math.Sin(math.Pi/24), 1e-12},
		{"sphere", Sphere(2, 64, 128), 4. / 3 * math.Pi * 8, 4 * math.Pi * 4, 0.08},
		{"wall", Wall(Vector{1, 0, 0}, turned, 4, 2.5, 0.2, nil), 2, 2*10 + 0.2*13, 1e-12},
		{"wall with a window and a door", Wall(Vector{}, turned, 4, 2.5, 0.2, []Hole{{1, 1, 1, 1}, {3, 0, 0.8, 2}}),
			0.2 * (10 - 1 - 1.6), 2*(10-2.6) + 0.2*(13+4+4), 1e-12},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := c.mesh.Check(); err != nil {
				t.Fatal(err)
			}
			if n := open(c.mesh); n != 0 {
				t.Errorf("%d edges are open", n)
			}
			if v := c.mesh.Volume(); math.Abs(v-c.volume) > c.volumeTolerance {
				t.Errorf("volume %v, want %v", v, c.volume)
			}
			if a := c.mesh.Area(); math.Abs(a-c.area) > c.volumeTolerance {
				t.Errorf("area %v, want %v", a, c.area)
			}
		})
	}
}

func TestFlatShapesFaceTheBasisZ(t *testing.T) {
	b := About(Vector{-1, 3, 0.7}.Unit())
	for _, c := range []struct {
		name string
		mesh Mesh
		area float64
	}{
		{"rectangle", Rectangle(Vector{1, 1, 1}, b, 2, 3), 6},
		{"disc", Disc(Vector{1, 1, 1}, b, 2, 6), 6 * math.Sqrt(3)},
		{"wall without thickness", Wall(Vector{}, b, 3, 2, 0, []Hole{{1, 0.5, 1, 1}}), 5},
	} {
		if math.Abs(c.mesh.Area()-c.area) > 1e-12 {
			t.Errorf("%s: area %v, want %v", c.name, c.mesh.Area(), c.area)
		}
		for i := range c.mesh.Triangles {
			p, q, r := c.mesh.Corners(i)
			if n := q.Sub(p).Cross(r.Sub(p)).Unit(); !near(n, b.Z) {
				t.Errorf("%s: triangle %d faces %v, want %v", c.name, i, n, b.Z)
			}
		}
	}
}

func TestSmoothNormalsFaceTheSideOfTheirTriangles(t *testing.T) {
	for name, m := range map[string]Mesh{
		"sphere": Sphere(1, 8, 16), "cylinder": Cylinder(1, 2, 16), "vault": Vault(4, 6, 1, 16), "person": Person{Height: 1.75}.Mesh(),
	} {
		for i, tri := range m.Triangles {
			a, b, c := m.Corners(i)
			n := b.Sub(a).Cross(c.Sub(a))
			for _, v := range tri {
				if m.Normals[v].Dot(n) < 0 {
					t.Fatalf("%s: a normal of triangle %d faces the other way", name, i)
				}
				if l := m.Normals[v].Length(); l != 0 && math.Abs(l-1) > 1e-12 {
					t.Fatalf("%s: a normal of triangle %d has length %v", name, i, l)
				}
			}
		}
	}
}

func TestVaultClosesOverFourWallsAndTwoLunettes(t *testing.T) {
	const w, l, rise, n = 4.0, 6.0, 1.2, 12
	m := Vault(w, l, rise, n)
	// Below the springing: a floor 2 m down and walls whose upper edges are whole.
	x, y := Vector{1, 0, 0}, Vector{0, 1, 0}
	m.Append(Rectangle(Vector{0, 0, -2}, Basis{x, y, Up}, w, l))
	m.Append(Rectangle(Vector{0, -l / 2, -1}, Basis{x.Neg(), Up, y}, w, 2))
	m.Append(Rectangle(Vector{0, l / 2, -1}, Basis{x, Up, y.Neg()}, w, 2))
	m.Append(Rectangle(Vector{-w / 2, 0, -1}, Basis{y, Up, x}, l, 2))
	m.Append(Rectangle(Vector{w / 2, 0, -1}, Basis{y.Neg(), Up, x.Neg()}, l, 2))
	m.Append(Lunette(w, rise, n).Transform(Basis{x, y, Up}, Vector{0, -l / 2, 0}, 1))
	m.Append(Lunette(w, rise, n).Transform(Basis{x.Neg(), y.Neg(), Up}, Vector{0, l / 2, 0}, 1))
	if n := open(m); n != 0 {
		t.Errorf("%d edges are open", n)
	}
	if m.Volume() >= 0 {
		t.Errorf("volume %v: the room does not face inward", m.Volume())
	}
	if a := Vault(4, 6, 2, 400).Area(); math.Abs(a-2*math.Pi*6) > 1e-3 {
		t.Errorf("a half-round vault has %v m², want %v", a, 2*math.Pi*6)
	}
}

func TestWallWithAnyHolesIsClosedAndLosesTheirArea(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for range 300 {
		// Whole decimetres, so that holes often touch, overlap and reach over the edge. The area is counted by cells.
		var holes []Hole
		var cut [40][30]bool
		for range rnd.Intn(5) {
			x, y, w, h := rnd.Intn(44)-4, rnd.Intn(34)-4, rnd.Intn(15), rnd.Intn(15)
			holes = append(holes, Hole{float64(x) / 8, float64(y) / 8, float64(w) / 8, float64(h) / 8})
			for i := max(x, 0); i < min(x+w, 40); i++ {
				for j := max(y, 0); j < min(y+h, 30); j++ {
					cut[i][j] = true
				}
			}
		}
		cells := 0
		for i := range cut {
			for j := range cut[i] {
				if !cut[i][j] {
					cells++
				}
			}
		}
		want := float64(cells) / 64
		m := Wall(Vector{}, world, 5, 3.75, 0.25, holes)
		if open(m) != 0 || math.Abs(m.Volume()-want*0.25) > 1e-9 {
			t.Fatalf("holes %v: %d open edges, volume %v, want %v", holes, open(m), m.Volume(), want*0.25)
		}
		if sheet := Wall(Vector{}, world, 5, 3.75, 0, holes); math.Abs(sheet.Area()-want) > 1e-9 {
			t.Fatalf("holes %v: area %v, want %v", holes, sheet.Area(), want)
		}
	}
}

func TestWallKeepsTheEdgesWholeThatNoHoleReaches(t *testing.T) {
	m := Wall(Vector{}, world, 5, 3, 0, []Hole{{1, 1, 1, 1}, {3, 0, 1, 2}})
	for _, p := range m.Positions {
		if (p.X == 0 || p.X == 5) && p.Y != 0 && p.Y != 3 || p.Y == 3 && p.X != 0 && p.X != 5 {
			t.Errorf("vertex %v cuts an edge of the wall", p)
		}
	}
}

func TestPersonIsClosedAndOfHumanSize(t *testing.T) {
	for _, c := range []struct {
		name       string
		person     Person
		crown      float64
		volume     [2]float64 // m³; a body of 60 to 95 kg and about 1 kg/dm³, from memory
		frontReach float64
	}{
		{"standing", Person{Height: 1.75}, 1.75, [2]float64{0.060, 0.095}, 0.1},
		{"seated", Person{Height: 1.75, Face: 1.2}, 1.2 + 0.075*1.75, [2]float64{0.050, 0.095}, 0.5},
	} {
		m := c.person.Mesh()
		low, high := m.Bounds()
		if n := open(m); n != 0 {
			t.Errorf("%s: %d edges are open", c.name, n)
		}
		if math.Abs(low.Z) > 1e-9 || math.Abs(high.Z-c.crown) > 0.002 {
			t.Errorf("%s: from %v to %v m high, want 0 to %v", c.name, low.Z, high.Z, c.crown)
		}
		if v := m.Volume(); v < c.volume[0] || v > c.volume[1] {
			t.Errorf("%s: volume %v m³", c.name, v)
		}
		if high.Y < c.frontReach {
			t.Errorf("%s: reaches %v m forward", c.name, high.Y)
		}
	}
}

func TestSkinPointsLieWhereTheyAreNamed(t *testing.T) {
	p := Person{Height: 1.75, Face: 1.6}
	front, left, right, hair := p.Front(), p.Left(), p.Right(), p.Hair()
	if math.Abs(front.X) > 1e-9 || front.Y < 0.07 || front.Y > 0.13 || front.Z != 1.6 {
		t.Errorf("front of the face at %v", front)
	}
	if !(left.X < -0.04 && left.Y > 0.03 && left.Z == 1.6) || math.Abs(left.X+right.X) > 1e-3 || math.Abs(left.Y-right.Y) > 1e-3 {
		t.Errorf("left of the face at %v, right at %v", left, right)
	}
	if math.Abs(hair.Z-(1.6+0.075*1.75)) > 0.003 {
		t.Errorf("crown at %v", hair)
	}
}
