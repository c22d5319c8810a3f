package transport

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// An open sky: Eh is π of a uniform one and 7π/9 of the overcast one; on a vertical plane without ground half of it and
// 0.396177 of it, (π/4+2/3)·(2/3)/(7π/9). Closed forms of (1+2 sin γ)/3 [CIES011].
func TestOpenSky(t *testing.T) {
	ask := []scene.Receiver{flatAt(vec{}, geometry.Up), flatAt(vec{}, toX), flatAt(vec{}, tilted(200)), flatAt(vec{}, down)}
	known{name: "uniform", scene: scenery(nil, sky(false)), ask: ask, within: 1e-5, sure: 2e-3,
		want: []float64{math.Pi, math.Pi / 2, math.Pi / 2, 0}}.run(t)
	known{name: "overcast", scene: scenery(nil, sky(true)), ask: ask, within: 1e-5, sure: 2e-3,
		want: []float64{7 * math.Pi / 9, 0.396177 * 7 * math.Pi / 9, 0.396177 * 7 * math.Pi / 9, 0}}.run(t)
}

// The overcast sky over a skyline, as seen by a vertical plane, in shares of Eh: all around at one elevation β, where
// ∫ is (2/3)·(γ/2 + sin 2γ/4 − (2/3)·cos³γ) from β up; and over a long wall before it, whose elevation falls to the
// sides, by quadrature here. (27 % at 25° is the planners' limit for the second.)
func TestSkyAboveAnObstruction(t *testing.T) {
	x, w := nodes(60)
	primitive := func(g float64) float64 { return 2.0 / 3 * (g/2 + math.Sin(2*g)/4 - 2.0/3*math.Pow(math.Cos(g), 3)) }
	for _, row := range []struct {
		name          string
		degrees, ring float64 // %
	}{{"10 degrees", 10, 34.09}, {"20 degrees", 20, 27.38}, {"25 degrees", 25, 23.79}, {"30 degrees", 30, 20.19}, {"45 degrees", 45, 10.32}} {
		tan := math.Tan(row.degrees * math.Pi / 180)
		var yard []scene.Surface
		const sides = 90
		for i := range sides {
			z := tilted(360 / sides * float64(i))
			yard = append(yard, board(z.Mul(-10).Add(vec{Z: 5 * tan}), z, 1, 10*tan, scene.Matt(grey(0))))
		}
		known{name: row.name + " all around", scene: scenery(yard, sky(true)), within: 1e-3, sure: 4e-3, // of the polygon
			ask: []scene.Receiver{flatAt(vec{}, toX)}, want: []float64{row.ring / 100 * 7 * math.Pi / 9}}.run(t)
		var street float64
		for i := range x {
			azimuth := math.Pi / 2 * x[i]
			g := math.Atan(tan * math.Cos(azimuth))
			street += math.Pi / 2 * w[i] * math.Cos(azimuth) * (primitive(math.Pi/2) - primitive(g))
		}
		long := board(vec{X: 10, Z: 5 * tan}, vec{X: -1}, 40000, 10*tan, scene.Matt(grey(0)))
		known{name: row.name + " along a street", scene: scenery([]scene.Surface{long}, sky(true)), within: 1e-4, sure: 4e-3,
			ask: []scene.Receiver{flatAt(vec{}, toX)}, want: []float64{street}}.run(t)
	}
}

// hole is a black plane of 40 x 40 m with a rectangular hole w x h, seen as an opening with the given optics, before a
// black box of 30 m.
func hole(centre, z vec, w, h float64, o scene.Optics) ([]scene.Surface, scene.Opening) {
	const big = 20.0
	box := surface(geometry.Box(centre.AddMul(15, z.Unit()), geometry.About(z.Unit()), vec{X: 30, Y: 30, Z: 30}), scene.Matt(grey(0)))
	box.Mesh.Triangles = slices.DeleteFunc(box.Mesh.Triangles, func(t [3]int32) bool { // open to the plane
		a, b, c := box.Mesh.Positions[t[0]], box.Mesh.Positions[t[1]], box.Mesh.Positions[t[2]]
		return b.Sub(a).Cross(c.Sub(a)).Dot(z) < -1
	})
	b := geometry.About(z.Unit())
	black := scene.Matt(grey(0))
	part := func(x, y, w, h float64) scene.Surface {
		return sheet{centre.AddMul(x, b.X).AddMul(y, b.Y), b, w, h}.surface(black)
	}
	side, end := (big+w/2)/2, (big+h/2)/2
	filling := sheet{centre, b, w, h}.surface(o)
	filling.Opening = 0
	return []scene.Surface{
		part(-side, 0, big-w/2, 2*big), part(side, 0, big-w/2, 2*big),
		part(0, -end, w, big-h/2), part(0, end, w, big-h/2), filling, box,
	}, scene.Opening{Name: "hole", Centre: centre, U: b.X.Mul(w / 2), V: b.Y.Mul(h / 2), Gel: scene.Clear}
}

// Windows in a black wall at y = 0, the receiver at height 0 and y = −d before their middle: sky components in per cent
// of the open Eh. Uniform sky 200·F (B-5 of [HOWELL], half the width); the overcast one and slanted glass by quadrature
// outside this program.
func TestSkyThroughAWindow(t *testing.T) {
	for _, row := range []struct {
		name              string
		w, sill, head     float64
		x, d              float64
		normal            vec
		optics            scene.Optics
		uniform, overcast float64 // %
	}{
		{"1 m inside", 2, 0, 1.5, 0, 1, geometry.Up, scene.Void(), 16.0579, 14.2510},
		{"2 m inside", 2, 0, 1.5, 0, 2, geometry.Up, scene.Void(), 5.06885, 3.87104},
		{"3 m inside", 2, 0, 1.5, 0, 3, geometry.Up, scene.Void(), 1.99226, 1.35605},
		{"4 m inside", 2, 0, 1.5, 0, 4, geometry.Up, scene.Void(), 0.94465, 0.59275},
		{"facing the window", 2, 0, 1.5, 0, 2, vec{Y: 1}, scene.Void(), 15.6784, 10.5304},
		{"small and high", 1.2, 0.2, 1.6, 0, 2, geometry.Up, scene.Void(), math.NaN(), 2.74054},
		{"aside", 1.2, 0.2, 1.6, 1, 2, geometry.Up, scene.Void(), math.NaN(), 1.94081},
		{"two panes", 1.2, 0.2, 1.6, 0, 2, geometry.Up, glass(2), math.NaN(), 2.31853},
		{"aside, two panes", 1.2, 0.2, 1.6, 1, 2, geometry.Up, glass(2), math.NaN(), 1.63448},
	} {
		wall, opening := hole(vec{Z: (row.sill + row.head) / 2}, vec{Y: -1}, row.w, row.head-row.sill, row.optics)
		s := scenery(wall, sky(false), sky(true))
		s.Openings = []scene.Opening{opening}
		s.Receivers = []scene.Receiver{flatAt(vec{X: row.x, Y: -row.d}, row.normal)}
		t.Run(row.name, func(t *testing.T) {
			p := &traced(t, s, 1, 2e-3, 1<<18).Points[0]
			for e, want := range []float64{row.uniform * math.Pi / 100, row.overcast * 7 * math.Pi / 900} {
				got, stderr := p.LevelOf(evenly(s), s.Column(e, 0))
				if !math.IsNaN(want) {
					compare(t, s.Emitters[e].Name, got, stderr, want, 2e-4)
				}
				if stderr > 2e-3*got {
					t.Errorf("standard error %.2g", stderr/got)
				}
				if by, _ := p.LevelOf(evenly(s), s.Column(e, -1)); by != 0 {
					t.Errorf("%v came in by no opening", by)
				}
			}
		})
	}
}

// A horizontal roof opening w x w at height h over the receiver: uniform 4·B-4 of [HOWELL]; overcast by quadrature.
func TestSkyThroughARoof(t *testing.T) {
	for _, row := range []struct {
		name                    string
		w, h, uniform, overcast float64 // m, %
	}{{"1 m at 2", 1, 2, 7.34776, 9.32521}, {"1 m at 3", 1, 3, 3.41068, 4.35898}, {"2 m at 3", 2, 3, 12.3318, 15.5100}} {
		roof, opening := hole(vec{Z: row.h}, down, row.w, row.w, scene.Void())
		for e, want := range []float64{row.uniform * math.Pi / 100, row.overcast * 7 * math.Pi / 900} {
			s := scenery(roof, sky(e == 1))
			s.Openings = []scene.Opening{opening}
			known{name: row.name + []string{", uniform", ", overcast"}[e], scene: s, within: 1e-4, sure: 1e-3, ask: []scene.Receiver{flatAt(vec{}, geometry.Up)}, want: []float64{want}}.run(t)
		}
	}
}

// A wide matt ground under a uniform sky adds ½ρ·Eh to a vertical plane and ρ·Eh to one that faces down. On snow: 0.85
// of 72,140 lx give 30,660 lx.
func TestGround(t *testing.T) {
	const rho = 0.85
	s := scenery([]scene.Surface{board(vec{}, geometry.Up, 4000, 4000, scene.Matt(grey(rho)))}, sky(false), sun(vec{X: -1, Z: 1}))
	at := vec{Z: 1}
	s.Receivers = []scene.Receiver{flatAt(at, toX), flatAt(at, down)}
	layers := traced(t, s, 1, 2e-3, 1<<19)
	sin := math.Sqrt2 / 2
	for i, wants := range [][]float64{{math.Pi/2 + rho*math.Pi/2, rho * sin / 2}, {rho * math.Pi, rho * sin}} {
		for e, want := range wants {
			got, stderr := layers.Points[i].LevelOf(evenly(s), s.Column(e, -1))
			compare(t, s.Receivers[i].Name+s.Emitters[e].Name, got, stderr, want, 1.5e-3) // for the ground's own edge
		}
	}
	stops(t, "snow", layersOf(s, layers, 1, 1)/sin/2*72140, 30660, 0.01)
}

func layersOf(s *scene.Scene, l *Layers, point, emitter int) float64 {
	level, _ := l.Points[point].LevelOf(evenly(s), s.Column(emitter, -1))
	return level
}

// Patches of a luminance of 1 are the uniform sky: found along the same paths, they sum to its very numbers, by every opening; and
// weighed by the overcast sky's luminance at their middles they are that sky but for what it changes inside a patch.
func TestSkyInPatches(t *testing.T) {
	s := twoWindows(true, true)
	s.Emitters = []scene.Emitter{named(sky(false), "uniform"), named(sky(true), "overcast")}
	whole := traced(t, s, 4, 1, 1<<12)
	s.Emitters = nil
	for k := range daylight.Patches {
		e := named(sky(false), fmt.Sprint("patch ", k))
		e.Patches = new([daylight.PatchCount]float64)
		e.Patches[k] = 1
		s.Emitters = append(s.Emitters, e)
	}
	parts := traced(t, s, 4, 1, 1<<12)
	for i, r := range s.Receivers {
		for o := -1; o < len(s.Openings); o++ {
			var uniform, overcast float64
			for k, p := range daylight.Patches {
				x := mean(&parts.Points[i].Response[s.Column(k, o)])
				uniform += x
				overcast += x * (1 + 2*p.Direction.Z) / 3
			}
			compare(t, r.Name+" uniform", uniform, 0, mean(&whole.Points[i].Response[s.Column(0, o)]), 1e-9)
			compare(t, r.Name+" overcast", overcast, 0, mean(&whole.Points[i].Response[s.Column(1, o)]), 0.03)
		}
	}
}

func named(e scene.Emitter, name string) scene.Emitter {
	e.Name = name
	return e
}
