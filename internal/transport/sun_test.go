package transport

import (
	"context"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// The sun gives 1 lx square-on, the cosine of it elsewhere.
func TestSun(t *testing.T) {
	s := scenery(nil, sun(vec{X: math.Sqrt(3), Z: 1}))      // 30° up, toward +x
	known{name: "open", scene: s, within: 5e-5, sure: 1e-4, // what a path would have to hit by chance
		ask: []scene.Receiver{flatAt(vec{}, vec{X: math.Sqrt(3), Z: 1}), flatAt(vec{}, geometry.Up), flatAt(vec{}, toX),
			flatAt(vec{}, vec{Y: 1, Z: 1}), flatAt(vec{}, vec{X: -1}), domeAt(vec{}, toX)},
		want: []float64{1, 0.5, math.Sqrt(3) / 2, math.Sqrt2 / 4, 0, (1 + math.Sqrt(3)/2) / 2}}.run(t)
}

// A sun patch: through a window of 0.9 x 1.2 m, sill 2.4 m, sun 30° up and square to the wall, the floor is lit 2.08 m
// long and 0.9 m wide, from 2.4/tan 30° = 4.16 m on; glass takes its share at 30° incidence.
func TestSunPatch(t *testing.T) {
	for _, row := range []struct {
		name   string
		optics scene.Optics
		passes float64
	}{{"open", scene.Void(), 1}, {"one pane", glass(1), 0.915957}} {
		wall, opening := hole(vec{Z: 3}, vec{Y: -1}, 0.9, 1.2, row.optics)
		s := scenery(wall, sun(vec{Y: math.Sqrt(3), Z: 1}))
		s.Openings = []scene.Opening{opening}
		first, last := 2.4*math.Sqrt(3), 3.6*math.Sqrt(3) // 2.08 m between
		k := known{name: row.name, scene: s, within: 1e-4, sure: 1e-3}
		for _, place := range []struct{ x, y, lit float64 }{
			{0, (first + last) / 2, 1}, {0, first + 0.1, 1}, {0, last - 0.1, 1}, {0.4, 5, 1},
			{0, first - 0.1, 0}, {0, last + 0.1, 0}, {0.5, 5, 0},
		} {
			k.ask = append(k.ask, flatAt(vec{X: place.x, Y: -place.y}, geometry.Up))
			k.want = append(k.want, place.lit*0.5*row.passes)
		}
		k.run(t)
		p := &traced(t, s, 1, 1e-3, 1024).Points[0]
		if by, _ := p.LevelOf(evenly(s), s.Column(0, 0)); by == 0 {
			t.Error("the patch is not in the window's column")
		}
	}
}

// The patch that the sun makes by a window lights the room: light paths from the window find the same as plain path tracing,
// which meets the patch by chance, and are much surer for as many paths.
func TestSunPatchLightsTheRoom(t *testing.T) {
	s := scenery(closedRoom(vec{X: 6, Y: 5, Z: 2.8}, 0.5, 0.5, 0.5), scene.Emitter{Name: "sun", Kind: scene.Sun, Toward: vec{X: -0.3, Y: -1, Z: 0.8}.Unit()})
	s.Surfaces[2].Mesh = geometry.Wall(vec{}, geometry.Basis{X: vec{X: 1}, Y: geometry.Up, Z: vec{Y: -1}}, 6, 2.8, 0, []geometry.Hole{{X: 2.4, Y: 1, W: 1.2, H: 1.2}})
	pane := board(vec{X: 3, Z: 1.6}, vec{Y: 1}, 1.2, 1.2, scene.Optics{Panes: 1, PaneClarity: 0.98})
	pane.Opening = 0
	s.Surfaces = append(s.Surfaces, pane)
	s.Openings = []scene.Opening{{Name: "window", Centre: vec{X: 3, Z: 1.6}, U: vec{X: -0.6}, V: vec{Z: 0.6}}}
	s.Receivers = []scene.Receiver{flatAt(vec{X: 1, Y: 4, Z: 1.4}, vec{X: 1, Y: -1}), domeAt(vec{X: 5, Y: 2, Z: 1}, geometry.Up)}
	trace := func(plain bool, most int) *Layers {
		return must(Trace(context.Background(), s, Request{Seed: 3, MostPaths: most, Weights: evenly(s), Plain: plain}))
	}
	plain, joined := trace(true, 1<<16), trace(false, 1<<13)
	for i := range s.Receivers {
		a, errorA := plain.Points[i].Level(evenly(s))
		b, errorB := joined.Points[i].Level(evenly(s))
		compare(t, s.Receivers[i].Name, b, math.Hypot(errorA, errorB), a, 0)
		if !(errorB*errorB*4 < errorA*errorA*8) {
			t.Errorf("%s: error %.2g of %.4g with light paths, %.2g without for eight times as many", s.Receivers[i].Name, errorB, b, errorA)
		}
	}
}
