package photometry

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

// The expected numbers follow by hand from each file under the semantics of [LM-63]; a tolerance of 1e-4 covers the
// digits the files are written with.
func TestLM63TypeC(t *testing.T) {
	for _, c := range []struct {
		file     string
		symmetry Symmetry
		edition  string
		peak     float64 // cd
		flux     float64 // lm, 0 not stated
		at       []atC
	}{
		{"s01_isotropic_typeC.ies", Axial, "2002", 1000, 4 * math.Pi * 1000,
			[]atC{{0, 0, 1000}, {33, 77, 1000}, {200, 180, 1000}, {-40, 91, 1000}}},
		{"s02_lambert_down.ies", Axial, "2019", 1000, 3139.597,
			[]atC{{0, 0, 1000}, {10, 60, 500}, {250, 62.5, 461.3091}, {0, 90.1, 0}, {0, 180, 0}}},
		{"s03_quadrant_0_90.ies", Quadrant, "2002", 1500, 3904.407,
			[]atC{{0, 30, 1299.0381}, {135, 30, 1082.5318}, {200, 30, 1242.6708}, {350, 37.5, 1154.2514}}},
		{"s04_bilateral_0_180.ies", AboutC0, "2002", 280, 1193.805,
			[]atC{{10, 45, 110}, {350, 45, 110}, {270, 45, 190}, {195, 45, 265}}},
		{"s05_full_360.ies", None, "2002", 500, 0,
			[]atC{{0, 45, 500}, {22.5, 45, 488.75}, {180, 45, 410}, {225, 45, 452.5}, {337.5, 45, 488.75}, {180, 22.5, 455}}},
		{"s06_bilateral_90_270_lm63_1995.ies", AboutC90, "1995", 300, 0,
			[]atC{{90, 45, 290}, {180, 45, 200}, {0, 45, 200}, {45, 45, 245}, {330, 45, 230}}},
		{"s07_multipliers_1991.ies", Axial, "1991", 247.5, 0,
			[]atC{{0, 0, 247.5}, {0, 45, 185.625}, {0, 90, 123.75}}},
		{"s08_tilt_include.ies", Axial, "2002", 1000, 0, []atC{{0, 0, 1000}, {0, 45, 500}}},
		{"s09_absolute_minus1.ies", Axial, "2002", 2000, 4809.449, []atC{{0, 0, 2000}, {0, 45, 1100}}},
		// Relative photometry is for the lamps stated: 400 cd are not multiplied by two lamps or by 2.4 klm.
		{"s10_two_lamps_relative.ies", Axial, "2002", 400, 0, []atC{{0, 0, 400}, {0, 30, 300}, {0, 45, 200}}},
		{"s11_feet_units.ies", Axial, "2002", 100, 0, []atC{{0, 45, 50}}},
		{"s15_no_version_1986.ies", Axial, "1986", 100, 0, []atC{{0, 0, 100}, {0, 45, 50}}},
		{"s16_crlf_wrapped.ies", Axial, "2002", 1000, 0,
			[]atC{{0, 0, 1000}, {0, 1, 999.848}, {0, 89, 17.452}, {0, 90, 0}, {0, 135, 0}, {0, 180, 0}}},
		{"s17_commas_tabs.ies", Axial, "2002", 2000, 4809.449, []atC{{0, 0, 2000}, {0, 45, 1100}}},
		{"s18_2019_generation_type.ies", Axial, "2019", 225, 0, []atC{{0, 0, 225}, {0, 90, 112.5}}},
	} {
		t.Run(c.file, func(t *testing.T) {
			f := open(t, c.file)
			if f.Format != LM63 || f.Edition != c.edition || f.Symmetry != c.symmetry || f.Type != TypeC {
				t.Errorf("read as %s %s, type %s, symmetry %s", f.Format, f.Edition, f.Type, f.Symmetry)
			}
			near(t, "peak", float64(f.Table.Peak()), c.peak, 1e-9)
			if c.flux > 0 {
				near(t, "flux", float64(f.Table.Flux()), c.flux, 1e-4)
			}
			checkAt(t, f, c.at, 1e-4)
		})
	}
}

// Type B, and angles from 0 as the right half of a symmetric table.
func TestLM63TypeB(t *testing.T) {
	whole, half := open(t, "s12_typeB.ies"), open(t, "s13_typeB_half.ies")
	if whole.Type != TypeB || whole.Symmetry != None || half.Symmetry != LeftRight {
		t.Errorf("types %s %s, symmetries %s %s", whole.Type, half.Type, whole.Symmetry, half.Symmetry)
	}
	for _, r := range []struct{ v, h, cd float64 }{
		{0, 0, 1000}, {22.5, 0, 853.5534}, {0, -22.5, 853.5534}, {22.5, 22.5, 728.5534}, {-22.5, 67.5, 301.7767},
	} {
		near(t, "whole", whole.Table.At(towardB(r.v, r.h)), r.cd, 1e-4)
	}
	for _, r := range []struct{ v, h, cd float64 }{{0, -30, 500}, {22.5, -15, 562.5}, {22.5, 15, 562.5}, {0, 59.99, 500. / 3000}} {
		near(t, "half", half.Table.At(towardB(r.v, r.h)), r.cd, 1e-3)
	}
	if i := half.Table.At(towardB(46, 0)); i != 0 {
		t.Errorf("beyond the angles measured: %g cd, want 0", i)
	}
}

// The numbers follow from the file by bilinear interpolation in H and V.
func TestLM63TypeA(t *testing.T) {
	f := open(t, "s14_typeA.ies")
	if f.Type != TypeA || f.Symmetry != None {
		t.Errorf("type %s, symmetry %s", f.Type, f.Symmetry)
	}
	for _, r := range []struct{ v, h, cd float64 }{
		{0, 0, 1000}, {15, 0, 650}, {-15, 0, 650}, {0, 15, 600}, {0, -30, 200}, {15, 15, 400}, {31, 0, 0},
	} {
		near(t, "At", f.Table.At(towardA(r.v, r.h)), r.cd, 1e-9)
	}
}

// The factors at and between the angles of the file.
func TestTiltInclude(t *testing.T) {
	f := open(t, "s08_tilt_include.ies")
	if f.Tilt.Geometry != 1 {
		t.Errorf("geometry %d, want 1", f.Tilt.Geometry)
	}
	for _, r := range []struct{ angle, factor float64 }{{0, 1}, {22.5, 0.975}, {45, 0.95}, {90, 0.9}, {120, 0.9}, {-5, 1}} {
		near(t, "factor", f.TiltFactor(unit.Degree(r.angle)), r.factor, 1e-12)
	}
	if k := open(t, "s09_absolute_minus1.ies").TiltFactor(45); k != 1 {
		t.Errorf("without tilt: %g, want 1", k)
	}
}

// Absolute photometry (4809.449 lm of 150 W), feet (2 ft × 4 ft), two lamps, the generation type, labels.
func TestLM63Header(t *testing.T) {
	s09 := open(t, "s09_absolute_minus1.ies")
	near(t, "efficacy", float64(s09.Table.Flux())/float64(s09.Watts), 32.06, 1e-4)
	if !s09.Absolute || s09.LampFlux != 0 {
		t.Errorf("absolute %v, lamps' flux %g lm", s09.Absolute, s09.LampFlux)
	}
	s10 := open(t, "s10_two_lamps_relative.ies")
	if s10.Absolute || s10.LampCount != 2 || s10.LampFlux != 2400 || len(s10.Notes) != 0 {
		t.Errorf("two lamps: absolute %v, %d lamps, %g lm, notes %v", s10.Absolute, s10.LampCount, s10.LampFlux, s10.Notes)
	}
	o := open(t, "s11_feet_units.ies").Opening
	if o.Shape != Rectangle || math.Abs(float64(o.Width)-0.6096) > 1e-12 || math.Abs(float64(o.Length)-1.2192) > 1e-12 {
		t.Errorf("opening %+v, want a rectangle 0.6096 × 1.2192 m", o)
	}
	if g := open(t, "s18_2019_generation_type.ies").Generation; g != 1.1 {
		t.Errorf("generation type %g, want 1.1", g)
	}
	s15 := open(t, "s15_no_version_1986.ies")
	if len(s15.Keywords) != 2 || s15.Keywords[0] != (Keyword{"", "A label line without brackets"}) {
		t.Errorf("labels %q", s15.Keywords)
	}
	if s := open(t, "s02_lambert_down.ies"); s.keyword("MANUFAC") != "none" || len(s.Keywords) != 4 {
		t.Errorf("keywords %q", s.Keywords)
	}
}

// [LM-63] edition 2002 Table 1; the codes of 1995 from memory.
func TestOpeningCodes(t *testing.T) {
	for _, c := range []struct {
		name, edition string
		w, l, h       float64
		want          Opening
	}{
		{"point", "2002", 0, 0, 0, Opening{Shape: Point}},
		{"rectangle", "2002", 2, 4, 0, Opening{Rectangle, 2, 4, 0}},
		{"rectangle with sides", "2002", 2, 4, 1, Opening{Box, 2, 4, 1}},
		{"circle", "2002", -2, -2, 0, Opening{Circle, 2, 2, 0}},
		{"circle of 1995", "1995", -2, 0, 0, Opening{Circle, 2, 2, 0}},
		{"ellipse", "2002", -2, -4, 0, Opening{Circle, 2, 4, 0}},
		{"vertical cylinder", "2002", -2, -2, 3, Opening{Cylinder, 2, 2, 3}},
		{"vertical cylinder of 1995", "1995", -2, 0, 3, Opening{Cylinder, 2, 2, 3}},
		{"sphere", "2002", -2, -2, -2, Opening{Sphere, 2, 2, 2}},
		{"sphere of 1995", "1995", -2, 0, -2, Opening{Sphere, 2, 2, 2}},
		{"upright circle", "2002", -2, 0, -2, Opening{StandingCircle, 2, 0, 2}},
		{"lying cylinder", "2002", -2, 4, -2, Opening{LyingCylinder, 2, 4, 2}},
		{"lying cylinder of 1995", "1995", 0, 4, -2, Opening{LyingCylinder, 2, 4, 2}},
		{"line", "2002", 0, 4, 0, Opening{Rectangle, 0, 4, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := readOpening(c.edition, c.w, c.l, c.h)
			if o != c.want {
				t.Errorf("%+v, want %+v", o, c.want)
			}
			w, l, h := o.code()
			if again := readOpening("2002", float64(w), float64(l), float64(h)); again != o {
				t.Errorf("written as %g %g %g and read as %+v", w, l, h, again)
			}
		})
	}
}

func TestEditionLines(t *testing.T) {
	for line, want := range map[string]string{
		"IES:LM-63-2019": "2019", "IESNA:LM-63-2002": "2002", "IESNA:LM-63-1995": "1995", "IESNA91": "1991",
		"iesna:lm-63-1991": "1991", "IESNA: LM-63-02": "2002", "IESNA:LM-63-2077": "", "[TEST] 12": "1986",
	} {
		if year, _ := edition(line); year != want {
			t.Errorf("%q: edition %q, want %q", line, year, want)
		}
	}
}
