package meter

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/unit"
)

// Half-widths in stops of what nobody knows better (common practice, no source): distance, dim curve, meter, and the day
// against a reading.
const (
	distance = 0.14
	dim      = 0.07
	check    = 0.10
	day      = 1.0 / 3
)

func square(parts ...float64) (s float64) {
	for _, x := range parts {
		s += x * x
	}
	return math.Sqrt(s)
}

// A lamp through a heavy cloth: lamp, cloth, distance, dim and meter by root-sum-square are about 0.31 where both were
// measured, 0.63 from sheets, 1.23 by guess.
func TestIntervalOfALampThroughACloth(t *testing.T) {
	for _, row := range []struct {
		quality     string
		lamp, cloth float64
		about       float64
	}{{"measured", 0.15, 0.20, 0.31}, {"sheet", 0.45, 0.40, 0.63}, {"guessed", 1.0, 0.7, 1.23}} {
		t.Run(row.quality, func(t *testing.T) {
			spot := map[string]string{"measured": "spot", "sheet": "sheet spot", "guessed": "guessed spot"}[row.quality]
			b := put(t, 0.004, "lamps:\n"+aimed("lamp", spot, 5, "")+atPoint+"cloths: {frame: {kind: "+row.quality+" grid, size: 2 x 2 m, at: 0 2 1, faces: N}}\n"+camera)
			p := b.point(t, "point")
			within(t, "interval", float64(p.Interval), row.about, 0.006)
			exact := square(row.lamp, row.cloth, distance, dim, check, 1.96*float64(p.Stderr))
			within(t, "interval by its parts", float64(p.Interval), exact, 1e-6)
		})
	}
}

// Each cause counts by the share of the light it touches.
func TestIntervalWeighsShares(t *testing.T) {
	for _, row := range []struct {
		name, lamps, more string
		want              float64
	}{
		{"a lamp alone", aimed("a", "sheet spot", 5, ""), "", square(0.45, distance, dim, check)},
		{"an ambient alone", "", "ambient: {sky: {reading: 640 lx, shape: everywhere}}\n", square(day, check)},
		{"an ambient of stated doubt", "", "ambient: {sky: {reading: 640 lx, shape: everywhere, doubt: 1}}\n", square(1, check)},
		{"a lamp and as much ambient", aimed("a", "sheet spot", 5, ""), "ambient: {sky: {reading: 10000 lx, shape: everywhere}}\n",
			square(0.225, distance/2, dim/2, day/2, check)},
		{"a lamp and three times as much ambient", aimed("a", "sheet spot", 5, ""), "ambient: {sky: {reading: 30000 lx, shape: everywhere}}\n",
			square(0.45/4, distance/4, dim/4, day*3/4, check)},
		// 1 + 1 err together: (½ + ½)·0.45; each distance and dim is its own
		{"two of a kind", aimed("a", "sheet spot", 5, "") + aimed("b", "sheet spot", 5, ""), "", square(0.45, distance/2, distance/2, dim/2, dim/2, check)},
		{"two of different kinds", aimed("a", "sheet spot", 5, "") + aimed("b", "other spot", 5, ""), "",
			square(0.225, 0.225, distance/2, distance/2, dim/2, dim/2, check)},
	} {
		t.Run(row.name, func(t *testing.T) {
			lamps := ""
			if row.lamps != "" {
				lamps = "lamps:\n" + row.lamps
			}
			p := lit(t, lamps+row.more+atPoint).point(t, "point")
			within(t, "interval", float64(p.Interval), square(row.want, 1.96*float64(p.Stderr)), 2e-4)
		})
	}
}

// Half of the light passes a cloth, half goes by: the cloth counts by half. Two frames of one kind err together.
func TestIntervalOfTwoFrames(t *testing.T) {
	const pair = `lamps: {a: {kit: spot, at: 3 4 1, aim: point}, b: {kit: spot, at: -3 4 1, aim: point}}
points: {point: {at: 0 0 1, faces: N}}
`
	frame := func(name, kind string, side float64) string {
		return fmt.Sprintf("  %s: {kind: %s, size: 1 x 1 m, at: %g 2 1, faces: point}\n", name, kind, 1.5*side)
	}
	lamps := square(0.15, distance/2, distance/2, dim/2, dim/2, check)
	for _, row := range []struct {
		name, cloths string
		want         func(p *Reading) float64
	}{
		{"of a kind", frame("one", "sheet grid", 1) + frame("two", "sheet grid", -1), func(*Reading) float64 { return square(lamps, 0.40) }},
		{"of different kinds", frame("one", "sheet grid", 1) + frame("two", "guessed grid", -1),
			func(p *Reading) float64 { return square(lamps, 0.40*p.By[0].Share, 0.7*p.By[1].Share) }},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := put(t, 0.004, pair+"cloths:\n"+row.cloths+camera).point(t, "point")
			within(t, "interval", float64(p.Interval), square(row.want(p), 1.96*float64(p.Stderr)), 0.004)
		})
	}
}

// Between two levels what moves both alike drops out: the meter, and a lamp that lights both.
func TestIntervalBetween(t *testing.T) {
	points := "points: {point: {at: 0 0 1, faces: N}, aside: {at: 0 0 1, faces: 60 deg}, past: {at: 0 10 1, faces: S}}\n"
	sky := "ambient: {sky: {reading: 10000 lx, shape: everywhere}}\n"
	over := func(point, other string) string {
		return "targets: [{point: " + point + ", level: 0, over: " + other + "}]\n"
	}
	lamp := aimed("a", "sheet spot", 5, "")
	for _, row := range []struct {
		name, plan string
		want       float64
	}{
		{"the same lamp", "lamps:\n" + lamp + points + over("aside", "point"), 0},
		{"the same lamp and ambient in another mix", "lamps:\n" + lamp + sky + points + over("aside", "point"), // shares ½ and ⅓ of the lamp
			square(0.45/6, distance/6, dim/6, day/6)},
		// ambient and lamp over ambient alone: the lamp's half, and half of the day's doubt
		{"over the ambient alone", "lamps:\n" + lamp + sky + points + over("point", "ambient"), square(0.225, distance/2, dim/2, day/2)},
		{"two lamps of a kind, one each", "lamps:\n" + lamp + "  b: {kit: sheet spot, at: 0 5 1, aim: N}\n" + points + over("point", "past"), square(distance, distance, dim, dim)},
		{"two lamps of different kinds, one each", "lamps:\n" + lamp + "  b: {kit: other spot, at: 0 5 1, aim: N}\n" + points + over("point", "past"),
			square(0.45, 0.45, distance, distance, dim, dim)},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := lit(t, row.plan).levels.Targets[0].Interval
			within(t, "interval", float64(got), row.want, 0.004) // the sampling's part
		})
	}
}

// A person's ratio and a walk's swing are such differences too.
func TestIntervalOfRatioAndSwing(t *testing.T) {
	b := lit(t, `people: {maker: {at: 0 0, faces: N, key: left}}
walks: {in: {marks: [0 3, 0 1], who: maker, faces: N}}
lamps: {lamp: {kit: sheet spot, at: 0 9 1.6, aim: S}}
`)
	within(t, "ratio under one lamp", float64(b.levels.Ratios[0].Interval), 0, 0.006)
	within(t, "swing under one lamp", float64(b.levels.Walks[0].Interval), 0, 0.006)
	if at := b.levels.Walks[0].Points[0].Interval; !(at > 0.4) {
		t.Errorf("the level at a place of the walk is known to ±%v", at)
	}
}

// The explanation of an interval is its parts: their root-sum-square is the whole.
func TestRootSumIsInTheOrderOfNames(t *testing.T) {
	doubts := sensitivity{"b": 0.3, "a": -0.4, "c": 1e-17}
	if got := doubts.causes(); len(got) != 3 || got[0] != "a" || got[1] != "b" || got[2] != "c" {
		t.Errorf("the causes are %q", got)
	}
	within(t, "root-sum-square", float64(rootSum(doubts, 1.2)), 1.3, 1e-12)
	var none light
	if none.interval() != 0 || intervalBetween(&none, &none) != unit.Stop(0) {
		t.Error("a dark point has an interval")
	}
}
