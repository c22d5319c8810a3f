package solve

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// The set-ups here were worked out by hand from the inverse-square law, form factors and the exposure equation, with
// invented gear; each number that is checked stands beside its working.

// A spot of 476 kcd on the line of a walk, 19, 24 and 29 m away: 1319, 826 and 566 lx. The lit side is wanted 1 to 2
// stops over an ambient that falls from 826 to 275 lx: the lamp must give the middle 826 lx at first and may at last, so
// only full output serves; the walk then swings 0.62 stop at first and 0.92 at last.
func TestSpotAgainstFallingAmbient(t *testing.T) {
	const first, last = 826.4, 275.5
	p := &Problem{Key: 250, Conditions: []string{"first", "last"}, Lamps: numbered(1), Targets: []Target{
		{Name: "ratio", Point: 1, Over: OverAmbient, Wanted: 1.5, Tolerance: 0.5},
		{Name: "swing", Across: []int{0, 1, 2}, Wanted: 1},
	}}
	for _, d := range []float64{19, 24, 29} {
		p.Points = append(p.Points, Point{By: []unit.Lux{unit.Lux(476000 / (d * d))}, Ambient: []unit.Lux{first, last}})
	}
	a := mustSolve(t, p)
	if a.Outcome != Met {
		t.Fatalf("%+v", a)
	}
	within(t, "dim", float64(a.Dims[0]), 1, 0.005)
	within(t, "ratio at last", float64(a.Targets[0].High), 2, 0.01)
	within(t, "swing at first", float64(a.Targets[1].Low), 0.62, 0.01)
	within(t, "swing at last", float64(a.Targets[1].High), 0.92, 0.01)
}

// A frame gives a face 708 lx at most; a window's sky of 2400 cd/m² over an ambient of 640 lx, both cut by n stops of
// gel, is wanted where it stands when the key is 32 times the ambient. Lamp needed 31·640/2ⁿ lx.
func TestFrameAgainstGelledWindow(t *testing.T) {
	for _, row := range []struct {
		name    string
		cut     unit.Stop
		dim     float64
		reserve float64
		outcome Outcome
	}{
		{"three stops", 3, 1, -1.81, Best},
		{"four stops", 4, 1, -0.81, Best},
		{"five stops", 5, 0.876, 0.19, Met},
		{"six stops", 6, 0.438, 1.19, Met},
	} {
		t.Run(row.name, func(t *testing.T) {
			sky := unit.Lux(2400 * math.Pi / 0.18)
			cut := unit.Lux(row.cut.Factor())
			p := one(numbered(1), []Point{lit(640/cut, 708), {By: []unit.Lux{0}, Ambient: []unit.Lux{0}, Fixed: sky / cut}},
				Target{Name: "face", Over: OverKey}, Target{Name: "sky", Point: 1, Over: OverKey, Wanted: unit.Stops(float64(sky)/640) - 5})
			p.Key, p.Exposure = 120, Range{-6, 6} // T2.8 at EI 800 and 1/48 s
			a := mustSolve(t, p)
			if a.Outcome != row.outcome {
				t.Fatalf("%+v", a)
			}
			within(t, "dim", float64(a.Dims[0]), row.dim, 0.002)
			if row.outcome == Met {
				within(t, "stops closed", float64(-a.Exposure), math.Log2(32*640/float64(cut)/120), 0.001)
				reserve := p.Reserves(a.Dims, a.Exposure)[0]
				within(t, "reserve", float64(reserve.Stops), row.reserve, 0.01)
			}
		})
	}
}

// A book light gives 132 lx at full, a fill 212 lx on both sides: 120 lx wanted in front, 30 lx on the shadow side. Fill
// 30/212 = 14 %, book 90/132 = 68 %, reserve log2(132/90) = 0.55. A quiet mode that ends at 60 % can't.
func TestBookLight(t *testing.T) {
	p := one(numbered(2), []Point{lit(0, 132, 212), lit(0, 0, 212)}, Target{Name: "front", Over: OverKey},
		Target{Name: "shadow", Point: 1, Over: OverKey, Wanted: -2})
	p.Key = 120
	a := mustSolve(t, p)
	within(t, "book", float64(a.Dims[0]), 0.68, 0.005)
	within(t, "fill", float64(a.Dims[1]), 0.14, 0.005)
	within(t, "reserve", float64(p.Reserves(a.Dims, 0)[0].Stops), 0.56, 0.01)

	p.Lamps[0].Max = 0.6
	a = mustSolve(t, p)
	if a.Outcome != Best || a.Limits[0].Kind != LampFull || a.Limits[0].Lamp != 0 {
		t.Errorf("quiet: %+v", a)
	}
}

// bookAt returns the level that the same book light gives at a distance from its cloth of 2.4 × 2.4 m: 132 lx at 2.5 m,
// elsewhere by the form factor.
func bookAt(d unit.Metre) unit.Lux {
	return 132 * unit.Lux(photometry.ElementRectangle(2.4, 2.4, d)/photometry.ElementRectangle(2.4, 2.4, 2.5))
}

// A gelled window leaves 0.71 of a falling daylight, and 639 lx are to be held: at 640 lx of daylight 185 lx are wanted
// of a frame that gives 450 lx, 41 %; at 300 lx 426 lx, 95 %, with a reserve of 0.08.
func TestHoldAWindow(t *testing.T) {
	for _, row := range []struct {
		name         string
		daylight     unit.Lux
		dim, reserve float64
	}{{"14:00", 640, 0.41, 1.28}, {"16:00", 300, 0.947, 0.08}} {
		t.Run(row.name, func(t *testing.T) {
			p := one(numbered(1), []Point{lit(0.71*row.daylight, 450)}, Target{Over: OverKey})
			p.Key = 639
			a := mustSolve(t, p)
			within(t, "dim", float64(a.Dims[0]), row.dim, 0.003)
			within(t, "reserve", float64(p.Reserves(a.Dims, 0)[0].Stops), row.reserve, 0.01)
		})
	}
}

// A spot of 560 kcd 16.39 m away through haze that leaves e^-0.3 gives 1337 lx on an upright face; 1.5 stops over 120 lx
// are 339 lx: 25 %, reserve 1.98.
func TestSpotThroughHaze(t *testing.T) {
	e := unit.Lux(560000 / (16.39 * 16.39) * math.Exp(-0.3) * math.Cos(math.Pi/6))
	p := one(numbered(1), []Point{lit(0, e)}, Target{Over: OverKey, Wanted: 1.5})
	p.Key = 120
	a := mustSolve(t, p)
	within(t, "dim", float64(a.Dims[0]), 0.254, 0.002)
	within(t, "reserve", float64(p.Reserves(a.Dims, 0)[0].Stops), 1.98, 0.01)
}

func TestReserveWithoutATarget(t *testing.T) {
	p := one(numbered(3), []Point{lit(500, 100, 1000, 0), lit(0, 0, 100, 0)}, Target{Over: OverKey},
		Target{Point: 1, Over: OverKey, Wanted: 1})
	got := p.Reserves([]unit.Fraction{1, 1, 0.5}, 0)
	for j, want := range []Reserve{
		{0, -1}, // gives a tenth of the lamps' light
		{-1, 1}, // a stop short
		{1, -1}, // lights nothing
	} {
		if got[j] != want {
			t.Errorf("lamp %d: %v, want %v", j, got[j], want)
		}
	}
}

// A target that says which lamp is to meet it asks that one, however little it gives there, and no other. The first lacks
// 50 lx of 100 and gives 10 at full: reserve log2(10/50).
func TestReserveOfTheLampNamed(t *testing.T) {
	p := one(numbered(2), []Point{lit(0, 10, 50)}, Target{Over: OverKey, By: "a"})
	got := p.Reserves([]unit.Fraction{1, 1}, 0)
	within(t, "named", float64(got[0].Stops), math.Log2(10./50), 1e-12)
	if got[1] != (Reserve{0, -1}) {
		t.Errorf("the other: %v", got[1])
	}
}

// Five ways to a side twice as bright as the ambient of 6800 lx, to a twentieth of a stop: one or two spots into muslin give
// 867 lx each, into grass 178 lx, through half white 5946 lx each. Only two through half white do it: at 57 %. One
// reaches the ratio only up to 5946 lx of ambient, and is enough before and after.
func TestWaysToTwiceTheAmbient(t *testing.T) {
	way := func(name string, e unit.Lux, lamps float64) Alternative {
		return Alternative{Name: name, Lamp: Lamp{Name: name, Max: 1}, By: []unit.Lux{e}, Cost: Cost{Current: 6 * lamps}}
	}
	k := &Kit{Answers: 9, Positions: []Position{{"beside them", []Alternative{{Name: "nothing"}, way("muslin", 867, 1),
		way("muslin, two", 1734, 2), way("grass", 178, 1), way("half white", 5946, 1), way("half white, two", 11892, 2)}}},
		Problem: Problem{Key: 250, Conditions: []string{""}, Points: []Point{{Ambient: []unit.Lux{6800}}},
			Targets: []Target{{Over: OverAmbient, Wanted: 1, Tolerance: 0.05}}}}
	r := mustRank(t, k)
	best := r.Answers[0]
	if k.Positions[0].Alternatives[best.Choice[0]].Name != "half white, two" || r.Answers[1].Answer.Outcome == Met {
		t.Fatalf("%+v", r.Answers[:2])
	}
	within(t, "dim", float64(best.Answer.Dims[0]), 0.57, 0.005)
	for _, a := range r.Answers {
		if k.Positions[0].Alternatives[a.Choice[0]].Name == "muslin, two" {
			within(t, "two into muslin", float64(a.Answer.Targets[0].Low), 0.33, 0.005)
		}
	}
	for ambient, want := range map[unit.Lux]float64{3100: 3100. / 5946, 6100: 6100. / 11892, 9600: 9600. / 11892, 2900: 2900. / 5946} {
		k.Points[0].Ambient[0] = ambient
		within(t, ambient.String(), float64(mustRank(t, k).Answers[0].Answer.Dims[0]), want, 0.006)
	}
}

// The window of TestFrameAgainstGelledWindow as a kit: four gels, and full grid (708 lx) or full white (1287 lx) on the
// frame. Needed are 2480, 1240, 620 and 310 lx: five of the eight do it, full white with four stops at 96 %. Those with
// half a stop to two and a half to spare come first.
func TestGelsAndCloths(t *testing.T) {
	sky := unit.Lux(2400 * math.Pi / 0.18)
	k := &Kit{Answers: 8, Problem: Problem{Key: 120, Exposure: Range{-6, 6}, Conditions: []string{""},
		Points: []Point{{Ambient: []unit.Lux{640}}, {Ambient: []unit.Lux{sky}}},
		Targets: []Target{{Name: "face", Over: OverKey, Tolerance: 0.001},
			{Name: "sky", Point: 1, Over: OverKey, Wanted: unit.Stops(float64(sky)/640) - 5, Tolerance: 0.001}}}}
	window := Position{Name: "window"}
	for stops := 3; stops <= 6; stops++ {
		kept := unit.Lux(math.Exp2(-float64(stops)))
		window.Alternatives = append(window.Alternatives, Alternative{Adds: [][]unit.Lux{{640 * (kept - 1), sky * (kept - 1)}}})
	}
	frame := Position{Name: "frame"}
	for _, e := range []unit.Lux{708, 1287} {
		frame.Alternatives = append(frame.Alternatives, Alternative{Lamp: Lamp{Max: 1}, By: []unit.Lux{e, 0}})
	}
	k.Positions = []Position{window, frame}
	r := mustRank(t, k)
	var met []string
	for _, a := range r.Answers {
		if a.Answer.Outcome == Met {
			met = append(met, fmt.Sprintf("%d stops, %s: %.1f", a.Choice[0]+3, []string{"grid", "white"}[a.Choice[1]], float64(a.Least)))
		}
	}
	if want := []string{"5 stops, white: 1.1", "6 stops, grid: 1.2", "6 stops, white: 2.1", "4 stops, white: 0.1",
		"5 stops, grid: 0.2"}; !cmp.Equal(met, want) {
		t.Errorf("%q\nwant %q", met, want)
	}
}

// A work bench with a key of 640 lx: 20 lx of ambient; a frame with 708 lx for the face, wanted at the key; a card with
// 168 lx for the shadow side, wanted three stops under, 80 lx; a globe of 2430 cd/m² wanted at +4, which now stands at
// log2(2430·π/(0.18·640)) = 6.05. Frame 620/708 = 88 %, card 60/168 = 36 %, globe 2^-2.05 = 24 %.
func TestBenchWithAGlobe(t *testing.T) {
	p := one(numbered(3), []Point{lit(20, 708, 0, 0), lit(20, 0, 168, 0), lit(0, 0, 0, 2430*math.Pi/0.18)},
		Target{Name: "key side", Over: OverKey}, Target{Name: "shadow side", Point: 1, Over: OverKey, Wanted: -3},
		Target{Name: "globe", Point: 2, Over: OverKey, Wanted: 4})
	p.Key = 640
	a := mustSolve(t, p)
	for j, want := range []float64{0.88, 0.36, 0.24} {
		within(t, p.Targets[j].Name, float64(a.Dims[j]), want, 0.005)
	}
	within(t, "reserve", float64(p.Reserves(a.Dims, 0)[0].Stops), 0.19, 0.01)
}
