package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// air is haze over all of a scene.
func air(extinction, albedo, forward float64) *scene.Haze {
	return &scene.Haze{Low: vec{X: -100, Y: -100, Z: -100}, High: vec{X: 100, Y: 100, Z: 100}, Extinction: extinction, Albedo: albedo, Forward: forward}
}

// Values of the formula of [HenyeyGreenstein1941] at g = 0.5, and its integral over all directions for others, which is 1.
func TestHenyeyGreenstein(t *testing.T) {
	for degrees, want := range map[float64]float64{0: 0.477465, 60: 0.0918882, 90: 0.0427058, 180: 0.0176839} {
		compare(t, "phase function", HenyeyGreenstein(math.Cos(degrees*math.Pi/180), 0.5), 0, want, 1e-5)
	}
	for _, g := range []float64{-0.9, -0.3, 0, 0.7, 0.95} {
		const n = 200000
		sum, mean := 0.0, 0.0
		for i := range n {
			cos := (2*float64(i)+1)/n - 1
			p := HenyeyGreenstein(cos, g) * 4 * math.Pi / n
			sum, mean = sum+p, mean+p*cos
		}
		compare(t, "integral", sum, 0, 1, 1e-5)
		compare(t, "mean cosine", mean, 0, g, 1e-5)
	}
}

// Light of a point source, a millimetre in radius, through haze: Beer and Lambert's e^(−σd) on the direct way, in a box that begins half way as well.
func TestHazeTakesLight(t *testing.T) {
	for _, row := range []struct {
		name         string
		sigma, d     float64
		low          float64 // where the haze begins
		want, within float64
	}{
		{"0.01 over 20 m", 0.01, 20, -100, 0.818731, 1e-4},
		{"0.05 over 10 m", 0.05, 10, -100, 0.606531, 1e-4},
		{"0.0782 over 25 m", 0.0782, 25, -100, 0.141564, 1e-4},
		{"0.05 over half of 20 m", 0.05, 20, 10, 0.606531, 1e-4},
	} {
		s := scenery(nil, point(vec{X: row.d}, 1000))
		s.Haze = air(row.sigma, 0, 0)
		s.Haze.Low.X = row.low
		known{name: row.name, scene: s, within: row.within, sure: 1e-3,
			ask: []scene.Receiver{flatAt(vec{}, toX)}, want: []float64{1000 / (row.d * row.d) * row.want}}.run(t)
	}
}

// What haze shows of a point source beside the line of sight: the single-scattering integral along 10 m, by quadrature.
func TestAirlight(t *testing.T) {
	for _, row := range []struct{ forward, want float64 }{{0, 1.623456}, {0.7, 1.385397}} {
		s := scenery([]scene.Surface{board(vec{X: 10}, vec{X: -1}, 40, 40, scene.Optics{})}, point(vec{X: 5, Z: 2}, 1000))
		s.Haze = air(0.02, 1, row.forward)
		known{name: "airlight", scene: s, within: 1e-4, sure: 5e-3, most: 1 << 18,
			ask: []scene.Receiver{{Name: "eye", Kind: scene.Spot, Normal: toX}}, want: []float64{row.want}}.run(t)
	}
}

// Haze that only turns light also lights a point: beside the straight light of a lamp, and on the side away from it, stands what
// single scattering gives by quadrature over the box.
func TestHazeLightsAPoint(t *testing.T) {
	const sigma, d = 0.02, 4.0
	s := scenery(nil, point(vec{X: d}, 1000))
	s.Haze = air(sigma, 1, 0)
	s.Haze.Low, s.Haze.High = vec{X: -3, Y: -3, Z: -3}, vec{X: 7, Y: 3, Z: 3}
	direct := 1000 / (d * d) * math.Exp(-sigma*d)
	known{name: "facing the lamp", scene: s, within: 5e-3, sure: 2e-3, most: 1 << 18,
		ask: []scene.Receiver{flatAt(vec{}, toX), flatAt(vec{}, toX.Neg())}, want: []float64{direct + veil(s, toX, sigma), veil(s, toX.Neg(), sigma)}}.run(t)
}

// veil is what haze in a box scatters, evenly all ways, from a point source of 1000 cd onto a flat receptor at the origin: the
// volume integral of E·σ/4π·cos/r², by the midpoint rule in spheres about the receptor, where 1/r² drops out.
func veil(s *scene.Scene, n vec, sigma float64) (sum float64) {
	const steps, turns, reach = 80, 96, 12.0
	lamp := s.Emitters[0].Centre
	b := geometry.About(n)
	for i := range steps {
		cos := (float64(i) + 0.5) / steps
		for j := range turns {
			way := b.Out(aboutUp(cos, 2*math.Pi*(float64(j)+0.5)/turns))
			for k := range 6 * steps {
				r := (float64(k) + 0.5) * reach / (6 * steps)
				at := way.Mul(r)
				if at.X < s.Haze.Low.X || at.X > s.Haze.High.X || math.Abs(at.Y) > 3 || math.Abs(at.Z) > 3 {
					break
				}
				q := lamp.Sub(at).Length()
				sum += 1000 / (q * q) * math.Exp(-sigma*(q+r)) * sigma / (4 * math.Pi) * cos * (2 * math.Pi / steps / turns) * reach / (6 * steps)
			}
		}
	}
	return sum
}

func aboutUp(cos, azimuth float64) vec {
	sin := math.Sqrt(1 - cos*cos)
	return vec{X: sin * math.Cos(azimuth), Y: sin * math.Sin(azimuth), Z: cos}
}
