package scene

import (
	"math"
	"testing"

	"gloam/internal/daylight"
)

const modelDay = `place: 48.21 N, 16.37 E
date: 2027-05-12
time: 9:00
zone: Europe/Vienna
sky: clear
`

// The sky's patches under their dials give level ground what the model says, and the sun stands where the plan's north has it.
func TestModelDaylight(t *testing.T) {
	s := built(t, modelDay+"set: {north: 90 deg}\n")
	d := s.Daylight
	h, err := d.Hour(d.At, d.Kind)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Sky) != daylight.PatchCount || d.Sun < 0 || len(s.Sources) != 2 {
		t.Fatalf("%d emitters of the sky, sun %d, %d sources", len(d.Sky), d.Sun, len(s.Sources))
	}
	onGround := 0.0
	brightest := 0
	for i, e := range d.Sky {
		onGround += s.Dials[e].Level * s.Scene.Emitters[e].Patches[i] * daylight.Patches[i].Horizontal
		if s.Dials[e].Level > s.Dials[d.Sky[brightest]].Level {
			brightest = i
		}
	}
	within(t, "the sky on level ground", onGround, float64(h.Levels.Diffuse), 1e-6*onGround)
	sun := daylight.SunAt(d.At, d.Place)
	toward := s.Scene.Emitters[d.Sun].Toward
	within(t, "its altitude", math.Asin(toward.Z)*180/math.Pi, float64(sun.Altitude), 1e-6)
	// With +y to the east, azimuth 90° lies along +y and 180° along +x.
	within(t, "its azimuth", math.Atan2(toward.X, toward.Y)*180/math.Pi+90, float64(sun.Azimuth), 1e-6)
	if got := daylight.PatchOf(toward); brightest != got { // of a clear sky, the brightest patch is about the sun
		t.Errorf("the brightest patch is %d, the sun stands in %d", brightest, got)
	}
}

// A picture gets the same sky as one emitter.
func TestWholeSky(t *testing.T) {
	view := viewed(t, modelDay, nil)
	points, _ := Build(view, false)
	whole, faults := BuildPicture(view, false)
	if len(faults) > 0 || len(whole.Daylight.Sky) != 1 {
		t.Fatal(faults, len(whole.Daylight.Sky))
	}
	e := whole.Daylight.Sky[0]
	for i, p := range points.Daylight.Sky {
		within(t, "luminance", whole.Dials[e].Level*whole.Scene.Emitters[e].Patches[i], points.Dials[p].Level, 1e-6*points.Dials[p].Level)
	}
}

// No night has a sun; a reading moves the model to itself and shrinks its interval.
func TestModelReadings(t *testing.T) {
	if s := built(t, replaced(modelDay, "time: 9:00", "time: 23:30")); s.Daylight.Sun != -1 || len(s.Sources) != 1 {
		t.Errorf("a sun at night: %+v", s.Sources)
	}
	grey := replaced(modelDay, "clear", "overcast")
	model := built(t, grey)
	read := built(t, grey+"ambient: {yard: {reading: 30000 lx, shape: daylight, clock: 9:00}}\n")
	h, _ := read.Daylight.Hour(read.Daylight.At, read.Daylight.Kind)
	if off := math.Abs(math.Log2(float64(h.Levels.Diffuse) / 30000)); off > 0.05 {
		t.Errorf("%v after a reading of 30 klx", h.Levels.Diffuse)
	}
	if before, after := model.Sources[0].Doubts[0].Stops, read.Sources[0].Doubts[0].Stops; !(after < before/4) {
		t.Errorf("the doubt went from %v to %v", before, after)
	}
	if faults := misbuilt(t, grey+"ambient: {yard: {reading: 30000 lx, shape: daylight, of: sun, clock: 9:00}}\n"); len(faults) != 1 ||
		faults[0].Path != "ambient.yard.reading" || !contains(faults[0].Text, "needs a sun") {
		t.Errorf("a reading of the sun under cloud: %v", faults)
	}
}

// Another hour under another sky is a matter of dials: they are those of a set-up built for it.
func TestDialsOfAnotherHour(t *testing.T) {
	view := viewed(t, modelDay, nil)
	now, _ := Build(view, false)
	later, err := view.At(17 * 60)
	if err != nil {
		t.Fatal(err)
	}
	overcast := daylight.Overcast
	later.Document.Sky = &overcast
	then, _ := Build(later, false)
	h, err := now.Daylight.Hour(then.Daylight.At, overcast)
	if err != nil {
		t.Fatal(err)
	}
	dials := now.Daylight.Dials(now.Dials, h)
	for i, e := range now.Daylight.Sky {
		if dials[e].Level != then.Dials[then.Daylight.Sky[i]].Level {
			t.Fatalf("patch %d: %v, built for the hour %v", i, dials[e].Level, then.Dials[then.Daylight.Sky[i]].Level)
		}
	}
	if dials[now.Daylight.Sun].Level != 0 || now.Dials[now.Daylight.Sun].Level == 0 {
		t.Error("the sun shines under cloud, or the set-up's own dials were changed")
	}
}
