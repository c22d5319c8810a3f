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

func disc(radius float64) scene.Form     { return scene.Form{Shape: scene.Disc, Radius: radius} }
func panel(w, h float64) scene.Form      { return scene.Form{Shape: scene.Panel, Width: w, Height: h} }
func below(depth float64) scene.Receiver { return flatAt(vec{Z: -depth}, geometry.Up) }

// Direct light against formulas: inverse square and cosine law, discs and rectangles (configuration factors of
// [HOWELL], B-4, B-5 and B-13), mostly exact for one sample a place.
func TestDirectLight(t *testing.T) {
	point1000 := point(vec{Z: 3}, 1000)
	var floor []scene.Receiver
	for x := 0.0; x <= 4; x++ {
		floor = append(floor, flatAt(vec{X: x}, geometry.Up))
	}
	round := matt(vec{}, down, 1000, disc(0.5))
	soft := matt(vec{}, down, 2000, panel(1.2, 0.9))
	off := vec{X: 1, Z: -1.5}
	for _, k := range []known{
		// I h/d³
		{name: "point over a floor", scene: scenery(nil, point1000), ask: floor, within: 1e-4, sure: 1e-6,
			want: []float64{111.111, 94.8683, 64.0039, 39.2837, 24.0000}},
		// I cos/d²
		{name: "point and a wall", scene: scenery(nil, point(vec{Z: 2.8}, 5000)), within: 1e-4, sure: 1e-6, want: []float64{268.806, 282.646},
			ask: []scene.Receiver{flatAt(vec{X: 4, Z: 1.5}, vec{X: -1}), flatAt(vec{X: 4, Z: 1.5}, vec{X: -4, Z: 1.3})}},
		// πL r²/(r²+h²)
		{name: "disc on its axis", scene: scenery(nil, round), ask: []scene.Receiver{below(1), below(2), below(5)}, within: 1e-5, sure: 1e-3,
			want: []float64{628.319, 184.800, 31.1049}},
		// F = ½[1−(Z−2R²)/√(Z²−4R²)], πL of it
		{name: "disc off its axis", scene: scenery(nil, round), ask: []scene.Receiver{flatAt(vec{X: 1, Z: -2}, geometry.Up)}, within: 1e-5, sure: 1e-3,
			want: []float64{0.0391823 * math.Pi * 1000}},
		// four quarters of B-4 on the axis; quadrature off it
		{name: "soft panel", scene: scenery(nil, soft), within: 1e-5, sure: 1e-3, want: []float64{824.103, 534.701, 463.697},
			ask: []scene.Receiver{below(1.5), flatAt(off, off.Neg()), flatAt(off, geometry.Up)}},
		// a source that faces away, and a receptor that does
		{name: "backs", scene: scenery(nil, soft), within: 0, sure: 0, want: []float64{0, 0},
			ask: []scene.Receiver{flatAt(vec{Z: 1.5}, down), flatAt(vec{Z: -1.5}, down)}},
	} {
		k.run(t)
	}
}

// The factors of an element to a rectangle, corner in front (B-4) and upright on the element's plane (B-5).
func TestElementToRectangle(t *testing.T) {
	for _, row := range []struct {
		name              string
		w, h, d, parallel float64 // m, F
		upright           float64
	}{
		{"1 x 1 at 1", 1, 1, 1, 0.138532, 0.0557342},
		{"0.5 x 0.5 at 2", 0.5, 0.5, 2, 0.0183694, math.NaN()},
		{"2 x 1 at 3", 2, 1, 3, 0.0522678, math.NaN()},
		{"0.6 x 0.4 at 1.5", 0.6, 0.4, 1.5, 0.0294707, math.NaN()},
		{"0.75 x 1.2 at 2", 0.75, 1.2, 2, math.NaN(), 0.0146406},
		{"2 x 1.5 at 3", 2, 1.5, 3, math.NaN(), 0.0170430},
	} {
		centre := vec{X: row.w / 2, Y: -row.d, Z: row.h / 2}
		s := scenery(nil, matt(centre, vec{Y: 1}, 1/math.Pi, panel(row.w, row.h)))
		k := known{name: row.name, scene: s, within: 3e-6, sure: 1e-3}
		if !math.IsNaN(row.parallel) {
			k.ask, k.want = append(k.ask, flatAt(vec{}, vec{Y: -1})), append(k.want, row.parallel)
		}
		if !math.IsNaN(row.upright) {
			k.ask, k.want = append(k.ask, flatAt(vec{}, geometry.Up)), append(k.want, row.upright)
		}
		k.run(t)
	}
}

// How far the inverse square errs near a matt source: true level over L·A/d², square sources at so many sides and discs
// at so many diameters. The trade's "five times" rule is the fourth column (common practice, no source).
func TestInverseSquareNearASource(t *testing.T) {
	const wide = 0.4
	far := func(area float64) func(n float64) float64 {
		return func(n float64) float64 { return area / (n * wide * n * wide) }
	}
	for _, row := range []struct {
		name  string
		form  scene.Form
		point func(n float64) float64
		want  []float64
	}{
		{"square", panel(wide, wide), far(wide * wide), []float64{0.7523, 0.9233, 0.9643, 0.9869, 0.9967}},
		{"disc", disc(wide / 2), far(math.Pi * wide * wide / 4), []float64{0.8, 0.9412, 0.9730, 0.9901, 0.9975}},
	} {
		k := known{name: row.name, scene: scenery(nil, matt(vec{}, down, 1, row.form)), within: 1e-4, sure: 1e-3}
		for i, n := range []float64{1, 2, 3, 5, 10} {
			k.ask = append(k.ask, below(n*wide))
			k.want = append(k.want, row.want[i]*row.point(n))
		}
		k.run(t)
	}
}

// Means over a surface: the factor between two rectangles ([HOWELL] C-11 opposed, C-14 with a common edge) and between
// coaxial discs (C-41) is the mean level on the second over πL of the first. The receiving nodes are Gauss's.
func TestSurfaceToSurface(t *testing.T) {
	for _, row := range []struct {
		name   string
		from   scene.Form
		at, z  vec
		to     sheet
		want   float64
		within float64 // of the nodes
	}{
		{"opposed 1 x 1 at 1", panel(1, 1), vec{}, down, sheetFacing(vec{Z: -1}, geometry.Up, 1, 1), 0.1998249, 1e-5},
		{"opposed 2 x 1 at 1", panel(2, 1), vec{}, down, sheetFacing(vec{Z: -1}, geometry.Up, 2, 1), 0.2858754, 1e-5},
		{"opposed 1 x 0.5 at 1", panel(1, 0.5), vec{}, down, sheetFacing(vec{Z: -1}, geometry.Up, 1, 0.5), 0.1166537, 1e-5},
		{"opposed 4 x 3 at 1", panel(4, 3), vec{}, down, sheetFacing(vec{Z: -1}, geometry.Up, 4, 3), 0.5876161, 1e-3},
		{"edge to edge 1 and 1 by 1", panel(1, 1), vec{Y: 0.5}, geometry.Up, sheetFacing(vec{Z: 0.5}, vec{Y: 1}, 1, 1), 0.2000438, 5e-3},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := scenery(nil, matt(row.at, row.z, 1/math.Pi, row.from))
			var weights []float64
			s.Receivers, weights = row.to.receivers(8, 0)
			got, stderr := meanLevel(s, traced(t, s, 1, 0.003, 1<<14), weights)
			compare(t, "mean", got, stderr, row.want, row.within)
			if stderr > 1e-3*row.want {
				t.Errorf("standard error %.2g of the mean", stderr/row.want)
			}
		})
	}
}

func TestDiscToDisc(t *testing.T) {
	x, w := nodes(8)
	for _, row := range []struct {
		name         string
		r1, r2, h, f float64 // F from 1 to 2
	}{
		{"1 to 1 at 1", 1, 1, 1, 0.3819660},
		{"1 to 1 at 2", 1, 1, 2, 0.1715729},
		{"0.5 to 1 at 1", 0.5, 1, 1, 0.4688711},
		{"0.3 to 0.15 at 1", 0.3, 0.15, 1, 0.0202579},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := scenery(nil, matt(vec{}, down, 1/math.Pi, disc(row.r1)))
			for i := range x { // rings of equal share: the mean over the disc is the integral over r²
				s.Receivers = append(s.Receivers, flatAt(vec{X: row.r2 * math.Sqrt(x[i]), Z: -row.h}, geometry.Up))
			}
			got, stderr := meanLevel(s, traced(t, s, 1, 0.002, 1<<14), w)
			compare(t, "mean", got, stderr, row.f*row.r1*row.r1/(row.r2*row.r2), 1e-5)
		})
	}
}
