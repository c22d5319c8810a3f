package daylight

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

var noon = time.Date(2027, 3, 21, 12, 0, 0, 0, time.UTC)

// atPlace is a made-up place: the sun climbs to 45° at noon and sets six hours later.
func atPlace(t time.Time, k Kind) Levels {
	return LevelsAt(unit.Degree(45*math.Cos(t.Sub(noon).Hours()/12*math.Pi)), 80, k)
}

func learn(t *testing.T, readings ...Reading) *Day {
	t.Helper()
	d, err := Learn(atPlace, readings)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestWithoutReadingsTheModelStands(t *testing.T) {
	got, want := learn(t).LevelsAt(noon, Clear), atPlace(noon, Clear)
	near(t, "level", float64(got.Global), float64(want.Global), 1e-12)
	near(t, "half-width", float64(got.Interval.Global), float64(want.Interval.Global), 1e-9)
}

// A reading wins where it was taken: it moves the level nearly to itself and its own half-width is what is left.
func TestAReadingWins(t *testing.T) {
	for _, part := range []Part{Global, Diffuse, Direct} {
		for _, stops := range []float64{-2, -0.5, 0.3} {
			model := atPlace(noon, Clear).part(part)
			read := model * unit.Lux(math.Exp2(stops))
			got := learn(t, Reading{At: noon, Kind: Clear, Part: part, Lux: read}).LevelsAt(noon, Clear)
			if left := float64(unit.Stops(float64(got.part(part) / read))); math.Abs(left) > 0.09*math.Abs(stops) {
				t.Errorf("part %d read %+.1f stops off the model: %+.3f of it left", part, stops, left)
			}
			if w := []unit.Stop{got.Interval.Global, got.Interval.Diffuse, got.Interval.Direct}[part]; w > readingDoubt {
				t.Errorf("part %d: half-width %.3f after a reading", part, float64(w))
			}
		}
	}
}

// It loosens with the hours, with a change of the sky's state, and faster under a sky that changes in minutes.
func TestAReadingLoosens(t *testing.T) {
	for k := range kindCount {
		model := atPlace(noon, k)
		d := learn(t, Reading{At: noon, Kind: k, Lux: model.Global / 2})
		last := 0.0
		for hours := 0.0; hours < 4; hours += 0.1 {
			at := noon.Add(time.Duration(hours * float64(time.Hour)))
			l, model := d.LevelsAt(at, k), atPlace(at, k)
			width := float64(l.Interval.Diffuse / model.Interval.Diffuse)
			if width < last-1e-9 || width > 1+1e-9 {
				t.Fatalf("%v after %.1f h: half-width %.3f of the model's, was %.3f", k, hours, width, last)
			}
			if l.Global > model.Global || l.Global < model.Global/2*0.93 {
				t.Fatalf("%v after %.1f h: %v, model %v", k, hours, l.Global, model.Global)
			}
			last = width
		}
	}
	read := learn(t, Reading{At: noon, Kind: Clear, Lux: atPlace(noon, Clear).Global / 2})
	half := func(d *Day, k Kind, hours float64) float64 {
		at := noon.Add(time.Duration(hours * float64(time.Hour)))
		return float64(d.LevelsAt(at, k).Interval.Global / atPlace(at, k).Interval.Global)
	}
	if same, other := half(read, Clear, 1), half(read, Overcast, 1); !(same < 0.6 && other > 0.85 && other < 1) {
		t.Errorf("an hour on the half-width is %.2f under the sky read and %.2f under another", same, other)
	}
	broken := learn(t, Reading{At: noon, Kind: Broken, Lux: atPlace(noon, Broken).Global})
	if steady, broken := half(read, Clear, 1), half(broken, Broken, 1); broken < steady+0.2 {
		t.Errorf("an hour on the half-width is %.2f under a clear sky and %.2f under a broken one", steady, broken)
	}
}

// Sun and shade read apart settle both, and what they make together.
func TestSunAndShade(t *testing.T) {
	model := atPlace(noon, Clear)
	d := learn(t,
		Reading{At: noon, Kind: Clear, Part: Diffuse, Lux: model.Diffuse * 1.5},
		Reading{At: noon, Kind: Clear, Part: Direct, Lux: model.Direct * 0.7})
	got := d.LevelsAt(noon, Clear)
	near(t, "shade", float64(got.Diffuse), 1.5*float64(model.Diffuse), 0.03)
	near(t, "sun", float64(got.Direct), 0.7*float64(model.Direct), 0.03)
	near(t, "both", float64(got.Global), 1.5*float64(model.Diffuse)+0.7*float64(model.Global-model.Diffuse), 0.03)
	if got.Interval.Global > readingDoubt {
		t.Errorf("half-width %v", got.Interval.Global)
	}
}

// More readings never leave more doubt, and a reading that says what the model says moves nothing.
func TestReadingsOnlyHelp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var readings []Reading
		for range rapid.IntRange(1, 6).Draw(t, "readings") {
			at := noon.Add(time.Duration(rapid.IntRange(-300, 300).Draw(t, "minute")) * time.Minute)
			k := Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "kind"))
			readings = append(readings, Reading{At: at, Kind: k, Part: Part(rapid.IntRange(0, 1).Draw(t, "part")),
				Lux: atPlace(at, k).Diffuse})
			if readings[len(readings)-1].Part == Global {
				readings[len(readings)-1].Lux = atPlace(at, k).Global
			}
		}
		at := noon.Add(time.Duration(rapid.IntRange(-300, 300).Draw(t, "asked")) * time.Minute)
		k := Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "asked kind"))
		model := atPlace(at, k)
		last := model.Interval.Global
		for n := 1; n <= len(readings); n++ {
			d, err := Learn(atPlace, readings[:n])
			if err != nil {
				t.Fatal(err)
			}
			l := d.LevelsAt(at, k)
			if l.Interval.Global > last+1e-9 {
				t.Fatalf("reading %d widens %v to %v", n, last, l.Interval.Global)
			}
			if math.Abs(float64(l.Global/model.Global)-1) > 1e-9 {
				t.Fatalf("level moved from %v to %v", model.Global, l.Global)
			}
			last = l.Interval.Global
		}
	})
}

func TestReadingsThatAreNone(t *testing.T) {
	ok := Reading{At: noon, Kind: Clear, Lux: 50_000}
	for _, c := range []struct {
		name string
		bad  Reading
		want string
	}{
		{"no clock", Reading{Kind: Clear, Lux: 5}, "readings[1]: a reading of daylight needs its clock time"},
		{"no light", Reading{At: noon, Kind: Clear}, "above 0"},
		{"negative", Reading{At: noon, Kind: Clear, Lux: -4}, "above 0"},
		{"no number", Reading{At: noon, Kind: Clear, Lux: unit.Lux(math.NaN())}, "above 0"},
		{"sun under cloud", Reading{At: noon, Kind: Overcast, Part: Direct, Lux: 5}, "needs a sun"},
		{"sun by night", Reading{At: noon.Add(12 * time.Hour), Kind: Clear, Part: Direct, Lux: 5}, "needs a sun"},
	} {
		_, err := Learn(atPlace, []Reading{ok, c.bad})
		var list fault.List
		if !errors.As(err, &list) || len(list) != 1 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// Split-flux and daylight-factor predictions scale with the sky; the numbers are arithmetic on paper.
func TestDaylightFactor(t *testing.T) {
	f, err := FactorOf([]Pair{{200, 10_000}, {400, 20_000}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", float64(f.Share), 0.02, 1e-12)
	near(t, "half-width of two pairs", float64(f.Interval), 0.2/math.Sqrt2, 1e-12)
	inside, half := f.Inside(8000, 0.1, Overcast)
	near(t, "inside", float64(inside), 160, 1e-12)
	near(t, "its half-width", float64(half), math.Hypot(0.2/math.Sqrt2, 0.1), 1e-12)
	if _, clear := f.Inside(8000, 0.1, Clear); clear < 1 {
		t.Errorf("under a clear sky the half-width is %v", clear)
	}
	scattered, err := FactorOf([]Pair{{100, 10_000}, {400, 10_000}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of 1 % and 4 %", float64(scattered.Share), 0.02, 1e-12)
	near(t, "its scatter", float64(scattered.Interval), 1.96*1, 1e-12) // ±1 stop: sd √2, over √2
	noNumber := unit.Lux(math.NaN())
	for name, bad := range map[string][]Pair{"none": nil, "dark": {{0, 5}}, "no outside": {{5, 0}}, "no number": {{noNumber, 5}}} {
		if _, err := FactorOf(bad); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
