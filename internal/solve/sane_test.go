package solve

import (
	"math"
	"testing"

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
