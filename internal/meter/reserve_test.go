package meter

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gloam/internal/scene"
	"gloam/internal/unit"
)

// A target is met when all of the interval lies inside the tolerance, missed when none of it does, and may be between.
func TestJudge(t *testing.T) {
	stops := func(x unit.Stop) *unit.Stop { return &x }
	for _, row := range []struct {
		name                     string
		level                    *unit.Stop
		wanted, tolerance, doubt unit.Stop
		want                     string
	}{
		{"on it", stops(1), 1, 0.5, 0.25, "met"},
		{"over, the doubt just inside", stops(1.25), 1, 0.5, 0.25, "met"},
		{"under, the doubt just inside", stops(0.75), 1, 0.5, 0.25, "met"},
		{"the doubt as wide as the tolerance", stops(-3), -3, 0.5, 0.5, "met"},
		{"the doubt a hair wider than the tolerance", stops(-3), -3, 0.5, 0.5078125, "maybe"},
		{"over, the doubt just out", stops(1.2578125), 1, 0.5, 0.25, "maybe"},
		{"over, the doubt just reaches in", stops(1.75), 1, 0.5, 0.25, "maybe"},
		{"under, the doubt just reaches in", stops(0.25), 1, 0.5, 0.25, "maybe"},
		{"over, just missed", stops(1.7578125), 1, 0.5, 0.25, "missed"},
		{"under, just missed", stops(0.2421875), 1, 0.5, 0.25, "missed"},
		{"no tolerance and no doubt", stops(2), 2, 0, 0, "met"},
		{"no light", nil, 1, 0.5, 0.25, "dark"},
	} {
		t.Run(row.name, func(t *testing.T) {
			target := Target{Bound: scene.At, Level: row.level, Wanted: row.wanted, Tolerance: row.tolerance, Interval: row.doubt}
			target.judge()
			if target.Outcome != row.want {
				t.Errorf("is %s, want %s", target.Outcome, row.want)
			}
		})
	}
}

// A level at least or at most as wanted has no limit on the other side.
func TestJudgeBound(t *testing.T) {
	for _, row := range []struct {
		name         string
		bound        scene.Bound
		level, doubt unit.Stop
		want         string
	}{
		{"far over the least", scene.AtLeast, 9, 0.25, "met"},
		{"under the least within the tolerance", scene.AtLeast, 0.75, 0.25, "met"},
		{"under the least, the doubt reaches in", scene.AtLeast, 0.25, 0.25, "maybe"},
		{"just under the least", scene.AtLeast, 0.2421875, 0.25, "missed"},
		{"far under the most", scene.AtMost, -9, 0.25, "met"},
		{"over the most within the tolerance", scene.AtMost, 1.25, 0.25, "met"},
		{"over the most, the doubt reaches in", scene.AtMost, 1.75, 0.25, "maybe"},
		{"just over the most", scene.AtMost, 1.7578125, 0.25, "missed"},
	} {
		t.Run(row.name, func(t *testing.T) {
			target := Target{Bound: row.bound, Level: &row.level, Wanted: 1, Tolerance: 0.5, Interval: row.doubt}
			target.judge()
			if target.Outcome != row.want {
				t.Errorf("is %s, want %s", target.Outcome, row.want)
			}
		})
	}
}

// A walk's swing has no lower limit.
func TestJudgeSwing(t *testing.T) {
	stops := func(x unit.Stop) *unit.Stop { return &x }
	for _, row := range []struct {
		name        string
		swing       *unit.Stop
		doubt, most unit.Stop
		want        string
	}{
		{"none", stops(0), 0.25, 1, "met"},
		{"the doubt just below the most", stops(0.75), 0.25, 1, "met"},
		{"the doubt just above", stops(0.7578125), 0.25, 1, "maybe"},
		{"the doubt just reaches", stops(1.25), 0.25, 1, "maybe"},
		{"just missed", stops(1.2578125), 0.25, 1, "missed"},
		{"dark somewhere", nil, 0, 1, "dark"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := judgeSwing("in", row.swing, row.doubt, row.most)
			if got.Outcome != row.want || got.Of != "in" || got.Wanted != row.most {
				t.Errorf("is %+v, want %s", got, row.want)
			}
		})
	}
}

// 10,000 lx of lamp over 1,600 lx: what each kind of target reads, in stops.
func TestTargetLevels(t *testing.T) {
	b := lit(t, oneLamp+`ambient: {sky: {reading: 1600 lx, shape: everywhere}}
points: {point: {at: 0 0 1, faces: N}, aside: {at: 0 0 1, faces: 60 deg}, away: {at: 0 0 1, faces: S}}
walks: {in: {marks: [0 -5, 0 0], height: 1 m, faces: N, every: 5 m}}
targets:
  - {point: point, level: +6}
  - {point: point, level: +2, over: ambient, tolerance: 1/2}
  - {point: aside, level: -1, over: point}
  - {walk: in, swing: 1}
  - {point: away, level: 0, over: ambient}
`)
	total := 11_600.0
	for i, want := range []Target{
		{Of: "point", Over: "key", Wanted: 6, Tolerance: 1.0 / 3, Level: stop(math.Log2(total / key))},
		{Of: "point", Over: "ambient", Wanted: 2, Tolerance: 0.5, Level: stop(math.Log2(total / 1600))},
		{Of: "aside", Over: "point", Wanted: -1, Tolerance: 1.0 / 3, Level: stop(math.Log2(6600 / total))},
		{Of: "in", Over: "its darkest place", Wanted: 1, Level: stop(math.Log2(total / 4100))},
		{Of: "away", Over: "ambient", Wanted: 0, Tolerance: 1.0 / 3, Level: stop(0)},
	} {
		got := b.levels.Targets[i]
		within(t, "level of "+got.Of+" over "+got.Over, some(t, "level", got.Level), float64(*want.Level), 0.002)
		got.Level, got.Interval, got.Outcome, want.Level = nil, 0, "", nil
		if want.Bound = scene.At; i == 3 {
			want.Bound = scene.AtMost
		}
		if got != want {
			t.Errorf("target %d is %+v, want %+v", i, got, want)
		}
	}
}

func stop(x float64) *unit.Stop { s := unit.Stop(x); return &s }

// Reserve is log2 of a lamp's full output in the mode it runs in over the least output that meets the targets it carries,
// all else as planned. The lamp gives 10,000 lx at full; needed is its share worked out by hand.
func TestReserve(t *testing.T) {
	const sky = "ambient: {sky: {reading: 1600 lx, shape: everywhere}}\n"
	const points = "points: {point: {at: 0 0 1, faces: N}, aside: {at: 0 0 1, faces: 60 deg}}\n"
	for _, row := range []struct {
		name, lamp, ambient, targets string
		needed                       float64
		of, outcome                  string
	}{
		// K = A(2ⁿ − 1): 4,800 lx
		{"two stops over ambient", "kit: spot", sky, "{point: point, level: +2, over: ambient}", 0.48, "point over ambient", "enough"},
		{"the planned dim does not matter", "kit: spot, dim: 10 %", sky, "{point: point, level: +2, over: ambient}", 0.48, "point over ambient", "enough"},
		{"in the quiet mode 0.6 of it is all", "kit: quiet spot, mode: quiet", sky, "{point: point, level: +2, over: ambient}", 0.48 / 0.6, "point over ambient", "within the doubt"},
		{"too weak", "kit: spot", sky, "{point: point, level: +4, over: ambient}", 2.4, "point over ambient", "too weak"},
		{"over the key, the ambient helps", "kit: spot", sky, "{point: point, level: +5}", (120*32 - 1600) / 1e4, "point", "enough"},
		{"over the key alone", "kit: spot", "", "{point: point, level: 0}", 0.012, "point", "more than needed"},
		// x + A = 2^w(x/2 + A): at −1/2 the aside gets half of what the lamp gives the point
		{"over another point", "kit: spot", sky, "{point: point, level: +1/2, over: aside}",
			1600 * (math.Sqrt2 - 1) / (1e4 * (1 - math.Sqrt2/2)), "point over aside", "enough"},
		{"the hardest of several", "kit: spot", sky, "{point: point, level: +1, over: ambient}, {point: point, level: +2, over: ambient}, {point: aside, level: +1, over: ambient}",
			0.48, "point over ambient", "enough"},
		{"a point that gets half is harder", "kit: spot", sky, "{point: point, level: +1, over: ambient}, {point: aside, level: +1, over: ambient}", 0.32, "aside over ambient", "enough"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := lit(t, "lamps: {lamp: {"+row.lamp+", at: 0 5 1, aim: S}}\n"+row.ambient+points+"targets: ["+row.targets+"]\n")
			lamp := b.lamp(t, "lamp")
			within(t, "needed share", some(t, "needed", lamp.Needed), row.needed, 0.002*row.needed)
			within(t, "reserve", some(t, "reserve", lamp.Reserve), -math.Log2(row.needed), 0.003)
			point, _, _ := strings.Cut(row.of, " ")
			if lamp.For != row.of || lamp.Outcome != row.outcome || lamp.Interval != b.point(t, point).Interval {
				t.Errorf("is %s for %q with an interval of %v, want %s for %q", lamp.Outcome, lamp.For, lamp.Interval, row.outcome, row.of)
			}
		})
	}
}

// Set to what is needed, the lamp meets the target: the definition the other way round.
func TestNeededMeetsTheTarget(t *testing.T) {
	const rest = "ambient: {sky: {reading: 1600 lx, shape: everywhere}}\n" + atPoint + "targets: [{point: point, level: +2, over: ambient}]\n"
	needed := some(t, "needed", lit(t, oneLamp+rest).lamp(t, "lamp").Needed)
	b := lit(t, fmt.Sprintf("lamps: {lamp: {kit: spot, at: 0 5 1, aim: S, dim: %.9f}}\n", needed)+rest)
	within(t, "over ambient", some(t, "level", b.levels.Targets[0].Level), 2, 1e-3)
}

// A globe of 2,430 cd/m² seen at a key of 640 lx stands +6.05 over grey: for +4 it needs 24 %, and has 2.05 stops left.
func TestReserveForASpot(t *testing.T) {
	b := put(t, 0.002, `practicals: {globe: {kind: globe, at: 0 5 1, diameter: 0.14 m, flux: 470 lm, dim: 24 %}}
points: {seen: {at: globe, receptor: spot}}
targets: [{point: seen, level: +4}]
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 0 0 1, aim: N, constant: 1333.333}
`)
	globe := b.lamp(t, "globe")
	within(t, "needed", some(t, "needed", globe.Needed), 0.24, 0.003)
	within(t, "reserve", some(t, "reserve", globe.Reserve), 2.05, 0.01)
	within(t, "is", some(t, "level", b.levels.Targets[0].Level), 4, 0.02)
}

// Without a target a lamp's reserve is over its planned dim; a lamp whose target is met without it has none, because
// its light is not needed.
func TestReserveWithoutNeed(t *testing.T) {
	plain := lit(t, "lamps:\n"+aimed("lamp", "spot", 5, ", dim: 25 %")+aimed("hush", "quiet spot", 6, ", mode: quiet, dim: 30 %")+aimed("off", "spot", 7, ", dim: 0 %")+atPoint)
	within(t, "over 25 %", some(t, "reserve", plain.lamp(t, "lamp").Reserve), 2, 1e-9)
	within(t, "over 30 % of 60 %", some(t, "reserve", plain.lamp(t, "hush").Reserve), 1, 1e-9)
	if lamp := plain.lamp(t, "lamp"); lamp.For != "planned dim" || lamp.Outcome != "planned" || lamp.Needed != nil {
		t.Errorf("without a target: %+v", lamp)
	}
	if off := plain.lamp(t, "off"); off.Reserve != nil {
		t.Errorf("a lamp that is off has a reserve of %v over it", *off.Reserve)
	}
	idle := lit(t, oneLamp+"ambient: {sky: {reading: 1600 lx, shape: everywhere}}\n"+atPoint+"targets: [{point: point, level: +3}]\n").lamp(t, "lamp")
	if idle.Reserve != nil || idle.Needed != nil || idle.Outcome != "not needed" {
		t.Errorf("a lamp that is not needed: %+v", idle)
	}
	// The lamp lights the point half as much as what the point is measured over: more of it can't bring them level.
	far := lit(t, oneLamp+"ambient: {sky: {reading: 100 lx, shape: everywhere}}\npoints: {point: {at: 0 0 1, faces: N}, aside: {at: 0 0 1, faces: 60 deg}}\n"+
		"targets: [{point: aside, level: +1/2, over: point}]\n").lamp(t, "lamp")
	if far.Reserve != nil || far.Needed != nil || far.Outcome != "out of reach" {
		t.Errorf("a lamp that cannot reach its target: %+v", far)
	}
}

// A reserve in a word, at its limits (common practice, no source).
func TestEnough(t *testing.T) {
	for _, row := range []struct {
		name              string
		reserve, interval unit.Stop
		want              string
	}{
		{"a hair too little", -0.001, 0.3, "too weak"}, {"just enough to be none", 0, 0.3, "within the doubt"},
		{"below half a stop", 0.499, 0.3, "within the doubt"}, {"half a stop", 0.5, 0.3, "enough"},
		{"inside its own interval", 0.7, 0.71, "within the doubt"}, {"outside", 0.72, 0.71, "enough"},
		{"two and a half", 2.5, 0.3, "enough"}, {"more", 2.51, 0.3, "more than needed"},
	} {
		if got := enough(row.reserve, row.interval); got != row.want {
			t.Errorf("%s: a reserve of %v ±%v is %s, want %s", row.name, row.reserve, float64(row.interval), got, row.want)
		}
	}
}

// A lamp carries a target where it gives a quarter or more of what all lamps give the point (common practice, no source),
// taken at full where it is dimmed to nothing.
func TestWhoCarriesATarget(t *testing.T) {
	const target = atPoint + "targets: [{point: point, level: +6}]\n"
	// The near lamp gives 10,000 lx, the far one at 10 m 2,500 at full.
	b := lit(t, "lamps:\n"+aimed("near", "spot", 5, "")+aimed("far", "spot", 10, ", dim: 50 %")+target)
	within(t, "needed of the near lamp", some(t, "needed", b.lamp(t, "near").Needed), (120*64-1250)/oneLevel, 1e-3)
	within(t, "the far lamp, over its dim", some(t, "reserve", b.lamp(t, "far").Reserve), 1, 1e-9)
	if near, far := b.lamp(t, "near"), b.lamp(t, "far"); near.For != "point" || far.For != "planned dim" {
		t.Errorf("near is for %q, far for %q", near.For, far.For)
	}
	// Dimmed to 40 %, 4,000 lx, the near lamp leaves the far one's 2,500 a share of 38 %: both carry it.
	b = lit(t, "lamps:\n"+aimed("near", "spot", 5, ", dim: 40 %")+aimed("far", "spot", 10, "")+target)
	within(t, "needed of the near lamp", some(t, "needed", b.lamp(t, "near").Needed), (120*64-2500)/oneLevel, 1e-3)
	within(t, "needed of the far lamp", some(t, "needed", b.lamp(t, "far").Needed), (120*64-4000)/2500.0, 2e-3)
	// Off for now, the near lamp is still the one the target is for.
	b = lit(t, "lamps:\n"+aimed("near", "spot", 5, ", dim: 0 %")+aimed("far", "spot", 10, "")+target)
	within(t, "needed of the lamp that is off", some(t, "needed", b.lamp(t, "near").Needed), (120*64-2500)/oneLevel, 1e-3)
}
