package transport

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// onMesh returns flat receptors on a mesh's front or back, n × n nodes a triangle, and the area that each stands for.
func onMesh(m geometry.Mesh, n int, back bool) (r []scene.Receiver, areas []float64) {
	x, w := nodes(n)
	for k := range m.Triangles {
		a, b, c := m.Corners(k)
		normal := b.Sub(a).Cross(c.Sub(a))
		if back {
			normal = normal.Neg()
		}
		for i := range x {
			for j := range x { // from corner a a share x of the way to the opposite side
				at := a.Mul(1-x[i]).AddMul(x[i]*(1-x[j]), b).AddMul(x[i]*x[j], c)
				r = append(r, flatAt(at, normal))
				r[len(r)-1].Name = fmt.Sprint(m.Positions[0], k, i, j, back)
				areas = append(areas, normal.Length()*w[i]*w[j]*x[i])
			}
		}
	}
	return r, areas
}

// meanIndirect is meanLevel without the direct part.
func meanIndirect(s *scene.Scene, l *Layers, weights []float64) (mean, stderr float64) {
	mean, stderr = meanLevel(s, l, weights)
	var direct, sum float64
	for i := range l.Points {
		direct += weights[i] * dot(l.Points[i].Direct, evenly(s))
		sum += weights[i]
	}
	return mean - direct/sum, stderr
}

// A closed room of even reflectance holds Φ/(S(1−ρ)) on average, whatever its form and wherever its lamp: what comes in
// is absorbed. Φ/S of it is direct; the rest is smoother and so the sharper test.
func TestEnclosureBalance(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	four := closedRoom(vec{X: 4, Y: 4, Z: 4}, 0.5, 0.5, 0.5)
	spot := photometry.Bell(50000, 30)
	inward := geometry.Mesh{Positions: []vec{{}, {X: 6}, {Y: 8}, {Z: 10}}, Triangles: [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 1}, {1, 3, 2}}}
	tetrahedron := func(rho float64) []scene.Surface { return []scene.Surface{surface(inward, scene.Matt(grey(rho)))} }
	for _, row := range []struct {
		name  string
		walls []scene.Surface
		lamp  scene.Emitter
		flux  float64 // lm
		rho   float64
	}{
		{"cube, point aside", four, point(vec{X: 3, Y: 1.2, Z: 2.9}, 10000/(4*math.Pi)), 10000, 0.5},
		{"cube, spot", four, spotlight(vec{X: 1, Y: 1, Z: 3}, vec{X: 1, Y: 1, Z: -1}, spot), float64(spot.Flux()), 0.5},
		{"cube, panel flush with its ceiling", four, matt(vec{X: 2, Y: 1.5, Z: 4}, down, 1000, panel(1, 0.8)), 1000 * math.Pi * 0.8, 0.5},
		{"tetrahedron, globe", tetrahedron(0.8), globe(vec{X: 1.2, Y: 1.4, Z: 1.5}, 0.3, 1000), 4 * math.Pi * math.Pi * 1000 * 0.3 * 0.3, 0.8},
		{"tetrahedron, tube", tetrahedron(0.3), tube(vec{X: 1.6, Y: 1.4, Z: 1.5}, 0.05, 1.2, 1000), 2 * math.Pi * math.Pi * 1000 * 0.05 * 1.2, 0.3},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := scenery(row.walls, row.lamp)
			var areas []float64
			area := 0.0
			for _, w := range row.walls {
				r, a := onMesh(w.Mesh, 4, false)
				s.Receivers, areas = append(s.Receivers, r...), append(areas, a...)
				area += w.Mesh.Area()
			}
			got, stderr := meanIndirect(s, traced(t, s, 1, 1, 1024), areas)
			compare(t, "mean", got, stderr, row.flux*row.rho/(area*(1-row.rho)), 3e-3) // of the nodes
			if stderr > 0.015*got {
				t.Errorf("standard error %.2g of the mean", stderr/got)
			}
		})
	}
}

// The same with the direct light, where it is even enough: 10,000 lm in a cube of 4 m and ρ 0.5 give 208.333 lx, half
// of them direct.
func TestIntegratingCube(t *testing.T) {
	s := scenery(closedRoom(vec{X: 4, Y: 4, Z: 4}, 0.5, 0.5, 0.5), point(vec{X: 2, Y: 2, Z: 2}, 10000/(4*math.Pi)))
	wall := sheetFacing(vec{X: 2, Y: 2}, geometry.Up, 4, 4)
	var weights []float64
	s.Receivers, weights = wall.receivers(12, 0)
	got, stderr := meanLevel(s, traced(t, s, 1, 1, 1024), weights)
	compare(t, "mean", got, stderr, 208.333, 5e-4) // of the nodes
	if stderr > 5e-3*got {
		t.Errorf("standard error %.2g of the mean", stderr/got)
	}
}

// An integrating sphere: the wall gets Φ·M/S besides the direct light, M = ρ/(1−ρ), evenly. Of 1,000 lm in R = 0.5 m at
// ρ = 0.9 that is 2,864.79 lx; the mesh's own area takes the place of 4πR² (0.3 % less).
func TestIntegratingSphere(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	const r, lumen = 0.5, 1000.0
	ball := geometry.Sphere(r, 32, 64)
	for _, row := range []struct{ rho, multiplier float64 }{{0.2, 0.25}, {0.5, 1}, {0.8, 4}, {0.9, 9}, {0.98, 49}} {
		t.Run(fmt.Sprint("reflectance ", row.rho), func(t *testing.T) {
			s := scenery([]scene.Surface{surface(ball, scene.Matt(grey(row.rho)))}, point(vec{X: 0.2, Z: -0.1}, lumen/(4*math.Pi)))
			var alike []float64 // any places will do
			for k := 0; k < len(ball.Triangles); k += 127 {
				a, b, c := ball.Corners(k)
				s.Receivers = append(s.Receivers, flatAt(a.Add(b).Add(c).Mul(1.0/3), b.Sub(a).Cross(c.Sub(a)).Neg()))
				alike = append(alike, 1)
			}
			got, stderr := meanIndirect(s, traced(t, s, 1, 1, 1024), alike)
			compare(t, "mean", got, stderr, lumen*row.multiplier/ball.Area(), 1e-3) // for the facets
			if stderr > 0.02*got {
				t.Errorf("standard error %.2g of the mean", stderr/got)
			}
		})
	}
	if got := lumen * 9 / ball.Area(); math.Abs(got/2864.79-1) > 0.004 {
		t.Errorf("the mesh's area is off: %v lx", got)
	}
}

// A room of 4 x 4 x 3 m, floor 0.2, ceiling 0.7, walls 0.5, lit by a matt panel of 1 x 1 m and 3,000 cd/m² in the middle
// of the ceiling. Totals by radiosity on squares of 0.5, 0.25 and 0.125 m, extrapolated (0.1 to 0.15 %), outside this
// program; direct parts by B-4 and B-5 of [HOWELL]. The panel hides the ceiling behind it, which a lamp does not here,
// so it is let into the ceiling.
func TestRadiosityRoom(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	room := closedRoom(vec{X: 4, Y: 4, Z: 3}, 0.2, 0.7, 0.5)
	s := scenery(room, matt(vec{X: 2, Y: 2, Z: 3}, down, 3000, panel(1, 1)))
	s.Receivers = []scene.Receiver{
		flatAt(vec{X: 2, Y: 2}, geometry.Up), flatAt(vec{X: 1, Y: 1}, geometry.Up),
		flatAt(vec{X: 0, Y: 2, Z: 1.5}, toX), flatAt(vec{X: 0.5, Y: 0.5, Z: 3}, down),
	}
	layers := traced(t, s, 1, 0.0015, 1<<19)
	for i, want := range []struct{ total, direct float64 }{{420.3, 321.449}, {318.6, 220.052}, {319.3, 228.882}, {86.7, 0}} {
		got, stderr := layers.Points[i].Level(evenly(s))
		compare(t, s.Receivers[i].Name, got, stderr, want.total, 0.0015)
		compare(t, s.Receivers[i].Name+" direct", dot(layers.Points[i].Direct, evenly(s)), 0, want.direct, 1e-3)
		if stderr > 0.0015*got {
			t.Errorf("standard error %.2g", stderr/got)
		}
	}
}
