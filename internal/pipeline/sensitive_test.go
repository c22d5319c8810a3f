package pipeline

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"gloam/internal/gear"
	"gloam/internal/meter"
	"gloam/internal/unit"
)

func doubtOf(t *testing.T, all []Doubt, cause string) Doubt {
	t.Helper()
	for _, d := range all {
		if d.Cause == cause {
			return d
		}
	}
	t.Fatalf("no %s in %+v", cause, all)
	return Doubt{}
}

// A lamp by its sheet into muslin by its sheet, and nothing else: all of the light is off by 0.45 for the lamp, 0.40 for
// the muslin, 0.14 for its distance and 0.07 for its dim.
func TestDoubtfulNamesWhatToMeasure(t *testing.T) {
	p := readText(t, `gloam: 1
title: a bounce
points: {face: {at: 0 0 1.6, faces: 0 3 1.6}}
cloths: {bounce: {kind: muslin, size: 3 x 3 m, at: 0 3 1.6, faces: face}}
lamps: {lamp: {kit: B12-D26, at: 3 0 1.6, aim: bounce, colour: 5600 K}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
targets: [{point: face, level: 0}]
`)
	_, r := blackRun(t, p, "plan")
	var words []string
	for _, d := range Doubtful(r) {
		words = append(words, d.Words)
	}
	want := `meter the B12-D26 first: ±0.45 stop at face
measure the unbleached muslin: ±0.40 stop at face
measure the distance of lamp: ±0.14 stop at face
meter lamp as dimmed: ±0.07 stop at face`
	if got := strings.Join(words, "\n"); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// Two lamps of a kind give a face the same each, and the ambient as much as both: a half of the level is off by the
// figures of both, 0.45/2, since they err together; each distance moves a quarter, 0.14/4. Over the ambient it is the
// same, and the day's third moves the level by a half and what it is over by all of it: 1/6. Of two faces that the lamps
// and the ambient light alike no figure moves the ratio.
func TestDoubtfulAddsWhatErrsTogether(t *testing.T) {
	p := readText(t, `gloam: 1
title: two lamps
points: {face: {at: 0 0 1.6, faces: 0 5 1.6}, other: {at: 0 0 1.6, faces: 0 5 1.6}}
lamps: {left: {kit: B12-D26, at: -1 5 1.6, aim: face, colour: 5600 K}, right: {kit: B12-D26, at: 1 5 1.6, aim: face, colour: 5600 K}}
ambient: {day: {reading: 18858 lx, shape: everywhere, point: face, doubt: 1/3}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
targets:
  - {point: face, level: 0}
  - {point: face, over: ambient, level: 1}
  - {point: face, over: other, level: 0}
`)
	_, r := blackRun(t, p, "plan")
	all := Doubtful(r)
	for cause, want := range map[string][]float64{
		"figures of B12-D26":  {0.225, 0.225, 0},
		"distance of left":    {0.035, 0.035, 0},
		"the day against day": {1. / 6, 1. / 6, 0},
	} {
		d := doubtOf(t, all, cause)
		for i := range want {
			isNear(t, cause, float64(d.Targets[i]), want[i], 0.002)
		}
	}
	if all[0].Cause != "figures of B12-D26" || all[1].Cause != "the day against day" || all[0].Greatest < all[1].Greatest {
		t.Errorf("%+v", all)
	}
}

// In every example the causes account for each target's interval, sampling and the meter aside, and each has something to
// be done about it.
func TestDoubtsMakeTheInterval(t *testing.T) {
	paths, _ := filepath.Glob("../../examples/*/plan.yaml")
	for _, path := range paths {
		p := readExample(t, path)
		r, err := Run(t.Context(), viewOf(t, p, p.Setups()[0]), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		for i, causes := range meter.Doubts(r.Setup, r.Layers) {
			target, sum := &r.Levels.Targets[i], 0.0
			if target.Over == "key" {
				sum = float64(gear.MeterDoubt * gear.MeterDoubt)
			}
			for _, c := range causes {
				sum += float64(c.Stops * c.Stops)
				if remedy(c.Cause) == "" && !strings.HasPrefix(c.Cause, "strength of ") { // sampling
					t.Errorf("%s: nothing to be done about %q", path, c.Cause)
				}
			}
			const sampling unit.Stop = 0.15 // of two points
			rest := float64(target.Interval*target.Interval) - sum
			if target.Colour == nil && !(rest >= -1e-12 && rest <= float64(sampling*sampling)) {
				t.Errorf("%s, %s over %s: interval %.3f, by causes %.3f", path, target.Of, target.Over, float64(target.Interval), math.Sqrt(sum))
			}
		}
	}
}
