package chart

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// offLocus returns the distance of a place from the lines between a locus's rows, in u′, v′.
func offLocus(locus []locusPoint, p colour.UV) float64 {
	least := math.Inf(1)
	for i := 1; i < len(locus); i++ {
		a, b := locus[i-1].at, locus[i].at
		du, dv := b.U-a.U, b.V-a.V
		t := min(max(((p.U-a.U)*du+(p.V-a.V)*dv)/(du*du+dv*dv), 0), 1)
		least = min(least, distance(p, colour.UV{U: a.U + t*du, V: a.V + t*dv}))
	}
	return least
}

// Chromaticities of the CIE's illuminants [CIE15], tables of clause 4: A is the black body of 2856 K. They are printed to
// 0.0001, and rows stand to 0.0001 of the curve.
func TestLociHoldTheIlluminants(t *testing.T) {
	for _, c := range []struct {
		name  string
		locus []locusPoint
		at    colour.UV
		mired float64
	}{
		{"A", planckian(), colour.UV{U: 0.2560, V: 0.5243}, 1e6 / 2856},
		{"D50", daylight(), colour.UV{U: 0.2092, V: 0.4881}, 1e6 / 5003},
		{"D65", daylight(), colour.UV{U: 0.1978, V: 0.4683}, 1e6 / 6504},
		{"D75", daylight(), colour.UV{U: 0.1935, V: 0.4586}, 1e6 / 7504},
	} {
		if off := offLocus(c.locus, c.at); off > 0.0002 {
			t.Errorf("%s stands %.5f off the locus", c.name, off)
		}
		if got := nearest(c.locus, c.at).mired; math.Abs(got-c.mired) > locusStep {
			t.Errorf("%s is nearest to %.0f mired, want %.1f", c.name, got, c.mired)
		}
	}
}

func TestLocusBetweenRows(t *testing.T) {
	for m := 42.5; m < 700; m += locusStep {
		l := spectrum.LightOf(spectrum.Planck(unit.Kelvin(1e6 / m)))
		at := colour.MixtureOf([]spectrum.Light{l}, []unit.Lux{1}).UV1976()
		if off := offLocus(planckian(), at); off > 0.0001 {
			t.Errorf("%.1f mired stands %.5f off the line", m, off)
		}
	}
}

// A way across the locus is read back by package colour's [Ohno2013] as that Duv at that temperature. The direction is that of
// a chord of 10 mired: measured, that costs 0.07 mired and 0.000006.
func TestAcross(t *testing.T) {
	for n, p := range planckian() {
		if p.mired < 50 || p.mired > 500 {
			continue
		}
		for _, duv := range []float64{tickDuv, -tickDuv} {
			way := across(planckian(), n)
			u, v := p.at.U+duv*way.U, p.at.V+duv*way.V
			// x, y of u′, v′ [CIE15], clause 8.1, solved.
			d := 6*u - 16*v + 12
			cct, got, err := colour.CCTDuv(colour.Chromaticity{X: 9 * u / d, Y: 4 * v / d}.XYZ(1))
			if err != nil || math.Abs(got-duv) > 0.00001 || math.Abs(float64(cct.Mired())-p.mired) > 0.1 {
				t.Errorf("%.0f mired, Duv %g: read as %.1f mired, Duv %.5f, %v", p.mired, duv, float64(cct.Mired()), got, err)
			}
		}
	}
}
