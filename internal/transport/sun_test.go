package transport

import (
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
