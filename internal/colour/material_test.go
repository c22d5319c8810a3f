package colour

import (
	"math"
	"testing"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// compared returns how far apart two whites are in mired and Duv.
func compared(t *testing.T, got, want XYZ) (mired, duv float64) {
	t.Helper()
	k1, d1, err1 := CCTDuv(got)
	k2, d2, err2 := CCTDuv(want)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	return math.Abs(float64(k1.Mired() - k2.Mired())), math.Abs(d1 - d2)
}

// bounceSources are the sources of the tests of coloured reflection, with the greatest error allowed after one reflection off any
// material, in mired and Duv. The limits are guards: they come from this very computation.
var bounceSources = []struct {
	name       string
	mired, duv float64
}{
	{"A", 0.9, 0.0002}, {"D50", 0.5, 0.0002}, {"D65", 0.6, 0.0002}, {"FL2", 4.5, 0.0011}, {"FL8", 1.6, 0.0004},
	{"FL11", 3.5, 0.0005}, {"FL12", 4, 0.0004}, {"LED-B1", 2.7, 0.0004}, {"LED-B3", 1.6, 0.0006}, {"LED-BH1", 5.7, 0.0005},
	{"LED-V2", 2.7, 0.0004}, {"LED-RGB1", 21, 0.001},
}

func TestOneBounceOffEachMaterial(t *testing.T) {
	for _, s := range bounceSources {
		source := illuminant(t, s.name)
		light := spectrum.LightOf(source)
		worst, worstDuv, of, ofDuv := 0.0, 0.0, "", ""
		for _, name := range spectrum.MaterialNames() {
			m, _ := spectrum.Material(name)
			mired, duv := compared(t, Of(light, m.Band()), lightXYZ(spectrum.LightOf(source.Mul(m.Curve))))
			if mired > worst {
				worst, of = mired, name
			}
			if duv > worstDuv {
				worstDuv, ofDuv = duv, name
			}
		}
		t.Logf("%-9s %.2f mired off %s, Duv %.5f off %s", s.name, worst, of, worstDuv, ofDuv)
		if worst > s.mired || worstDuv > s.duv {
			t.Errorf("%s: %.2f mired off %s, Duv %.5f off %s; guarded at %g and %g", s.name, worst, of, worstDuv, ofDuv, s.mired, s.duv)
		}
	}
}

func TestMuslinWarms(t *testing.T) {
	muslin, _ := spectrum.Material("unbleached muslin")
	within(t, "luminous", float64(muslin.Luminous), 0.55, 0)
	for _, c := range []struct {
		name   string
		source spectrum.Curve
		within float64
	}{{"D65", illuminant(t, "D65"), 0.5}, {"5600 K", spectrum.Planck(5600), 3}, {"A", illuminant(t, "A"), 3}} {
		before, _ := whiteOf(t, c.source)
		after, duv := whiteOf(t, c.source.Mul(muslin.Curve))
		within(t, c.name+" mired", 1e6/after-1e6/before, 30, c.within)
		if math.Abs(duv) > 0.006 {
			t.Errorf("%s off muslin has Duv %.4f", c.name, duv)
		}
	}
}

func TestGelsShift(t *testing.T) {
	day := func(k unit.Kelvin) spectrum.Curve {
		c, err := spectrum.Daylight(k)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	type source struct {
		curve  spectrum.Curve
		within float64 // of the shift, relative
	}
	warming := []source{{day(5600), 0.002}, {day(5000), 0.02}, {day(7500), 0.035}, {spectrum.Planck(3200), 0.06}, {spectrum.Planck(5600), 0.07}}
	cooling := []source{{spectrum.Planck(3200), 0.002}, {spectrum.Planck(2700), 0.02}, {illuminant(t, "A"), 0.02}, {spectrum.Planck(4300), 0.06}}
	for _, g := range []struct {
		text  string
		shift float64
		over  []source
	}{
		{"full CTO", 150, warming}, {"1/2 CTO", 109, warming}, {"1/4 CTO", 64, warming}, {"1/8 CTO", 24, warming}, {"+80 mired", 80, warming},
		{"full CTB", -135, cooling}, {"1/2 CTB", -75, cooling}, {"1/4 CTB", -35, cooling}, {"1/8 CTB", -18, cooling}, {"-100 mired", -100, cooling},
	} {
		gel, err := spectrum.ParseGel(g.text)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range g.over {
			before, _ := whiteOf(t, s.curve)
			after, _ := whiteOf(t, s.curve.Mul(gel.Curve))
			within(t, g.text, (1e6/after-1e6/before)/g.shift, 1, s.within)
			light := spectrum.LightOf(s.curve)
			passed := Of(light, gel.Band)
			if i == 0 {
				within(t, g.text+" transmittance", passed.Y, float64(gel.Transmittance), 0.002)
			}
			mired, duv := compared(t, passed, lightXYZ(spectrum.LightOf(s.curve.Mul(gel.Curve))))
			within(t, g.text+" in bands, mired", mired, 0, 0.5)
			within(t, g.text+" in bands, Duv", duv, 0, 5e-4)
		}
	}
}

// A gel's own numbers agree with what CCTDuv makes of the light before and behind it.
func TestMeasuredGelsAgainstOhno(t *testing.T) {
	day, err := spectrum.Daylight(5600)
	if err != nil {
		t.Fatal(err)
	}
	for _, gel := range spectrum.TradeGels() {
		source := day
		if gel.Shift < 0 {
			source = spectrum.Planck(3200)
		}
		m := spectrum.MeasuredGel(gel.Name, gel.Curve)
		before, duv0 := whiteOf(t, source)
		after, duv := whiteOf(t, source.Mul(gel.Curve))
		within(t, gel.Name+" mired", float64(m.Shift), 1e6/after-1e6/before, 0.2)
		within(t, gel.Name+" Duv", m.Duv, duv-duv0, 1e-4)
	}
}
