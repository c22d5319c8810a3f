package colour

import (
	"math"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

func TestOhno2013(t *testing.T) {
	// Regression values of colour-science 0.4.6 for the method; the paper prints none. Two lie too far from the locus to be
	// called white.
	for _, c := range []struct{ u, v, cct, duv float64 }{
		{0.1978, 0.3122, 6507.475, 0.003223}, {0.4328, 0.2883, 1041.678, -0.067378}, {0.2927, 0.2722, 2444.972, -0.084371},
	} {
		cct, duv, found := ohno2013(UV{c.u, c.v})
		if !found {
			t.Errorf("u %g, v %g: not found", c.u, c.v)
		}
		within(t, "CCT", float64(cct), c.cct, 1)
		within(t, "Duv", duv, c.duv, 1e-5)
	}
}

// A black body is where it says, between the table's rows too.
func TestPlanckIsOnItsLocus(t *testing.T) {
	for m := 34.0; m <= 1000; m += 7.3 {
		cct, duv, err := CCTDuv(lightXYZ(spectrum.LightOf(spectrum.Planck(unit.Kelvin(1e6 / m)))))
		if err != nil {
			t.Fatal(m, err)
		}
		within(t, "mired", float64(cct.Mired()), m, 0.05)
		within(t, "Duv", duv, 0, 5e-6)
	}
}

// A white made at a colour temperature and Duv reads as such: over the nominal whites of ANSI C78.377-2008 (CCT and target
// Duv as that standard rounds them), and a grid around them.
func TestBiColourReadsBack(t *testing.T) {
	type white struct{ kelvin, duv float64 }
	all := []white{{2725, 0}, {3045, 0}, {3465, 0}, {3985, 0.001}, {4503, 0.001}, {5028, 0.002}, {5665, 0.002}, {6530, 0.003}}
	for _, k := range []float64{2500, 3200, 4100, 4800, 5600, 8000, 15000} {
		for _, duv := range []float64{-0.019, -0.01, -0.0021, -0.0019, -0.001, 0.001, 0.0019, 0.0021, 0.01} {
			all = append(all, white{k, duv})
		}
	}
	for _, w := range all {
		light, err := spectrum.BiColour(unit.Kelvin(w.kelvin), w.duv)
		if err != nil {
			t.Fatal(w, err)
		}
		cct, duv, err := CCTDuv(lightXYZ(light))
		if err != nil {
			t.Fatal(w, err)
		}
		within(t, "mired", float64(cct.Mired()), 1e6/w.kelvin, 0.1)
		within(t, "Duv", duv, w.duv, 2e-5)
	}
}

func TestNoColourTemperature(t *testing.T) {
	for _, c := range []struct {
		name string
		xyz  XYZ
	}{
		{"black", XYZ{}}, {"red", Chromaticity{0.68, 0.32}.XYZ(1)}, {"blue", Chromaticity{0.15, 0.06}.XYZ(1)},
		{"green", Chromaticity{0.3, 0.6}.XYZ(1)}, {"magenta", Chromaticity{0.4, 0.2}.XYZ(1)},
		{"bluer than the table", Chromaticity{0.245, 0.245}.XYZ(1)}, {"no number", XYZ{math.NaN(), 1, 1}},
		{"ember", lightXYZ(spectrum.LightOf(spectrum.Planck(950)))},
	} {
		if cct, duv, err := CCTDuv(c.xyz); fault.Code(err) != 1 {
			t.Errorf("%s: %v K, Duv %v, error %v", c.name, cct, duv, err)
		}
	}
}
