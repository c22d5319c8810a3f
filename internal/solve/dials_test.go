package solve

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gloam/internal/fault"
	"gloam/internal/numeric"
	"gloam/internal/unit"
)

func mustSolve(t testing.TB, p *Problem) Answer {
	t.Helper()
	a, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// within checks a value against one worked out by hand.
func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s %.6g, want %.6g ± %g", what, got, want, tolerance)
	}
}

// numbered names n lamps.
func numbered(n int) (out []Lamp) {
	for i := range n {
		out = append(out, Lamp{Name: string(rune('a' + i)), Max: 1})
	}
	return out
}

// random returns a problem of n lamps and m targets, met by settings drawn at random if met.
func random(seed uint32, n, m int, met bool) *Problem {
	s := numeric.Path(11, seed)
	draw := func() float64 { u, _ := s.Next(); return u }
	p := &Problem{Key: 100, Conditions: []string{""}, Lamps: numbered(n)}
	set := make([]float64, n)
	for j := range set {
		set[j] = 0.1 + 0.8*draw()
	}
	for i := range m {
		q := Point{Ambient: []unit.Lux{unit.Lux(10 * draw())}}
		level := float64(q.Ambient[0])
		for j := range n {
			e := 200 * math.Pow(draw(), 3)
			q.By = append(q.By, unit.Lux(e))
			level += e * set[j]
		}
		p.Points = append(p.Points, q)
		t := Target{Point: i, Over: OverKey, Wanted: unit.Stops(level / 100), Tolerance: 0.1}
		if !met {
			t.Wanted += unit.Stop(3 * (draw() - 0.5))
		}
		p.Targets = append(p.Targets, t)
	}
	return p
}

func TestSolveFindsSettingsThatMeet(t *testing.T) {
	for seed := range uint32(100) {
		if a := mustSolve(t, random(seed, 10, 20, true)); a.Outcome != Met {
			t.Errorf("problem %d: %+v", seed, a)
		}
	}
}

// one returns a problem of one condition with a key of 100 lx.
func one(l []Lamp, points []Point, targets ...Target) *Problem {
	return &Problem{Key: 100, Conditions: []string{""}, Lamps: l, Points: points, Targets: targets}
}

func lit(ambient unit.Lux, by ...unit.Lux) Point { return Point{By: by, Ambient: []unit.Lux{ambient}} }

func TestSolveNamesWhatLimits(t *testing.T) {
	half := []Lamp{{Name: "a", Min: 0.5, Max: 1}}
	for _, row := range []struct {
		name    string
		problem *Problem
		outcome Outcome
		miss    float64
		limits  []Limit
	}{
		{"met exactly with no tolerance", one(numbered(1), []Point{lit(0, 400)}, Target{Over: OverKey, Wanted: 1}), Met, 0, nil},
		{"one stop short", one(numbered(1), []Point{lit(0, 400)}, Target{Over: OverKey, Wanted: 3}), Best, 1,
			[]Limit{{LampFull, 0, []int{0}}}},
		{"contradiction shares the miss", one(numbered(1), []Point{lit(0, 400)}, Target{Over: OverKey, Wanted: 1},
			Target{Over: OverKey, Wanted: -1}), Best, 1, []Limit{{Conflict, -1, []int{0, 1}}}},
		{"the heavier of two is missed by less", one(numbered(1), []Point{lit(0, 400)},
			Target{Over: OverKey, Wanted: 1, Weight: 2}, Target{Over: OverKey, Wanted: -1}), Best, 1.6,
			[]Limit{{Conflict, -1, []int{0, 1}}}},
		{"no lamp sees it", one(numbered(1), []Point{lit(0, 0)}, Target{Over: OverKey}), Best, math.Inf(1),
			[]Limit{{Unlit, -1, []int{0}}}},
		{"no ambient to be over", one(numbered(1), []Point{lit(0, 100)}, Target{Over: OverAmbient}), Best, math.Inf(1),
			[]Limit{{Unlit, -1, []int{0}}}},
		{"dark enough", one(numbered(1), []Point{lit(0, 0)}, Target{Over: OverKey, Sense: AtMost, Wanted: -3}), Met, 0, nil},
		{"no kit, met", one(nil, []Point{lit(100)}, Target{Over: OverKey}), Met, 0, nil},
		{"no kit, missed", one(nil, []Point{lit(50)}, Target{Over: OverKey}), Best, 1, []Limit{{NoLamp, -1, []int{0}}}},
		{"no targets", one(numbered(2), []Point{lit(50, 1, 1)}), Met, 0, nil},
		{"ambient too bright", one(numbered(1), []Point{lit(400, 100)}, Target{Over: OverKey, Sense: AtMost}), Best, 2,
			[]Limit{{OtherLight, -1, []int{0}}}},
		{"lamp too bright at its least", one(half, []Point{lit(0, 400)}, Target{Over: OverKey}), Best, 1,
			[]Limit{{LampLeast, 0, []int{0}}, {OtherLight, -1, []int{0}}}},
		{"steps too coarse", one([]Lamp{{Name: "a", Max: 1, Step: 0.5}}, []Point{lit(0, 100)},
			Target{Over: OverKey, Wanted: unit.Stops(0.75)}), Best, math.Log2(4. / 3), []Limit{{ControlSteps, -1, []int{0}}}},
		{"a lone lamp's walk", one(numbered(1), []Point{lit(0, 100), lit(0, 800)}, Target{Across: []int{0, 1}, Wanted: 1}), Best, 2,
			[]Limit{{Unmoved, -1, []int{0}}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			a := mustSolve(t, row.problem)
			if a.Outcome != row.outcome || !cmp.Equal(a.Limits, row.limits) {
				t.Errorf("%s, limits %+v; want %s, %+v", a.Outcome, a.Limits, row.outcome, row.limits)
			}
			if math.IsInf(row.miss, 1) != math.IsInf(float64(a.Miss), 1) || !math.IsInf(row.miss, 1) {
				within(t, "miss", float64(a.Miss), row.miss, 0.006)
			}
		})
	}
}

// Two equal lamps share the light; one that no target needs stays dark.
func TestSolveSharesAndSpares(t *testing.T) {
	a := mustSolve(t, one(numbered(3), []Point{lit(0, 100, 100, 0)}, Target{Over: OverKey}))
	for j, want := range []float64{0.5, 0.5, 0} {
		within(t, a.Dims[j].String(), float64(a.Dims[j]), want, 1e-3)
	}
}

// A free exposure stays at the key as long as the lamps can serve it, and moves no further than they need.
func TestSolveKeepsTheKey(t *testing.T) {
	for full, want := range map[unit.Lux]float64{800: 0, 25: 2} {
		p := one(numbered(2), []Point{lit(0, full, 0), lit(0, 0, full)}, Target{Over: OverKey}, Target{Point: 1, Over: OverKey, Wanted: -3})
		p.Exposure = Range{-6, 6}
		a := mustSolve(t, p)
		if a.Outcome != Met {
			t.Errorf("%+v", a)
		}
		within(t, "opened", float64(a.Exposure), want, 0.01)
	}
}

func TestSolveServesAllConditions(t *testing.T) {
	p := one(numbered(1), []Point{{By: []unit.Lux{400}, Ambient: []unit.Lux{0, 100}}}, Target{Over: OverKey, Wanted: 1, Tolerance: 0.3})
	p.Conditions = []string{"early", "late"}
	a := mustSolve(t, p)
	// 200·2^−0.3 = 162.4 lx early and 262.4 lx late, 0.09 stop above the limit of 246.2 lx: the misses are shared.
	if a.Outcome != Best || a.Miss > 0.09 || a.Miss < 0.04 {
		t.Errorf("%+v", a)
	}
	p.Targets[0].Tolerance = 0.4
	if a := mustSolve(t, p); a.Outcome != Met || a.Targets[0].High-a.Targets[0].Low > 0.8 {
		t.Errorf("%+v", a)
	}
}

func TestSolveIsRepeatable(t *testing.T) {
	for seed := range uint32(20) {
		p := anyKind(seed)
		if a, b := mustSolve(t, p), mustSolve(t, p); !cmp.Equal(a, b) {
			t.Errorf("%+v\n%+v", a, b)
		}
	}
}

func TestSolveRefuses(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(*Problem)
		want   string
	}{
		{"key", func(p *Problem) { p.Key = 0 }, "key"},
		{"exposure", func(p *Problem) { p.Exposure = Range{1, 2} }, "exposure"},
		{"conditions", func(p *Problem) { p.Conditions, p.Points[0].Ambient = nil, nil }, "conditions"},
		{"dim", func(p *Problem) { p.Lamps[0].Max = 2 }, "lamps.a"},
		{"level", func(p *Problem) { p.Points[0].By[0] = unit.Lux(math.NaN()) }, "points."},
		{"wanted", func(p *Problem) { p.Targets[0].Wanted = unit.Stop(math.NaN()) }, "targets."},
		{"weight", func(p *Problem) { p.Targets[0].Weight = -1 }, "targets."},
		{"swing", func(p *Problem) { p.Targets[0].Across, p.Targets[0].Wanted = []int{0}, -1 }, "targets."},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := one(numbered(1), []Point{lit(1, 1)}, Target{Over: OverKey})
			row.change(p)
			_, err := Solve(p)
			if faults := fault.Of(err, fault.Input); len(faults) != 1 || faults[0].Path != row.want {
				t.Errorf("%v, want one at %s", err, row.want)
			}
		})
	}
}

// Light that is nearly none still is some: a start in the dark is not where the others end.
func TestSolveLeavesTheDark(t *testing.T) {
	a := mustSolve(t, one(numbered(1), []Point{lit(0, 1e-6), lit(0, 0)}, Target{Over: 0}, Target{Point: 1, Over: 0}))
	if a.Targets[0].Miss != 0 || a.Dims[0] == 0 {
		t.Errorf("%+v", a)
	}
}

func TestDescentAllocatesNothing(t *testing.T) {
	d := newDials(random(1, 10, 20, false))
	if n := testing.AllocsPerRun(10, func() { d.solve() }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkDials(b *testing.B) {
	for _, row := range []struct {
		name       string
		met, mixed bool
	}{{"met", true, false}, {"missed", false, false}, {"ratios and swings met", true, true}, {"ratios and swings missed", false, true}} {
		b.Run(row.name, func(b *testing.B) {
			var all []*Problem
			for seed := range uint32(50) {
				p := random(seed, 10, 20, row.met)
				if row.mixed {
					p = valleys(seed, row.met)
				}
				for j := range p.Lamps {
					p.Lamps[j].Step = 0.01
				}
				all = append(all, p)
			}
			for i := 0; b.Loop(); i++ {
				mustSolve(b, all[i%len(all)])
			}
		})
	}
}

func TestSay(t *testing.T) {
	p := one(numbered(1), []Point{lit(0, 400)}, Target{Name: "face", Over: OverKey}, Target{Name: "wall", Over: OverKey})
	for want, l := range map[string]Limit{
		"a at full: face, wall needs more": {LampFull, 0, []int{0, 1}},
		"a at its least: wall needs less":  {LampLeast, 0, []int{1}},
		"targets in conflict: face, wall":  {Conflict, -1, []int{0, 1}},
		"no light reaches it: face":        {Unlit, -1, []int{0}},
	} {
		if got := p.Say(l); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
