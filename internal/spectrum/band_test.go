package spectrum

import (
	"math"
	"os"
	"testing"
)

// charts returns the reflectances of the 14 samples of CIE 13.3 and of a 24-patch chart.
func charts(t *testing.T) []Curve {
	text, err := os.ReadFile("testdata/reflectances.csv")
	if err != nil {
		t.Fatal(err)
	}
	table, err := ReadTable("reflectances.csv", text)
	if err != nil {
		t.Fatal(err)
	}
	var out []Curve
	for _, values := range table.columns {
		c, err := Factor(table.nm, values)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

// shade is a colour as tests compare it.
type shade struct{ x, y, level float64 }

func shadeOf(l Light) shade {
	var s tristimuli
	for b := range l.X {
		s[0] += l.X[b]
		s[1] += l.Y[b]
		s[2] += l.Z[b]
	}
	sum := s[0] + s[1] + s[2]
	return shade{s[0] / sum, s[1] / sum, s[1]}
}

// exact returns the colour of a source after a factor, integrated over the product of the curves.
func exact(source, factor Curve) shade {
	l := tristimulus(source.Mul(factor))
	k := 1 / luminance(source)
	return shadeOf(Light{l.X.Scale(k), l.Y.Scale(k), l.Z.Scale(k)})
}

// misfit gathers errors of the bands against exact integration.
type misfit struct {
	n                   int
	xy, xyMost, y, most float64
}

func (m *misfit) add(got, want shade) {
	d := math.Hypot(got.x-want.x, got.y-want.y)
	y := math.Abs(got.level/want.level - 1)
	m.n++
	m.xy += d * d
	m.y += y * y
	m.xyMost, m.most = max(m.xyMost, d), max(m.most, y)
}

func (m *misfit) rms() (xy, y float64) {
	return math.Sqrt(m.xy / float64(m.n)), math.Sqrt(m.y / float64(m.n))
}

// The errors that the comment on Edges states. These limits are guards: they come from this very computation.
func TestBandsAgainstOneNanometre(t *testing.T) {
	named := func(name string) Curve { c, _ := Illuminant(name); return c }
	sources := []struct {
		name        string
		curve       Curve
		xy, xyMost  float64 // rms and greatest error in xy after one bounce
		level, most float64 // and in level, relative
		xy2, level2 float64 // rms after two bounces off the same patch
	}{
		{"A", named("A"), 0.0006, 0.0025, 0.001, 0.004, 0.003, 0.02},
		{"Planck 3200", Planck(3200), 0.0005, 0.002, 0.001, 0.003, 0.003, 0.02},
		{"Planck 5600", Planck(5600), 0.0003, 0.001, 0.001, 0.002, 0.003, 0.02},
		{"D65", named("D65"), 0.0004, 0.001, 0.001, 0.002, 0.003, 0.02},
		{"FL2", named("FL2"), 0.002, 0.006, 0.006, 0.02, 0.004, 0.025},
		{"FL11", named("FL11"), 0.0015, 0.004, 0.003, 0.01, 0.003, 0.02},
		{"LED-B3", named("LED-B3"), 0.002, 0.008, 0.0015, 0.004, 0.004, 0.02},
		{"D50, not fitted", named("D50"), 0.0005, 0.0015, 0.001, 0.002, 0.003, 0.02},
		{"FL8, not fitted", named("FL8"), 0.001, 0.004, 0.003, 0.007, 0.003, 0.02},
		{"FL12, not fitted", named("FL12"), 0.002, 0.007, 0.002, 0.005, 0.003, 0.025},
		{"LED-V2, not fitted", named("LED-V2"), 0.002, 0.006, 0.002, 0.007, 0.004, 0.025},
		{"LED-RGB1, not fitted", named("LED-RGB1"), 0.005, 0.016, 0.015, 0.06, 0.01, 0.06},
	}
	patches := charts(t)
	for _, s := range sources {
		light := LightOf(s.curve)
		var once, twice misfit
		for _, p := range patches {
			b := BandMean(p)
			once.add(shadeOf(light.Through(b)), exact(s.curve, p))
			twice.add(shadeOf(light.Through(b).Through(b)), exact(s.curve, p.Mul(p)))
		}
		xy, level := once.rms()
		xy2, level2 := twice.rms()
		t.Logf("%-20s once xy %.5f (%.4f) level %.3f%% (%.2f%%), twice xy %.5f (%.4f) level %.2f%% (%.1f%%)", s.name,
			xy, once.xyMost, 100*level, 100*once.most, xy2, twice.xyMost, 100*level2, 100*twice.most)
		for _, c := range []struct {
			what       string
			got, limit float64
		}{
			{"xy", xy, s.xy}, {"greatest xy", once.xyMost, s.xyMost}, {"level", level, s.level},
			{"greatest level", once.most, s.most}, {"xy, two bounces", xy2, s.xy2}, {"level, two bounces", level2, s.level2},
		} {
			if c.got > c.limit {
				t.Errorf("%s: error in %s is %.5f, guarded at %.5f", s.name, c.what, c.got, c.limit)
			}
		}
	}
}

func TestBandMeanKeepsAFlatFactor(t *testing.T) {
	for _, v := range []float64{0, 0.03, 0.18, 0.85, 1} {
		for b, got := range BandMean(Flat(v)) {
			if math.Abs(got-v) > 1e-12 {
				t.Errorf("band %d of flat %g is %.15g", b, v, got)
			}
		}
	}
}

func TestLightNeedsNoBandsWithoutColouredSurfaces(t *testing.T) {
	for _, name := range IlluminantNames() {
		c, _ := Illuminant(name)
		light := LightOf(c)
		got := shadeOf(light.Through(Grey(0.5).Band()))
		want := exact(c, Flat(0.5))
		if math.Hypot(got.x-want.x, got.y-want.y) > 1e-12 || math.Abs(got.level-0.5) > 1e-12 {
			t.Errorf("%s off a grey wall: %v, want %v", name, got, want)
		}
	}
}

func TestCurveWithoutVisibleLight(t *testing.T) {
	infrared, err := Power([]float64{900, 1000}, []float64{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	if l := LightOf(infrared); l != (Light{}) {
		t.Errorf("light of an infrared source: %v", l)
	}
}

// A spectrum in any unit gives the same light.
func TestLightOfAnyScale(t *testing.T) {
	want := LightOf(d65)
	for _, k := range []float64{1e-280, 1e-9, 1, 1e90} {
		got := LightOf(d65.Scale(k))
		for b := range want.Y {
			within(t, "Y", got.Y[b], want.Y[b], 1e-12)
			within(t, "Z", got.Z[b], want.Z[b], 1e-12)
		}
	}
}

// A narrow line keeps its whole power in its own band however finely its file is sampled.
func TestNarrowLine(t *testing.T) {
	for _, half := range []float64{0.05, 0.5, 2.5} {
		c, err := Power([]float64{589 - half, 589, 589 + half}, []float64{0, 1, 0})
		if err != nil {
			t.Fatal(err)
		}
		l := tristimulus(c)
		_, y, _ := observer(589)
		if math.Abs(l.Y[5]/(half*y)-1) > 1e-3 || l.Y[4]+l.Y[6] > 1e-12 {
			t.Errorf("line of half width %g nm: Y %v, want %g in band 5", half, l.Y, half*y)
		}
	}
}
