package photometry

import (
	"math"
	"strings"
	"testing"

	"gloam/internal/unit"
)

// Two rows can be solved by hand: √(16000/4000) = (7+s)/(3+s) gives s = 1 m and I = 16000·4² cd.
func TestFitTwoRowsByHand(t *testing.T) {
	peak, offset, rms, err := FitDistances([]LuxAt{{3, 16000}, {7, 4000}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "peak", float64(peak), 256000, 1e-6)
	near(t, "offset", float64(offset), 1, 1e-6)
	near(t, "rms", float64(rms), 0, 1e-6)
}

// Rows made from a known source come back, whether it lies behind the front, in it, or as an image before it; rounding
// to three digits as data sheets do leaves a hundredth of a stop.
func TestFitFindsTheSource(t *testing.T) {
	for _, c := range []struct{ peak, offset float64 }{{560000, 6}, {250000, 0.12}, {9000, 0}, {40000, -0.5}, {3e6, 60}} {
		var exact, rounded []LuxAt
		for _, d := range []float64{2, 3, 5, 7, 10, 15} {
			e := c.peak / ((d + c.offset) * (d + c.offset))
			digit := math.Pow(10, math.Floor(math.Log10(e))-2)
			exact = append(exact, LuxAt{unit.Metre(d), unit.Lux(e)})
			rounded = append(rounded, LuxAt{unit.Metre(d), unit.Lux(math.Round(e/digit) * digit)})
		}
		peak, offset, rms, err := FitDistances(exact)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "peak", float64(peak), c.peak, 1e-5)
		if math.Abs(float64(offset)-c.offset) > 1e-5*(1+math.Abs(c.offset)) || rms > 1e-6 {
			t.Errorf("offset %g m, rms %g, want %g m", offset, rms, c.offset)
		}
		peak, offset, rms, err = FitDistances(rounded)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range exact {
			e := float64(peak) / math.Pow(float64(r.Distance+offset), 2)
			if math.Abs(math.Log2(e/float64(r.Lux))) > 0.01 || rms > 0.01 {
				t.Errorf("rounded rows at %g m: %g lx, want %g; rms %g", r.Distance, e, r.Lux, rms)
			}
		}
	}
}

// One row is the plain inverse square: 250,000 cd give 10,000 lx at 5 m. Repeated readings are averaged in stops.
func TestFitOneDistance(t *testing.T) {
	peak, offset, _, err := FitDistances([]LuxAt{{5, 10000}})
	if err != nil || offset != 0 {
		t.Fatalf("offset %g, %v", offset, err)
	}
	near(t, "one row", float64(peak), 250000, 1e-12)
	peak, _, rms, err := FitDistances([]LuxAt{{5, 10000}, {5, 12100}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "two readings", float64(peak), 275000, 1e-12)
	near(t, "rms", float64(rms), math.Log2(1.21)/2, 1e-9)
}

func TestFitRefusesRubbish(t *testing.T) {
	for name, c := range map[string]struct {
		rows []LuxAt
		want string
	}{
		"nothing":             {nil, "no level"},
		"no distance":         {[]LuxAt{{0, 100}, {2, 50}}, "row 1: the distance is not possible"},
		"negative level":      {[]LuxAt{{1, 100}, {2, -50}}, "row 2: the level is not possible"},
		"not a number":        {[]LuxAt{{1, unit.Lux(math.NaN())}}, "the level is not possible"},
		"infinite":            {[]LuxAt{{unit.Metre(math.Inf(1)), 5}}, "the distance is not possible"},
		"the same everywhere": {[]LuxAt{{1, 100}, {2, 100}, {3, 100}}, "do not fall off"},
		"brighter far away":   {[]LuxAt{{1, 100}, {2, 200}}, "do not fall off"},
		"falls like a cliff":  {[]LuxAt{{1, 1e6}, {2, 1}}, "do not fall off"},
		"two units mixed":     {[]LuxAt{{2, 10000}, {4, 2500}, {8, 58}, {16, 156}}, "do not lie on one curve"},
	} {
		if _, _, _, err := FitDistances(c.rows); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}
