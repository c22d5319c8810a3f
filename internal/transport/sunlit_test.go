package transport

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
)

// patchScene is a window of 0.9 x 1.2 m in a wall, sill 2.4 m, sun from +y.
func patchScene(optics scene.Optics, emitters ...scene.Emitter) *scene.Scene {
	wall, opening := hole(vec{Z: 3}, vec{Y: -1}, 0.9, 1.2, optics)
	s := scenery(wall, emitters...)
	s.Openings = []scene.Opening{opening}
	return s
}

// The straight part of a traced sun is what the ray finds, wherever no edge of a shadow is near: on and off the patch of a
// window, and by open sky.
func TestSunlitAgreesWithLayers(t *testing.T) {
	toward := vec{Y: math.Sqrt(3), Z: 1}.Unit()
	s := patchScene(glass(1), sun(toward))
	for i, place := range []struct{ x, y float64 }{{0, 5.2}, {0.4, 5}, {0.5, 5}, {0, 4}, {0, -3}} {
		s.Receivers = append(s.Receivers, flatAt(vec{X: place.x, Y: -place.y}, geometry.Up), domeAt(vec{X: place.x, Y: -place.y}, toX))
		for k := range 2 {
			s.Receivers[2*i+k].Name = fmt.Sprint(i, " ", k)
		}
	}
	layers := traced(t, s, 1, 1e-3, 1024)
	rays := NewSunrays(s, nil)
	lit := 0
	for i := range s.Receivers {
		share, opening := rays.Sunlit(&s.Receivers[i], toward)
		direct := layers.Points[i].Direct[s.Column(0, opening)]
		if math.Abs(mean(&share)-mean(&direct)) > 2e-3 {
			t.Errorf("receiver %d: ray %.4f, layers %.4f", i, mean(&share), mean(&direct))
		}
		if mean(&share) > 0 {
			lit++
		}
	}
	if lit != 6 {
		t.Errorf("%d receivers in the sun, want 6", lit)
	}
}

// Away from the sun, below the horizon and at a spot there is nothing straight.
func TestSunlitNowhere(t *testing.T) {
	rays := NewSunrays(scenery(nil), nil)
	up, spot := flatAt(vec{}, geometry.Up), flatAt(vec{}, geometry.Up)
	spot.Kind = scene.Spot
	for name, c := range map[string]struct {
		r      scene.Receiver
		toward geometry.Vector
	}{
		"behind": {flatAt(vec{}, vec{X: -1}), vec{X: 0.6, Z: 0.8}}, "below": {flatAt(vec{}, toX), vec{X: 0.8, Z: -0.6}}, "spot": {spot, geometry.Up},
	} {
		if share, _ := rays.Sunlit(&c.r, c.toward); mean(&share) != 0 {
			t.Errorf("%s: %g", name, mean(&share))
		}
	}
	if share, opening := rays.Sunlit(&up, geometry.Up); mean(&share) != 1 || opening != -1 {
		t.Errorf("in the open: %g by %d", mean(&share), opening)
	}
}

// BenchmarkSunlit is one look at the sun out of a room by its window, past a thousand pieces that hang in the room.
func BenchmarkSunlit(b *testing.B) {
	s := patchScene(glass(1))
	for i := range 1000 {
		p := numeric.Path(1, uint32(i))
		x, y := p.Next()
		z, _ := p.Next()
		piece := geometry.Rectangle(vec{X: 8*x - 4, Y: -6 * y, Z: 3 * z}, geometry.About(geometry.Up), 0.1, 0.1)
		s.Surfaces = append(s.Surfaces, scene.Surface{Mesh: piece, Optics: scene.Matt(flat(0.5)), Cloth: -1, Opening: -1})
	}
	rays := NewSunrays(s, nil)
	receiver := flatAt(vec{Y: -5.2}, geometry.Up)
	for b.Loop() {
		rays.Sunlit(&receiver, vec{Y: math.Sqrt(3) / 2, Z: 0.5})
	}
}
