package spectrum

import (
	"math"
	"slices"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

func TestMaterials(t *testing.T) {
	light := LightOf(d65)
	for _, name := range MaterialNames() {
		m, ok := Material(name)
		if !ok || m.Name != name || m.Source == "" {
			t.Errorf("%s: missing, misnamed or without a source", name)
			continue
		}
		within(t, name+" luminous", exact(d65, m.Curve).level, float64(m.Luminous), 1e-4)
		within(t, name+" luminous in bands", m.Band().Dot(light.Y), float64(m.Luminous), 2e-3*float64(m.Luminous))
		if low, high := slices.Min(m.value), slices.Max(m.value); low < 0 || high > 1 {
			t.Errorf("%s reflects from %g to %g", name, low, high)
		}
	}
	if _, ok := Material("mirror"); ok {
		t.Error("a mirror passes for a matt reflectance")
	}
}

// Where tones fall, in stops over an 18 % grey in the same light: common practice.
func TestTones(t *testing.T) {
	for _, c := range []struct {
		name      string
		low, high float64
	}{
		{"snow", 2.14, 2.34}, {"light skin", 0.5, 1.5}, {"medium skin", 0, 0.5}, {"deep skin", -1.6, -0.5}, {"black cloth", -2.6, -2.2},
		{"grass", -1.2, -0.3}, {"sand", 0.95, 1.3}, {"concrete", -0.1, 1.6}, {"asphalt", -2.2, -0.58}, {"grey card", 0, 0},
	} {
		m, _ := Material(c.name)
		if stops := math.Log2(float64(m.Luminous) / 0.18); stops < c.low || stops > c.high {
			t.Errorf("%s falls at %+.2f stops, want %+.2f to %+.2f", c.name, stops, c.low, c.high)
		}
	}
	dry, _ := Material("asphalt")
	wet, _ := Material("wet asphalt")
	within(t, "wet asphalt under dry", math.Log2(float64(wet.Luminous/dry.Luminous)), -1, 0.1)
}

func TestComplexionOfTheCIE(t *testing.T) {
	// CIE 13.3 sample 13 reflects 0.571 of D65, as computed with colour-science 0.4.6.
	c := Curve{nm: reflectances.nm, value: reflectances.column("complexion")}
	within(t, "sample 13", exact(d65, c).level, 0.571, 0.005)
}

func TestScaled(t *testing.T) {
	grass, _ := Material("grass")
	dark, err := grass.Scaled(0.06)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "half", dark.At(550), grass.At(550)/2, 1e-12)
	within(t, "luminous", exact(d65, dark.Curve).level, 0.06, 1e-4)
	again, err := dark.Scaled(0.12)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "there and back", again.At(700), grass.At(700), 1e-12)
	black, err := grass.Scaled(0)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "black", black.At(550), 0, 0)
	for _, rho := range []unit.Fraction{0.5, -0.1, unit.Fraction(math.NaN())} {
		if _, err := grass.Scaled(rho); fault.Code(err) != 1 {
			t.Errorf("grass scaled to %v: %v", rho, err)
		}
	}
}

func TestGrey(t *testing.T) {
	g := Grey(0.18)
	within(t, "at 400 nm", g.At(400), 0.18, 0)
	half, err := g.Scaled(0.36)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "scaled", half.At(600), 0.36, 1e-15)
}

func TestCurve(t *testing.T) {
	power, err := Power([]float64{400, 500, 700}, []float64{1, 3, 3})
	if err != nil {
		t.Fatal(err)
	}
	factor, err := Factor([]float64{450, 550}, []float64{0.2, 0.4})
	if err != nil {
		t.Fatal(err)
	}
	product := power.Mul(factor)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"a sample", power.At(500), 3}, {"between samples", power.At(450), 2}, {"power below its samples", power.At(399.9), 0},
		{"power above its samples", power.At(700.1), 0}, {"factor held below", factor.At(380), 0.2}, {"factor held above", factor.At(780), 0.4},
		{"product", product.At(450), 0.4}, {"product beyond the factor", product.At(700), 1.2}, {"product beyond the power", product.At(720), 0},
		{"the zero curve", Curve{}.At(500), 0}, {"scaled", factor.Scale(2).At(500), 0.6},
	} {
		within(t, c.what, c.got, c.want, 1e-12)
	}
	apart, err := Power([]float64{720, 730}, []float64{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	if l := LightOf(power.Mul(apart)); l != (Light{}) {
		t.Errorf("two sources that share no wavelength: %v", l)
	}
}

func TestCurveRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name       string
		nm, values []float64
	}{
		{"nothing", nil, nil}, {"not ascending", []float64{500, 500}, []float64{1, 1}}, {"no wavelength", []float64{nan}, []float64{1}},
		{"negative", []float64{500}, []float64{-1}}, {"no number", []float64{500}, []float64{nan}}, {"too much", []float64{500}, []float64{1e101}}, {"endless", []float64{500}, []float64{math.Inf(1)}},
	} {
		if _, err := Power(c.nm, c.values); fault.Code(err) != 1 {
			t.Errorf("power, %s: %v", c.name, err)
		}
		if _, err := Factor(c.nm, c.values); fault.Code(err) != 1 {
			t.Errorf("factor, %s: %v", c.name, err)
		}
	}
	if _, err := Factor([]float64{500}, []float64{1.01}); fault.Code(err) != 1 {
		t.Errorf("a factor above 1: %v", err)
	}
}
