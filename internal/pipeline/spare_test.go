package pipeline

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gloam/internal/plan"
	"gloam/internal/unit"
)

// blackRun is a set-up without light from its surroundings, as hand sums assume.
func blackRun(t *testing.T, p *plan.Plan, setup string) (*plan.View, *Result) {
	t.Helper()
	v, o := viewOf(t, p, setup), Defaults()
	o.Black = true
	r, err := Run(t.Context(), v, o)
	if err != nil {
		t.Fatal(err)
	}
	return v, r
}

func sparing(t *testing.T, v *plan.View, r *Result, lamp string, keep unit.Stop) Sparing {
	t.Helper()
	s, ok := Spare(v, r, lamp, keep)
	if !ok {
		t.Fatalf("%s has no reserve: %+v", lamp, r.Levels.Lamps)
	}
	return s
}

func isNear(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s %.4g, want %.4g ± %g", what, got, want, tolerance)
	}
}

func readText(t *testing.T, text string) *plan.Plan {
	t.Helper()
	p, faults := plan.Read("plan.yaml", []byte(text), nil)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

// 560 kcd at 16.39 m give 2085 lx, 4.12 stops over 120 lx: 1.98 to spare over 2.14. At full the lamp could stand
// 16.39·2^0.99 = 32.5 m away; its quiet mode, 0.6 of full, is 0.74 stop under it.
func TestSpareBuysDistance(t *testing.T) {
	v, r := blackRun(t, readText(t, `gloam: 1
title: a spot with light to spare
points: {face: {at: 0 0 1.6, faces: 0 9 1.6}}
lamps: {spot: {kit: B12-FS, at: 0 16.39 1.6, aim: face, colour: 5600 K, dim: 25 %}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
targets: [{point: face, level: 2.139}]
`), "plan")
	s := sparing(t, v, r, "spot", 0)
	isNear(t, "reserve", float64(s.Surplus.Reserve), 1.98, 0.01)
	isNear(t, "distance", float64(s.Surplus.Distance), 16.39, 0.001)
	isNear(t, "distance at full", float64(s.Spent.Distance), 32.55, 0.1)
	if want := []string{"could stand 32.5 m off instead of 16.4 m", "its quiet mode is enough"}; !slices.Equal(s.Words, want) {
		t.Errorf("%q, want %q", s.Words, want)
	}
	if s := sparing(t, v, r, "spot", 1.3); s.Spent.Quiet {
		t.Error("the quiet mode is enough with 1.3 stops kept")
	}
}

// 476 kcd 24 m from the middle of a walk of 10 m give 826 lx, log2(826/250) = 1.73 over a key of 250 lx. With a stop to
// spend it stands 24·√2 = 33.9 m off, 28.9 m from the near end, and swings 2·log2(38.9/28.9) = 0.86 where it swung 1.22.
func TestSpareEvensAWalk(t *testing.T) {
	p := readText(t, `gloam: 1
title: a walk toward a lamp
marks: {far: 29 0, middle: 24 0, near: 19 0}
walks: {approach: {marks: [far, near], height: 1.6 m, every: 1 m, faces: west}, across: {marks: [24 -5, 24 5], height: 1.6 m, every: 1 m, faces: west}}
points: {face: {at: middle, height: 1.6 m, faces: west}}
lamps: {spot: {kit: B12-FS, at: 0 0 1.6, aim: face, colour: 3200 K}}
camera: {ei: 800, fps: 25, shutter: 180 deg, stop: T4}
targets: [{point: face, level: 0}]
`)
	v, r := blackRun(t, p, "plan")
	reserve := math.Log2(826.4 / 250)
	s := sparing(t, v, r, "spot", unit.Stop(reserve-1))
	isNear(t, "spare", float64(s.Spent.Spare), 1, 0.02)
	isNear(t, "distance", float64(s.Spent.Distance), 33.94, 0.2)
	isNear(t, "swing now", float64(s.Spent.SwingNow), 1.22, 0.005)
	isNear(t, "swing", float64(s.Spent.Swing), 0.857, 0.006)
	if want := "could stand 33.9 m off instead of 24.0 m: alone it would swing 0.9 stops along the walk instead of 1.2"; !slices.Contains(s.Words, want) {
		t.Errorf("%q, want %q", s.Words, want)
	}
}

// A book light at 68 % of full: the reserve of 0.56 does not reach its quiet mode, 60 %. What it buys is size: the same
// flux over a larger cloth, whose form factor F over its area is the spare stops less.
func TestSpareBuysSize(t *testing.T) {
	v, r := blackRun(t, readExample(t, "../../examples/archive/plan.yaml"), "book")
	s := sparing(t, v, r, "book lamp", 0)
	isNear(t, "reserve", float64(s.Surplus.Reserve), 0.56, 0.15)
	isNear(t, "cloth", float64(s.Surplus.Frame), 2.4, 1e-6)
	isNear(t, "its distance", float64(s.Surplus.FrameDistance), 2.5, 0.02)
	if s.Surplus.Distance != 0 || s.Spent.Frame <= 2.4 {
		t.Errorf("%+v", s.Spent)
	}
	if s.Spent.Quiet != (s.Surplus.Reserve >= unit.Stop(-math.Log2(0.6))) {
		t.Errorf("quiet mode with a reserve of %.2f", float64(s.Surplus.Reserve))
	}
	if !slices.ContainsFunc(s.Words, func(w string) bool { return strings.HasPrefix(w, "could fill a cloth of ") }) {
		t.Errorf("%q", s.Words)
	}
}

// At the same colour a lamp of 14 kcd lies log2(250/14) = 4.16 stops under one of 250 kcd, one of 4 kcd 5.97. The first is
// enough with 5 stops to spare, both with 6. A lamp that draws as much is no smaller one, nor is a narrower beam enough.
func TestSpareFindsSmallerLamps(t *testing.T) {
	text := `gloam: 1
title: more than is needed
points: {face: {at: 0 0 1.6, faces: 0 3 1.6}}
lamps: {big: {kit: KIT, at: 0 3 1.6, aim: face, colour: 5600 K}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
targets: [{point: face, level: 0}]
`
	for _, row := range []struct {
		kit   string
		spare unit.Stop
		want  []string
	}{
		{"B12-D26", 5, []string{"B3-D55"}}, {"B12-D26", 6, []string{"P20", "B3-D55"}}, {"B12-D26", 4, nil},
		{"B12-D60", 2, nil}, {"B12-D60", 3.7, []string{"P20"}},
	} {
		v, r := blackRun(t, readText(t, strings.Replace(text, "KIT", row.kit, 1)), "plan")
		s := sparing(t, v, r, "big", *r.Levels.Lamps[0].Reserve-row.spare)
		if !slices.Equal(s.Smaller, row.want) {
			t.Errorf("%s with %v to spare: %v, want %v", row.kit, row.spare, s.Smaller, row.want)
		}
	}
}

func TestSpareOfNothing(t *testing.T) {
	v, r := blackRun(t, readExample(t, "../../examples/luthier/plan.yaml"), "ND 0.9")
	if s := sparing(t, v, r, "key lamp", 0.5); s.Spent.Spare != 0 || len(s.Words) != 0 {
		t.Errorf("a lamp too weak buys %q", s.Words)
	}
	v, r = blackRun(t, readExample(t, "../../examples/luthier/plan.yaml"), "dusk")
	for _, lamp := range []string{"globe", "no such lamp"} {
		if s, ok := Spare(v, r, lamp, 0.5); ok {
			t.Errorf("%s: %+v", lamp, s)
		}
	}
}
