package spectrum

import (
	"math"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// within fails the test when got is not want to the tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.8g, want %.8g ± %.2g", what, got, want, tolerance)
	}
}

func TestPlanckRadiance(t *testing.T) {
	// Planck's law with c2 = 1.4388e-2 m·K, computed with colour-science 0.4.6.
	for _, c := range []struct{ kelvin, nm, want float64 }{
		{2856, 555, 2.584392e11}, {3200, 650, 1.017753e12}, {5600, 450, 2.146307e13},
	} {
		within(t, "radiance", radiance(c.nm, c.kelvin)/c.want, 1, 1e-4)
	}
	within(t, "Planck at 560 nm", Planck(3200).At(560), 1, 1e-12)
	within(t, "Planck at 650 nm", Planck(3200).At(650), radiance(650, 3200)/radiance(560, 3200), 1e-12)
}

const luminousEfficacy = 683.002 // lm/W at 540 THz in the observer's scale [CIE15]

func TestLuminanceOfFreezingPlatinum(t *testing.T) {
	// The candela of 1948: a black body at the freezing point of platinum, 2042 K, has 60 cd/cm².
	perNM := 1e-9 * radiance(560, 2042)
	within(t, "luminance at 2042 K", luminousEfficacy*perNM*luminance(Planck(2042)), 5.985e5, 0.005*5.985e5)
}

func TestLuminousEfficacyOfRadiation(t *testing.T) {
	// lm/W over 380 to 780 nm, computed independently from the CIE tables.
	for _, c := range []struct {
		name string
		want float64
	}{{"A", 155.8}, {"D50", 207.4}, {"D65", 204.8}} {
		curve, _ := Illuminant(c.name)
		watts := 0.0
		curve.cells(func(_, value, width float64, _ int) { watts += value * width })
		within(t, c.name, luminousEfficacy*luminance(curve)/watts/c.want, 1, 0.003)
	}
	// Monochromatic light, lux from 1 W/m²: V(λ) of the CIE at 555, 450 and 650 nm.
	for _, c := range []struct{ nm, want float64 }{{555, 683.0}, {450, 25.95}, {650, 73.1}} {
		line, err := Power([]float64{c.nm - 0.5, c.nm, c.nm + 0.5}, []float64{0, 2, 0})
		if err != nil {
			t.Fatal(err)
		}
		within(t, "line", luminousEfficacy*luminance(line)/c.want, 1, 0.005)
	}
}

func TestDaylightLocus(t *testing.T) {
	// CIE 15, the locus of daylight; values computed with colour-science 0.4.6.
	for _, c := range []struct{ kelvin, x, y float64 }{
		{6504, 0.31271, 0.32912}, {5503, 0.33243, 0.34755}, {4000, 0.38234, 0.38377}, {10000, 0.27880, 0.29197},
	} {
		x, y := daylightLocus(c.kelvin)
		within(t, "x", x, c.x, 1e-5)
		within(t, "y", y, c.y, 1e-5)
	}
}

func TestDaylightFactors(t *testing.T) {
	// M1 and M2 as CIE 15 rounds them; values computed with colour-science 0.4.6.
	for _, c := range []struct{ kelvin, m1, m2 float64 }{
		{5000, -1.040, 0.367}, {5503, -0.785, -0.198}, {6504, -0.294, -0.689}, {7504, 0.144, -0.760},
	} {
		m1, m2 := daylightFactors(c.kelvin)
		within(t, "M1", math.Round(m1*1000)/1000, c.m1, 1.001e-3)
		within(t, "M2", math.Round(m2*1000)/1000, c.m2, 1.001e-3)
	}
}

func TestDaylightIsTheTabulatedIlluminant(t *testing.T) {
	// CIE 15: a D illuminant's true temperature is its nominal one times 1.4388/1.4380. The published tables, two
	// decimals of 100, are the measure.
	for _, c := range []struct {
		name    string
		nominal float64
	}{{"D50", 5000}, {"D55", 5500}, {"D65", 6500}, {"D75", 7500}} {
		computed, err := Daylight(unit.Kelvin(c.nominal * 1.4388 / 1.4380))
		if err != nil {
			t.Fatal(err)
		}
		table, _ := Illuminant(c.name)
		for nm := 380.0; nm <= 780; nm += 5 {
			within(t, c.name, 100*computed.At(nm), table.At(nm), 0.12)
		}
	}
}

func TestDaylightOutsideItsRange(t *testing.T) {
	for _, k := range []unit.Kelvin{3999, 25001, unit.Kelvin(math.NaN())} {
		if _, err := Daylight(k); fault.Code(err) != 1 {
			t.Errorf("daylight of %v K: %v", k, err)
		}
	}
}

func TestSky(t *testing.T) {
	for _, c := range []struct {
		name   string
		kelvin unit.Kelvin
		want   Curve
		code   int
	}{
		{"low sun is a black body", 2300, Planck(2300), 0},
		{"open sky is daylight", 7000, phase(7000), 0},
		{"bluer than daylight goes is held", 40000, phase(25000), 0},
		{"no temperature", 0, Curve{}, 1},
	} {
		got, err := Sky(c.kelvin)
		if fault.Code(err) != c.code {
			t.Errorf("%s: error %v", c.name, err)
		}
		within(t, c.name, got.At(450)*c.want.At(600), c.want.At(450)*got.At(600), 1e-9)
	}
	if _, err := Sky(40000); err == nil {
		t.Error("a held sky comes without a note")
	}
}

// A dial turned by a kelvin must not jump: the mixes join their ends smoothly.
func TestBlendsAreContinuous(t *testing.T) {
	for k := 3400.0; k < 6000; k += 25 {
		for _, ends := range [][2]float64{{3500, 4000}, {4000, 5500}} {
			a := shadeOf(LightOf(blend(unit.Kelvin(k), ends[0], ends[1])))
			b := shadeOf(LightOf(blend(unit.Kelvin(k+1), ends[0], ends[1])))
			if d := math.Hypot(a.x-b.x, a.y-b.y); d > 3e-4 {
				t.Errorf("from %g K to one more with ends %v: xy jumps by %.5f", k, ends, d)
			}
		}
	}
}

func TestBiColourStandsWhereStated(t *testing.T) {
	for _, k := range []unit.Kelvin{1000, 1800, 2700, 3200, 4000, 4500, 5600, 6500, 10000, 25000} {
		for _, duv := range []float64{-0.02, -0.005, 0, 0.005, 0.02} {
			if k < 2700 && duv != 0 {
				continue // some have no light at all; see below
			}
			l, err := BiColour(k, duv)
			if err != nil {
				t.Errorf("%v K, Duv %g: %v", k, duv, err)
				continue
			}
			w := white(float64(k), duv)
			s := shadeOf(l)
			within(t, "x", s.x, w[0]/(w[0]+w[1]+w[2]), 1e-9)
			within(t, "y", s.y, w[1]/(w[0]+w[1]+w[2]), 1e-9)
			within(t, "sum of Y", s.level, 1, 1e-12)
			for b := range l.Y {
				if l.X[b] < 0 || l.Y[b] < 0 || l.Z[b] < 0 {
					t.Errorf("%v K, Duv %g: band %d is negative", k, duv, b)
				}
			}
		}
	}
}

func TestBiColourRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		kelvin unit.Kelvin
		duv    float64
	}{
		{"too red", 900, 0}, {"too blue", 30000, 0}, {"too pink", 3200, -0.03}, {"greener than light can be", 1500, 0.02},
		{"no number", unit.Kelvin(math.NaN()), 0}, {"no Duv", 3200, math.NaN()},
	} {
		if _, err := BiColour(c.kelvin, c.duv); fault.Code(err) != 1 {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestIlluminantNames(t *testing.T) {
	names := IlluminantNames()
	if len(names) != 63 {
		t.Errorf("%d sources, want 63", len(names))
	}
	for _, n := range names {
		c, ok := Illuminant(n)
		if !ok || luminance(c) <= 0 {
			t.Errorf("illuminant %s is dark or missing", n)
		}
	}
	if _, ok := Illuminant("nm"); ok {
		t.Error("the wavelength column passes for an illuminant")
	}
}
