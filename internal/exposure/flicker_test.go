package exposure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func TestSafeAngles(t *testing.T) {
	// Multiples of 360·fps/(2·mains), by hand; a printed list may leave out 360°.
	rows := []struct {
		name  string
		rate  unit.FPS
		mains unit.Hertz
		want  []unit.Degree
	}{
		{"24 fps on 50 Hz", 24, 50, []unit.Degree{86.4, 172.8, 259.2, 345.6}},
		{"24 fps on 60 Hz", 24, 60, []unit.Degree{72, 144, 216, 288, 360}},
		{"25 fps on 60 Hz", 25, 60, []unit.Degree{75, 150, 225, 300}},
		{"30 fps on 50 Hz", 30, 50, []unit.Degree{108, 216, 324}},
		{"200 fps on 50 Hz", 200, 50, nil},
	}
	for _, row := range rows {
		got := SafeAngles(row.rate, row.mains)
		if len(got) != len(row.want) {
			t.Errorf("%s: %v, want %v", row.name, got, row.want)
			continue
		}
		for i := range got {
			if math.Abs(float64(got[i]-row.want[i])) > 1e-9 {
				t.Errorf("%s: %v, want %v", row.name, got, row.want)
			}
		}
	}
}

func TestSafeTimes(t *testing.T) {
	// Whole pulses of a hundredth of a second on 50 Hz, and of 1/120 s on 60 Hz, by hand.
	for _, row := range []struct {
		name  string
		rate  unit.FPS
		mains unit.Hertz
		want  []float64 // 1/s
	}{
		{"24 fps on 50 Hz", 24, 50, []float64{100, 50, 100. / 3, 25}},
		{"25 fps on 60 Hz", 25, 60, []float64{120, 60, 40, 30}},
		{"30 fps on 50 Hz", 30, 50, []float64{100, 50, 100. / 3}},
		{"200 fps on 50 Hz", 200, 50, nil},
	} {
		got := SafeTimes(row.rate, row.mains)
		if len(got) != len(row.want) {
			t.Errorf("%s: %v, want 1/%v", row.name, got, row.want)
			continue
		}
		for i := range got {
			if math.Abs(float64(got[i])*row.want[i]-1) > 1e-12 {
				t.Errorf("%s: %v, want 1/%v", row.name, got, row.want)
			}
		}
	}
}

func TestSafeAtAnyAngle(t *testing.T) {
	// The frame rate divides twice the mains frequency, by hand.
	for rate, want := range map[unit.FPS][2]bool{ // on 50 and 60 Hz
		24: {false, true}, 25: {true, false}, 30: {false, true}, 50: {true, false}, 60: {false, true}, 20: {true, true}, 23.976: {false, false},
	} {
		for i, mains := range []unit.Hertz{50, 60} {
			if got := SafeAtAnyAngle(rate, mains); got != want[i] {
				t.Errorf("%v on %v: %v", rate, mains, got)
			}
		}
	}
}

func TestRipple(t *testing.T) {
	check(t, []worked{
		{"depth 0.35, 50 Hz, 180° at 24 fps, stops", float64(Ripple(0.35, 50, 1./48)), 0.04, 0.0005, "|sin(πp)/(πp)| of p = 2.083 is 0.0395, by hand"},
		{"its beat, Hz", float64(Beat(24, 50)), 4, 1e-12, "100 − 4·24, by hand"},
		{"a safe angle", float64(Ripple(0.35, 50, 1./50)), 0, 1e-12, "a whole number of pulses, by hand"},
	})
}

// The largest and least frame under a swinging lamp, by adding up the light through the exposure time.
func TestRippleIsThatOfFramesAddedUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth := rapid.Float64Range(0, 0.9).Draw(t, "depth")
		exposed := rapid.Float64Range(1e-3, 0.04).Draw(t, "time")
		most, least := 0., math.Inf(1)
		for phase := range 360 {
			frame := 0.
			for i := range 200 { // midpoints
				frame += 1 + depth*math.Sin(2*math.Pi*100*exposed*(float64(i)+0.5)/200+float64(phase)*math.Pi/180)
			}
			most, least = max(most, frame), min(least, frame)
		}
		want := math.Log2(most / least)
		if got := float64(Ripple(unit.Fraction(depth), 50, unit.Second(exposed))); math.Abs(got-want) > 2e-3*math.Max(want, 0.01)+1e-6 {
			t.Fatalf("%v stops by the formula, %v by adding up", got, want)
		}
	})
}
