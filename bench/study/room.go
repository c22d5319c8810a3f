// Package study holds the room that the benchmarks of layers and pictures share, and the clock they read.
package study

import (
	"fmt"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

type vec = geometry.Vector

func grey(rho float64) (b spectrum.Band) {
	for i := range b {
		b[i] = rho
	}
	return b
}

func board(centre, z vec, w, h float64, o scene.Optics) scene.Surface {
	return surface(geometry.Rectangle(centre, geometry.About(z.Unit()), w, h), o)
}

func surface(m geometry.Mesh, o scene.Optics) scene.Surface {
	return scene.Surface{Mesh: m, Optics: o, Cloth: -1, Opening: -1}
}

func spotlight(at, z vec, beam photometry.Distribution) scene.Emitter {
	return scene.Emitter{Kind: scene.Lamp, Centre: at, Basis: geometry.About(z.Unit()), Beam: beam}
}

// closedRoom is a box seen from inside, of one reflectance.
func closedRoom(size vec, rho float64) []scene.Surface {
	x, y, z := size.X, size.Y, size.Z
	side := func(c, n vec, w, h float64) scene.Surface { return board(c, n, w, h, scene.Matt(grey(rho))) }
	return []scene.Surface{
		side(vec{X: x / 2, Y: y / 2}, geometry.Up, x, y),
		side(vec{X: x / 2, Y: y / 2, Z: z}, geometry.Up.Neg(), x, y),
		side(vec{X: x / 2, Y: 0, Z: z / 2}, vec{Y: 1}, x, z),
		side(vec{X: x / 2, Y: y, Z: z / 2}, vec{Y: -1}, x, z),
		side(vec{X: 0, Y: y / 2, Z: z / 2}, vec{X: 1}, y, z),
		side(vec{X: x, Y: y / 2, Z: z / 2}, vec{X: -1}, y, z),
	}
}

// Room returns the benchmark room: 6 × 5 × 2.8 m, reflectance 0.5, a one-pane window with an overcast sky and ground
// outside; a 12° beam from 8 m onto a white frame outside the window, a 26° beam onto muslin, a 60° beam through full
// grid, a bulb in a shade; ten points spread over the room.
func Room() *scene.Scene {
	s := &scene.Scene{}
	size := vec{X: 6, Y: 5, Z: 2.8}
	walls := closedRoom(size, 0.5)
	// the far wall has the window
	wall := geometry.Wall(vec{X: 0, Y: 5}, geometry.Basis{X: vec{X: 1}, Y: geometry.Up, Z: vec{Y: -1}}, 6, 2.8, 0, []geometry.Hole{{X: 2.2, Y: 0.9, W: 1.6, H: 1.2}})
	walls[3].Mesh = wall
	s.Surfaces = walls
	window := geometry.Rectangle(vec{X: 3, Y: 5, Z: 1.5}, geometry.About(vec{Y: -1}), 1.6, 1.2)
	s.Openings = []scene.Opening{{Name: "window", Centre: vec{X: 3, Y: 5, Z: 1.5}, U: vec{X: 0.8}, V: vec{Z: 0.6}, Gel: scene.Clear}}
	s.Surfaces = append(s.Surfaces, scene.Surface{Name: "window", Mesh: window, Optics: scene.Optics{Panes: 1, PaneClarity: 0.98}, Cloth: -1, Opening: 0})
	ground := board(vec{X: 3, Y: 105, Z: -0.3}, geometry.Up, 200, 199, scene.Matt(grey(0.2)))
	s.Surfaces = append(s.Surfaces, ground)
	cloth := func(name string, at, z vec, side float64, o scene.Optics) {
		s.Cloths = append(s.Cloths, name)
		f := board(at, z, side, side, o)
		f.Name, f.Cloth = name, len(s.Cloths)-1
		s.Surfaces = append(s.Surfaces, f)
	}
	cloth("white frame", vec{X: 4.5, Y: 7.5, Z: 1.8}, vec{X: -0.5, Y: -1}, 2.4, scene.Optics{ReflectFront: grey(0.8)})
	cloth("muslin", vec{X: 0.5, Y: 2.5, Z: 1.4}, vec{X: 1}, 2.4, scene.Optics{ReflectFront: grey(0.55), ReflectBack: grey(0.55), Transmit: grey(0.22)})
	cloth("full grid", vec{X: 4.5, Y: 1, Z: 1.5}, vec{X: -0.6, Y: 1}, 1.2, scene.Optics{ReflectFront: grey(0.65), ReflectBack: grey(0.65), Transmit: grey(0.22)})
	lamp := func(name string, at, to vec, cd, beam, r float64) {
		e := spotlight(at, to.Sub(at), photometry.Bell(unit.Candela(cd), unit.Degree(beam)))
		e.Name, e.Source, e.Form.Radius = name, name, r
		s.Emitters = append(s.Emitters, e)
	}
	lamp("spot outside", vec{X: 0.5, Y: 14.2, Z: 2.5}, vec{X: 4.5, Y: 7.5, Z: 1.8}, 560000, 12, 0.125)
	lamp("onto muslin", vec{X: 3.8, Y: 2.2, Z: 1.8}, vec{X: 0.5, Y: 2.5, Z: 1.4}, 250000, 26, 0.15)
	lamp("through grid", vec{X: 5.1, Y: 0.15, Z: 1.6}, vec{X: 4.5, Y: 1, Z: 1.5}, 50000, 60, 0.125)
	s.Emitters = append(s.Emitters, scene.Emitter{Name: "bulb", Source: "bulb", Kind: scene.Lamp, Centre: vec{X: 5.2, Y: 4, Z: 1.3},
		Basis: geometry.About(geometry.Up), Form: scene.Form{Shape: scene.Globe, Radius: 0.03}, Luminance: 400 / (3.14159265 * 4 * 3.14159265 * 0.03 * 0.03)})
	shade := geometry.Cylinder(0.15, 0.24, 48).Transform(geometry.Basis{X: vec{X: 1}, Y: vec{Y: 1}, Z: vec{Z: 1}}, vec{X: 5.2, Y: 4, Z: 1.18}, 1)
	s.Surfaces = append(s.Surfaces, surface(shade, scene.Optics{ReflectFront: grey(0.5), ReflectBack: grey(0.5), Transmit: grey(0.4)}))
	s.Emitters = append(s.Emitters, scene.Emitter{Name: "sky", Source: "sky", Kind: scene.Sky, Overcast: true})
	for i := range 10 {
		at := vec{X: 1.2 + 0.9*float64(i%5), Y: 1.6 + 1.7*float64(i/5), Z: 1.1 + 0.08*float64(i)}
		n := vec{X: float64(i%3) - 1, Y: float64(i%2) - 0.4, Z: 0.3}.Unit()
		s.Receivers = append(s.Receivers, scene.Receiver{Name: fmt.Sprint("point ", i), Kind: scene.Dome, Position: at, Normal: n})
	}
	return s
}

// Levels dims the sources to what a set-up would have, the sky in cd/m² of its zenith.
var Levels = map[string]float64{"spot outside": 0.2, "onto muslin": 0.02, "through grid": 0.05, "bulb": 1, "sky": 1500}
