package spectrum

import (
	"math"
	"slices"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

func TestND(t *testing.T) {
	for b, got := range ND(0.3) {
		within(t, "stops", -math.Log2(got), 0.997, 0.001)
		within(t, "ND 1.5", ND(1.5)[b], math.Pow(10, -1.5), 1e-15)
	}
}

func TestParseGel(t *testing.T) {
	for _, c := range []struct {
		text          string
		name          string
		shift         unit.Mired
		transmittance float64
	}{
		{"1/2 CTO", "1/2 CTO", 109, 0.71}, {"half cto", "1/2 CTO", 109, 0.71}, {"½ CTO", "1/2 CTO", 109, 0.71}, {"½CTO", "1/2 CTO", 109, 0.71},
		{"CTO", "full CTO", 150, 0.60}, {"full CTB", "full CTB", -135, 0.33}, {" quarter  CTO ", "1/4 CTO", 64, 0.80},
		{"eighth CTB", "1/8 CTB", -18, 0.81}, {"1/8 CTO", "1/8 CTO", 24, 0.88},
		{"ND 1.5", "ND 1.5", 0, 0.0316228}, {"nd0,6", "ND 0.6", 0, 0.2511886}, {"ND6", "ND 0.6", 0, 0.2511886}, {"ND 3.0", "ND 3.0", 0, 0.001},
		{"+109 mired", "+109 mired", 109, 0.71}, {"109 mired", "+109 mired", 109, 0.71}, {"−75 mired", "-75 mired", -75, 0.54},
		{"+109 mired 65 %", "+109 mired 65 %", 109, 0.65}, {"-20,5 mired 80%", "-20.5 mired 80 %", -20.5, 0.8},
	} {
		g, err := ParseGel(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if g.Name != c.name || g.Shift != c.shift {
			t.Errorf("%q reads as %s, %g mired; want %s, %g mired", c.text, g.Name, g.Shift, c.name, c.shift)
		}
		within(t, c.text, float64(g.Transmittance), c.transmittance, 1e-6)
	}
}

func TestParseGelRefuses(t *testing.T) {
	for _, text := range []string{"", "CTX", "1/3 CTO", "blue CTO", "ND", "ND -0.3", "ND 33.3", "ND 8", "mired", "109", "+900 mired",
		"+109 mired 0 %", "+109 mired 130 %", "+150 mired 99 %", "+109 mired 71", "ND 0.3 CTO", "+109 mired -5 %"} {
		if g, err := ParseGel(text); fault.Code(err) != 1 {
			t.Errorf("%q: %+v, %v", text, g.Name, err)
		} else if fault.Of(err, fault.Call)[0].Read != text {
			t.Errorf("%q: the fault does not quote it: %v", text, err)
		}
	}
}

// The loss of a shift no trade gel has lies between its neighbours', and grows.
func TestTypicalTransmittance(t *testing.T) {
	for _, sign := range []unit.Mired{1, -1} {
		last := unit.Fraction(0.93)
		for size := unit.Mired(0); size < 250; size += 5 {
			now := typicalTransmittance(sign * size)
			if now >= last || now <= 0 {
				t.Errorf("%+g mired passes %g, 5 mired less passes %g", sign*size, now, last)
			}
			last = now
		}
	}
	for _, c := range corrections {
		within(t, c.name, float64(typicalTransmittance(c.shift)), float64(c.transmittance), 1e-12)
	}
}

func TestMiredShiftIsPassive(t *testing.T) {
	for shift := unit.Mired(-140); shift <= 200; shift += 20 {
		c, err := MiredShift(shift, typicalTransmittance(shift))
		if err != nil {
			t.Errorf("%+g mired: %v", shift, err)
			continue
		}
		if low, high := slices.Min(c.value), slices.Max(c.value); low < 0 || high > 1 {
			t.Errorf("%+g mired passes from %g to %g", shift, low, high)
		}
	}
}

func FuzzParseGel(f *testing.F) {
	for _, s := range []string{"1/2 CTO", "½ ctb", "ND 1.5", "nd .3", "+109 mired", "-20,5 mired 80 %", "−75 mired", "ND 1,,5", "+ mired", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		g, err := ParseGel(text)
		if err != nil {
			return
		}
		for b, v := range g.Band {
			if !(v >= 0 && v <= 1) {
				t.Errorf("%q passes %g in band %d", text, v, b)
			}
		}
		again, err := ParseGel(g.Name)
		if err != nil || math.Abs(again.Band[0]-g.Band[0]) > 1e-9 {
			t.Errorf("%q is named %q, which reads as %q, %v", text, g.Name, again.Name, err)
		}
	})
}

// Green gels do what they say to the daylight they are made for, and undo each other; to tungsten light they do nearly the same
// across the locus, and minus green warms it by some 2 mired for each 0.001 of Duv.
func TestGreenGels(t *testing.T) {
	parse := func(text string) Gel {
		g, err := ParseGel(text)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	for _, text := range []string{"minus green", "½ minus green", "1/4 Minus Green", "1/8 minus green", "full plus green", "1/2 plus green", "1/4 plus green", "1/8 plus green"} {
		g := parse(text)
		m := MeasuredGel(text, g.Curve)
		within(t, text+" mired", float64(m.Shift), 0, 0.1)
		within(t, text+" Duv", m.Duv, g.Duv, 1e-4)
		within(t, text+" transmittance", float64(m.Transmittance), float64(g.Transmittance), 1e-3)
		kelvin, duv := place(Planck(3200).Mul(g.Curve))
		within(t, text+" over tungsten, mired", 1e6/kelvin, 1e6/3200.-2.3*g.Duv*1000, 0.7*math.Abs(g.Duv)*1000) // a guard
		within(t, text+" over tungsten, Duv", duv/g.Duv, 0.85, 0.2)
	}
	both := parse("1/2 minus green").Curve.Mul(parse("1/2 plus green").Curve)
	within(t, "both together", MeasuredGel("", both).Duv, 0, 1e-3)
	if _, err := ParseGel("1/3 minus green"); fault.Code(err) != 1 {
		t.Errorf("a strength nobody makes: %v", err)
	}
}

// Sheets over one another: shifts in mired add up over the daylight they are made for, losses too.
func TestPackOfGels(t *testing.T) {
	got, err := ParseGel("1/4 cto + 1/8 Minus Green + ND 0.3")
	if err != nil {
		t.Fatal(err)
	}
	if got.Name != "1/4 CTO + 1/8 minus green + ND 0.3" {
		t.Errorf("reads as %s", got.Name)
	}
	within(t, "mired", float64(got.Shift), 64, 5)
	within(t, "Duv", got.Duv, -0.004-dayDuv*64/float64(wholeWay), 0.001) // the orange goes part of the way to the locus
	within(t, "transmittance", float64(got.Transmittance), 0.80*0.88*0.5012, 0.01)
	for _, text := range []string{"1/4 CTO + CTX", "1/4 CTO + ", " + ", "ND 0.3 + ND 0.3 + ND 0.3 + ND 0.3 + ND 0.3"} {
		if _, err := ParseGel(text); fault.Code(err) != 1 || fault.Of(err, fault.Call)[0].Read != text {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// The numbers of a modelled gel are found again from its curve.
func TestMeasuredGel(t *testing.T) {
	for _, text := range []string{"1/2 CTO", "1/4 CTO", "1/2 CTB", "full CTB"} {
		want, err := ParseGel(text)
		if err != nil {
			t.Fatal(err)
		}
		got := MeasuredGel(text, want.Curve)
		within(t, text+" mired", float64(got.Shift), float64(want.Shift), 0.2)
		within(t, text+" transmittance", float64(got.Transmittance), float64(want.Transmittance), 1e-3)
	}
	if g := MeasuredGel("black", Flat(0)); g.Transmittance != 0 || g.Shift != 0 {
		t.Errorf("a black gel: %+v", g)
	}
}

func TestReadGel(t *testing.T) {
	g, err := ReadGel("cloth", "g.csv", []byte("380,0.2\n480,0.4\n580,0.5\n780,0.6\n"))
	if err != nil {
		t.Fatal(err)
	}
	if g.Name != "cloth" || g.Shift < 20 || g.Transmittance < 0.4 || g.Transmittance > 0.55 {
		t.Errorf("a warm cloth reads as %s, %v, %v", g.Name, g.Shift, g.Transmittance)
	}
	for _, text := range []string{"380,1.2\n", "380,-0.1\n", "380,1,1\n", "x"} {
		if _, err := ReadGel("", "g.csv", []byte(text)); fault.Code(err) != 1 {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A gel over a lamp is exact where its spectrum is known: by hand, two lines of equal luminance, one of them halved.
func TestLightThrough(t *testing.T) {
	lines := Mixture([]Curve{LED(530, 5), LED(610, 5)}, []float64{0.5, 0.5})
	gel := Flat(1).Mul(Curve{nm: []float64{First, 569, 571, Last}, value: []float64{0.5, 0.5, 1, 1}})
	got := LightThrough(lines, gel)
	within(t, "luminous transmittance", sum(got.Y), 0.75, 1e-6)
	if got := LightThrough(lines, Flat(0)); got != (Light{}) {
		t.Errorf("light through a black gel: %v", got)
	}
	bare, same := LightOf(lines), LightThrough(lines, Flat(0.25))
	for b := range bare.Y {
		within(t, "neutral", same.Y[b], bare.Y[b]/4, 1e-12)
	}
}

// What the trade expects of its gels, of any maker: common practice, no source. Shifts are those the curve itself makes of the
// light it is for, losses in stops.
func TestTradeGelsAreInTheTradesRange(t *testing.T) {
	for _, row := range []struct {
		name                    string
		low, high, little, most float64
	}{
		{"full CTO", 130, 165, 0.42, 0.92}, {"1/2 CTO", 80, 110, 0.25, 0.75}, {"1/4 CTO", 40, 65, 0.1, 0.5}, {"1/8 CTO", 20, 26, 0.05, 0.4},
		{"full CTB", -150, -120, 1.25, 2.25},
	} {
		g, err := ParseGel(row.name)
		if err != nil {
			t.Fatal(err)
		}
		m := MeasuredGel(row.name, g.Curve)
		loss := -math.Log2(float64(m.Transmittance))
		if shift := float64(m.Shift); shift < row.low || shift > row.high || loss < row.little || loss > row.most {
			t.Errorf("%s: %+.0f mired, %.2f stop; want %g to %g mired, %g to %g stop", row.name, shift, loss, row.low, row.high, row.little, row.most)
		}
	}
}
