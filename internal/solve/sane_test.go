package solve

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"gloam/internal/unit"
)

// Whatever the numbers, an answer is settings that the controls have, and says of itself what it comes to when run
// forward.
func TestSolveIsSane(t *testing.T) {
	level := rapid.SampledFrom([]unit.Lux{0, 0, 1e-6, 0.3, 1, 7, 100, 250, 1e7})
	stops := rapid.SampledFrom([]unit.Stop{-20, -3, -1, 0, 0, 1. / 3, 1, 2, 20})
	rapid.Check(t, func(t *rapid.T) {
		p := &Problem{Key: rapid.SampledFrom([]unit.Lux{1e-3, 100, 1e6}).Draw(t, "key"), Conditions: []string{"a", "b"}}
		p.Exposure = rapid.SampledFrom([]Range{{}, {-1, 2}}).Draw(t, "exposure")
		n, m := rapid.IntRange(0, 4).Draw(t, "lamps"), rapid.IntRange(1, 5).Draw(t, "points")
		p.Conditions = p.Conditions[:rapid.IntRange(1, 2).Draw(t, "conditions")]
		for range n {
			l := Lamp{Max: 1, Step: rapid.SampledFrom([]unit.Fraction{0, 0.01, 0.3}).Draw(t, "step")}
			l.Min = rapid.SampledFrom([]unit.Fraction{0, 0.1, 1}).Draw(t, "min")
			l.CanBeOff = rapid.Bool().Draw(t, "off")
			p.Lamps = append(p.Lamps, l)
		}
		for range m {
			p.Points = append(p.Points, Point{By: rapid.SliceOfN(level, n, n).Draw(t, "by"),
				Ambient: rapid.SliceOfN(level, len(p.Conditions), len(p.Conditions)).Draw(t, "ambient"), Fixed: level.Draw(t, "fixed")})
		}
		for range rapid.IntRange(0, 5).Draw(t, "targets") {
			g := Target{Point: rapid.IntRange(0, m-1).Draw(t, "point"), Over: rapid.IntRange(OverAmbient, m-1).Draw(t, "over"),
				Wanted: stops.Draw(t, "wanted"), Sense: Sense(rapid.IntRange(0, 2).Draw(t, "sense")),
				Tolerance: unit.Stop(math.Abs(float64(stops.Draw(t, "tolerance"))))}
			if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
				g.Across, g.Wanted = []int{0, m - 1}, unit.Stop(math.Abs(float64(g.Wanted)))
			}
			p.Targets = append(p.Targets, g)
		}
		a, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		share := make([]float64, n)
		for j, dim := range a.Dims {
			l := &p.Lamps[j]
			if !(dim >= l.Min && dim <= l.Max || l.CanBeOff && dim == 0) {
				t.Fatalf("lamp %d at %v", j, float64(dim))
			}
			share[j] = l.output(dim)
		}
		_, worst := misses(p, share, float64(a.Exposure))
		if told := float64(a.Miss); math.IsNaN(told) || !(math.Abs(told-worst) <= near || told > 60 && (worst > 60 || math.IsNaN(worst))) {
			t.Fatalf("told %g, run forward %g", told, worst)
		}
		if (a.Outcome == Met) != (a.Miss == 0) || a.Outcome == Met != (len(a.Limits) == 0) {
			t.Fatalf("%+v", a)
		}
		for _, r := range p.Reserves(a.Dims, 0) {
			if math.IsNaN(float64(r.Stops)) {
				t.Fatalf("%+v", r)
			}
		}
	})
}

// Kits of odd numbers are ranked as when every choice is solved.
func TestRankIsSane(t *testing.T) {
	level := rapid.SampledFrom([]unit.Lux{0, 0, 1e-6, 1, 40, 100, 1e7})
	rapid.Check(t, func(t *rapid.T) {
		k := &Kit{Answers: 3, Problem: Problem{Key: 100, Conditions: []string{"a", "b"}[:rapid.IntRange(1, 2).Draw(t, "conditions")]}}
		k.Exposure = rapid.SampledFrom([]Range{{}, {-1, 2}}).Draw(t, "exposure")
		k.Budget.Current = rapid.SampledFrom([]float64{0, 1, 3}).Draw(t, "budget")
		n, c := 2, len(k.Conditions)
		for range n {
			k.Points = append(k.Points, Point{Ambient: rapid.SliceOfN(level, c, c).Draw(t, "ambient")})
		}
		for range rapid.IntRange(0, 3).Draw(t, "positions") {
			var p Position
			for range rapid.IntRange(1, 3).Draw(t, "alternatives") {
				a := Alternative{Cost: Cost{Current: float64(rapid.IntRange(0, 2).Draw(t, "current"))}}
				switch rapid.IntRange(0, 2).Draw(t, "kind") {
				case 1:
					a.By, a.Lamp = rapid.SliceOfN(level, n, n).Draw(t, "by"), Lamp{Max: rapid.SampledFrom([]unit.Fraction{0, 1}).Draw(t, "max")}
				case 2:
					for range c {
						a.Adds = append(a.Adds, []unit.Lux{-level.Draw(t, "taken"), level.Draw(t, "added")})
					}
				}
				p.Alternatives = append(p.Alternatives, a)
			}
			k.Positions = append(k.Positions, p)
		}
		for i := range n {
			k.Targets = append(k.Targets, Target{Point: i, Over: rapid.IntRange(OverAmbient, 1).Draw(t, "over"),
				Sense: Sense(rapid.IntRange(0, 2).Draw(t, "sense"))})
		}
		k.Targets = append(k.Targets, Target{Across: []int{0, 1}, Wanted: 1})
		r, err := k.Rank(t.Context(), nil)
		if err != nil {
			t.Fatal(err)
		}
		want := tried(k)
		if want = want[:min(3, len(want))]; !cmp.Equal(r.Answers, want, cmpopts.EquateEmpty()) {
			t.Fatalf("%+v\nwant %+v", r.Answers, want)
		}
	})
}
