package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

func cosine(cd float64) photometry.Distribution { return photometry.Cosine(unit.Candela(cd)) }
func unitStop(x float64) unit.Stop              { return unit.Stop(x) }

// Direct light against formulas: inverse square and cosine law, discs and rectangles (configuration factors of
// [Howell2010], B-4 and B-13), mostly exact for one sample a place.
func TestDirectLight(t *testing.T) {
	point1000 := point(vec{Z: 3}, 1000)
	var floor []scene.Receiver
	for x := 0.0; x <= 4; x++ {
		floor = append(floor, flatAt(vec{X: x}, geometry.Up))
	}
	below := func(h float64) scene.Receiver { return flatAt(vec{Z: -h}, geometry.Up) }
	disc := matt(vec{}, down, 1000, scene.Form{Shape: scene.Disc, Radius: 0.5})
	panel := matt(vec{}, down, 2000, scene.Form{Shape: scene.Panel, Width: 1.2, Height: 0.9})
	off := vec{X: 1, Z: -1.5}
	for _, k := range []known{
		// I h/d³
		{name: "point over a floor", scene: scenery(nil, point1000), ask: floor, within: 1e-4, sure: 1e-6,
			want: []float64{111.111, 94.8683, 64.0039, 39.2837, 24.0000}},
		// I cos/d²
		{name: "point and a wall", scene: scenery(nil, point(vec{Z: 2.8}, 5000)), within: 1e-4, sure: 1e-6, want: []float64{268.806, 282.646},
			ask: []scene.Receiver{flatAt(vec{X: 4, Z: 1.5}, vec{X: -1}), flatAt(vec{X: 4, Z: 1.5}, vec{X: -4, Z: 1.3})}},
		// πL r²/(r²+h²)
		{name: "disc on its axis", scene: scenery(nil, disc), ask: []scene.Receiver{below(1), below(2), below(5)}, within: 1e-5, sure: 1e-3,
			want: []float64{628.319, 184.800, 31.1049}},
		// F = ½[1−(Z−2R²)/√(Z²−4R²)], πL of it
		{name: "disc off its axis", scene: scenery(nil, disc), ask: []scene.Receiver{flatAt(vec{X: 1, Z: -2}, geometry.Up)}, within: 1e-5, sure: 1e-3,
			want: []float64{0.0391823 * math.Pi * 1000}},
		// four quarters of B-4 on the axis; quadrature off it
		{name: "soft panel", scene: scenery(nil, panel), within: 1e-5, sure: 1e-3, want: []float64{824.103, 534.701, 463.697},
			ask: []scene.Receiver{below(1.5), flatAt(off, off.Neg()), flatAt(off, geometry.Up)}},
	} {
		k.run(t)
	}
}
