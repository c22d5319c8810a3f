package photometry

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gloam/internal/geometry"
)

// distributions are all kinds there are, among them tables of each type and symmetry.
func distributions(t *testing.T) map[string]Distribution {
	all := map[string]Distribution{
		"bell 12":     Bell(560000, 12),
		"bell 60":     Bell(50000, 60),
		"bell 170":    Bell(100, 170),
		"cosine":      Cosine(4000),
		"cosine 20":   CosinePower(10, 20),
		"isotropic":   Isotropic(7),
		"cut sky":     open(t, "s02_lambert_down.ies").Table,
		"quadrant":    open(t, "s03_quadrant_0_90.ies").Table,
		"bilateral":   open(t, "s04_bilateral_0_180.ies").Table,
		"whole":       open(t, "s05_full_360.ies").Table,
		"about C90":   open(t, "s06_bilateral_90_270_lm63_1995.ies").Table,
		"type B":      open(t, "s12_typeB.ies").Table,
		"type B half": open(t, "s13_typeB_half.ies").Table,
		"type A":      open(t, "s14_typeA.ies").Table,
		"isym 3":      open(t, "e04_isym3.ldt").Table,
		"isym 0":      open(t, "e05_isym0.ldt").Table,
	}
	// A spot with a dark middle and a dark ring: cells without light must never be drawn.
	ring, err := ReadFile("ring", strings.NewReader(
		"TILT=NONE\n1 -1 1 7 2 2 2 0 0 0\n1 1 0\n-90 -10 0 10 20 50 90\n-5 5\n0 0 0 9 0 0 0\n0 0 0 4 0 0 0\n"))
	if err != nil {
		t.Fatal(err)
	}
	all["ring"] = ring.Table
	return all
}

// Bins of a direction: azimuth, and x with sin²(θ/2) = x⁴, so that narrow beams fall into several.
const azimuths, rings = 8, 12

func bin(d geometry.Vector) int {
	a := math.Atan2(d.Y, d.X)/(2*math.Pi) + 0.5
	x := math.Sqrt(math.Sqrt(math.Max(0, (1-d.Z)/2)))
	if d.Z > 0.9 { // 1−z has no digits left close to the axis
		x = math.Sqrt(math.Sin(offAxis(d) / 2))
	}
	return min(int(a*azimuths), azimuths-1)*rings + min(int(x*rings), rings-1)
}

// overBins integrates f over each bin by midpoints; whole is the sum.
func overBins(f func(geometry.Vector) float64) (bins []float64, whole float64) {
	const na, nx = 30, 160
	bins = make([]float64, azimuths*rings)
	for b := range bins {
		for i := range na {
			for j := range nx {
				a := (float64(b/rings) + (float64(i)+0.5)/na) / azimuths
				x := (float64(b%rings) + (float64(j)+0.5)/nx) / rings
				h := x * x * x * x
				d := around(2*math.Sqrt(h*(1-h)), 1-2*h, a-0.5)
				bins[b] += f(d) * 16 * math.Pi * x * x * x / (na * nx * azimuths * rings)
			}
		}
		whole += bins[b]
	}
	return bins, whole
}

// The same number three ways: flux by formula, by quadrature of At and by sampling. PDF integrates to one, Sample
// follows it (χ² at one in ten thousand), and returns the density PDF gives.
func TestSamplingFollowsItsDensity(t *testing.T) {
	const n = 100_000
	for name, d := range distributions(t) {
		t.Run(name, func(t *testing.T) {
			_, flux := overBins(d.At)
			near(t, "flux by quadrature", flux, float64(d.Flux()), 2e-3)
			expected, whole := overBins(d.PDF)
			near(t, "integral of the density", whole, 1, 5e-3)

			random := rand.New(rand.NewPCG(1, 2))
			counts := make([]float64, len(expected))
			sum, sum2 := 0.0, 0.0
			for range n {
				v, pdf := d.Sample(random.Float64(), random.Float64())
				if !(pdf > 0) || math.Abs(v.Length()-1) > 1e-12 {
					t.Fatalf("direction %v with density %g", v, pdf)
				}
				if p := d.PDF(v); math.Abs(p-pdf) > 1e-6*pdf && !nearCellEdge(d, v) {
					t.Fatalf("at %v: density %g, PDF %g", v, pdf, p)
				}
				w := d.At(v) / pdf
				sum, sum2 = sum+w, sum2+w*w
				counts[bin(v)]++
			}
			mean := sum / n
			deviation := math.Sqrt(math.Max(0, sum2/n-mean*mean) / n)
			if math.Abs(mean-float64(d.Flux())) > 4*deviation+1e-9*mean {
				t.Errorf("flux by sampling %g ± %g, want %g", mean, deviation, d.Flux())
			}
			chiSquare(t, counts, expected, n/whole)
		})
	}
}

// nearCellEdge reports whether rounding may have moved v into the neighbouring cell.
func nearCellEdge(d Distribution, v geometry.Vector) bool {
	t, ok := d.(*Table)
	if !ok {
		return false
	}
	_, _, s, share, inside := t.grid.cell(t.kind.angles(v))
	edge := func(x float64) bool { return x < 1e-9 || x > 1-1e-9 }
	return !inside || edge(s) || edge(share)
}

// chiSquare compares counts with n times the expected shares; bins that expect under 10 are taken together.
func chiSquare(t *testing.T, counts, shares []float64, n float64) {
	t.Helper()
	chi, freedom := 0.0, -1.0
	restCount, rest := 0.0, 0.0
	for b, share := range shares {
		e := share * n
		if e < 10 {
			restCount, rest = restCount+counts[b], rest+e
			continue
		}
		chi += (counts[b] - e) * (counts[b] - e) / e
		freedom++
	}
	if rest > 0 {
		chi += (restCount - rest) * (restCount - rest) / math.Max(rest, 10)
		freedom++
	}
	// Wilson and Hilferty's approximation of the χ² quantile at 1e-4.
	k := 2 / (9 * freedom)
	if limit := freedom * math.Pow(1-k+3.719*math.Sqrt(k), 3); chi > limit {
		t.Errorf("χ² %.1f with %g degrees of freedom, limit %.1f", chi, freedom, limit)
	}
}

// u and v at their ends give directions and densities that are numbers.
func TestSampleAtTheEnds(t *testing.T) {
	most := math.Nextafter(1, 0)
	for name, d := range distributions(t) {
		for _, u := range []float64{0, most} {
			for _, v := range []float64{0, most} {
				w, pdf := d.Sample(u, v)
				if !w.Finite() || math.Abs(w.Length()-1) > 1e-12 || math.IsNaN(pdf) || math.IsInf(pdf, 0) || pdf < 0 {
					t.Errorf("%s at %g, %g: %v with density %g", name, u, v, w, pdf)
				}
			}
		}
	}
}
