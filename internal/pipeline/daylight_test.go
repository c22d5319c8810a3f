package pipeline

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/plan"
)

// skylit runs a plan under a model's sky with black surroundings.
func skylit(t *testing.T, body string) *Result {
	t.Helper()
	text := "gloam: 1\ntitle: A sky\nplace: 48.21 N, 16.37 E\ndate: 2027-05-12\ntime: 9:00\nzone: Europe/Vienna\n" +
		"camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n" + body
	p, faults := plan.Read("plan.yaml", []byte(text), nil)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	o := Defaults()
	o.Goal, o.Black = 0.004, true
	return runSetup(t, p, "plan", o)
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got/want-1) <= share) {
		t.Errorf("%s: %.5g, want %.5g within %.1f %%", what, got, want, 100*share)
	}
}

// In the open the traced patches and the sun give level ground what the model says, under each kind of sky. The sampling stops
// when the total is sure, of which a clear sky is the smaller part.
func TestOpenModelSky(t *testing.T) {
	for _, kind := range []string{"clear", "partly cloudy", "overcast"} {
		r := skylit(t, "sky: "+kind+"\npoints: {ground: {at: 0 0 1, faces: up}}\n")
		d := r.Setup.Daylight
		h, err := d.Hour(d.At, d.Kind)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(r.Levels.Points[0].By); n > 2 {
			t.Errorf("%s: %d sources, want sky and sun", kind, n)
		}
		near(t, kind+" sky", float64(*r.Levels.Points[0].By[0].Lux), float64(h.Levels.Diffuse), 0.02)
		if kind != "overcast" {
			near(t, kind+" sun", float64(*r.Levels.Points[0].By[1].Lux), float64(h.Levels.Direct)*h.Toward.Z, 0.001)
		}
	}
}

// The sky component of a window under the traditional overcast sky, in per cent of the open level ground: quadrature of
// (1+2 sin γ)/3 [CIES011] over the window, 300 by 300 Gauss points, outside this program. Patches of 12° blur the sky's gradation;
// within a patch the window may see its brighter or its darker edge.
func TestWindowUnderModelSky(t *testing.T) {
	for _, row := range []struct {
		distance, horizontal, facing float64
	}{{1, 14.251, 23.7554}, {2, 3.87104, 10.5303}, {3, 1.35605, 5.2728}, {4, 0.592749, 3.0328}} {
		r := skylit(t, fmt.Sprintf(`sky: overcast
set: {rooms: {hall: {size: 10 x 8 x 4 m, openings: {window: {wall: far, size: 2 x 1.5 m, sill: 1 m, glass: none}}}}}
points: {level: {at: 5 %g 1, faces: up}, facing: {at: 5 %[1]g 1, faces: 0 deg}}
`, 8-row.distance))
		d := r.Setup.Daylight
		h, _ := d.Hour(d.At, d.Kind)
		for i, want := range []float64{row.horizontal, row.facing} {
			near(t, fmt.Sprintf("%g m, point %d", row.distance, i), 100*float64(*r.Levels.Points[i].Lux/h.Levels.Diffuse), want, 0.04)
		}
	}
}

// Behind a skyline of 25° all round an upright face gets 23.79 % of the open level ground's overcast sky: the integral of
// (1+2 sin γ)/3 from there up, in closed form; and the sun of 9 o'clock, 36° up, still shines over it but not over 40°.
func TestModelSkyOverSkyline(t *testing.T) {
	r := skylit(t, "sky: overcast\nskyline: {points: [0 25]}\npoints: {face: {at: 0 0 1, faces: 0 deg}}\n")
	d := r.Setup.Daylight
	h, _ := d.Hour(d.At, d.Kind)
	near(t, "behind the skyline", 100*float64(*r.Levels.Points[0].Lux/h.Levels.Diffuse), 23.79, 0.03)
	for skyline, shines := range map[string]bool{"0 30": true, "0 40": false} {
		r := skylit(t, "sky: clear\nskyline: {points: ["+skyline+"]}\npoints: {ground: {at: 0 0 1, faces: up}}\n")
		if got := *r.Levels.Points[0].By[1].Direct > 0; got != shines {
			t.Errorf("over a skyline of %s the sun shines: %v", skyline, got)
		}
	}
}

// A pair of readings, inside and out, makes the inside what was read, and at another hour the same share of the sky outside; where
// the pair is of another place, what the panes pass is scaled alike. The figures are chosen: a tenth of the light is lost in dirt.
func TestPairsOfReadings(t *testing.T) {
	const hall = "sky: overcast\nset: {rooms: {hall: {size: 6 x 5 x 3 m, openings: {window: {wall: far, size: 2 x 1.5 m, sill: 1 m}}}}}\n" +
		"points: {near: {at: 3 4 1, faces: up}, far: {at: 3 1 1, faces: up}}\n"
	clean := skylit(t, hall)
	d := clean.Setup.Daylight
	h, _ := d.Hour(d.At, d.Kind)
	inside, outside := 0.9*float64(*clean.Levels.Points[0].Lux), float64(h.Levels.Diffuse)
	dirty := skylit(t, hall+fmt.Sprintf("ambient: {pair: {shape: daylight, reading: %.3f lx, point: near, outside: %.3f lx, clock: 9:00}}\n", inside, outside))
	for i, p := range dirty.Levels.Points {
		near(t, p.Name, float64(*p.Lux), 0.9*float64(*clean.Levels.Points[i].Lux), 0.01)
	}
}
