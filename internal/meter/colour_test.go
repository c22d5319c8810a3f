package meter

import (
	"math"
	"strings"
	"testing"

	"gloam/internal/unit"
)

// under is a camera at T2.8, 24 fps and a shutter, under a balance.
func under(balance, shutter string) string {
	return "camera: {ei: 800, fps: 24, shutter: " + shutter + ", stop: T2.8, balance: " + balance + "}\npoints: {face: {at: 0 0 1, faces: N}}\n"
}

const mains50 = "supply: {mains: 50 Hz}\n"

// Mixtures, by the sums of [CIE15] done by hand from each light's x, y: a gelled window and green tubes, the same
// ungelled, the tubes alone, and 2700 K and daylight of equal level, whose mixture sags to
// the pink side. The gel passes 71 % of daylight of 5600 K and half a per cent less of bluer light.
func TestMixtures(t *testing.T) {
	const tubes = "  tubes: {reading: 210 lx, shape: everywhere, spectrum: FL2, colour: 4000 K, duv: 0.008}\n"
	const room = "set: {rooms: {office: {size: 8 x 6 x 3 m, corner: -4 -3, openings: {window: {wall: far, size: 2 x 1 m, gel: +109 mired 71 %}}}}}\n"
	const daylight = "  daylight: {reading: 900 lx, shape: everywhere, through: [window], colour: 6200 K}\n"
	for _, row := range []struct {
		name, plan         string
		kelvin, duv, level float64
		words              string
	}{
		{"gelled window and tubes", room + "ambient:\n" + daylight + tubes, 3775, 0.002, 849, "slightly green"},
		{"window without its gel", strings.Replace(room, ", gel: +109 mired 71 %", "", 1) + "ambient:\n" + daylight + tubes, 5640, 0.004, 1110, "cool, slightly green"},
		{"tubes alone", "ambient:\n" + tubes, 4000, 0.008, 210, "cool, green"},
		{"a lamp and daylight", "ambient:\n  a: {reading: 100 lx, shape: everywhere, colour: 2700 K, duv: 0}\n  b: {reading: 100 lx, shape: everywhere, colour: 6500 K}\n",
			3980, -0.005, 200, "cool, slightly pink"},
	} {
		p := put(t, 0.05, row.plan+under("3775 K", "180 deg")).levels.Points[0]
		if math.Abs(float64(*p.Lux)/row.level-1) > 6e-3 {
			t.Errorf("%s: %v, want %v lx", row.name, *p.Lux, row.level)
		}
		if math.Abs(float64(*p.CCT)-row.kelvin) > 75 || math.Abs(*p.Duv-row.duv) > 0.001 || p.Words != row.words {
			t.Errorf("%s: %.0f K, Duv %+.4f, %s; want %.0f K, Duv %+.4f, %s", row.name, float64(*p.CCT), *p.Duv, p.Words, row.kelvin, row.duv, row.words)
		}
	}
}

// Sources against the balance, 10⁶/K by hand: smooth light stands to the camera as it does to the eye.
func TestSourcesAgainstTheBalance(t *testing.T) {
	for _, row := range []struct {
		name, lamp, sky, balance string
		want                     [2]float64 // mired of lamp and sky
	}{
		{"dusk on the quay", "3200 K", "7000 K", "5000 K", [2]float64{112.5, -57.1}},
		{"a globe by day", "2700 K", "7500 K", "3600 K", [2]float64{92.6, -144.4}},
		{"overcast square", "5600 K", "6500 K", "5600 K", [2]float64{0, -24.7}},
	} {
		l := put(t, 0.05, "lamps: {lamp: {kit: B12-D26, at: 0 5 1, aim: S, colour: "+row.lamp+"}}\nambient: {sky: {reading: 100 lx, shape: everywhere, colour: "+row.sky+"}}\n"+under(row.balance, "180 deg")).levels
		for i, want := range row.want {
			s := l.Sources[i]
			if math.Abs(float64(*s.Mired)-want) > 0.3 || math.Abs(float64(*s.Camera.Mired)-want) > 1.5 {
				t.Errorf("%s, %s: %.1f mired, %.1f to the camera, want %.1f", row.name, s.Source, float64(*s.Mired), float64(*s.Camera.Mired), want)
			}
		}
	}
}

// Light warmed twice: a lamp of 3600 K under 7600 K stands at +146.2 mired, of which the balance makes the part by which the
// day itself turns warm; a gel on a lamp already warm. A balance that suits the day warms nothing.
func TestWarmedTwice(t *testing.T) {
	for _, row := range []struct{ name, lamp, sky, balance, want string }{
		{"by the balance", "colour: 3600 K", "6500 K", "7600 K", "lamp: warmed twice, +146 mired from balance: +124 by its colour against the ambient and +22 by the balance"},
		{"by a gel", "colour: 3200 K, gel: 1/4 CTO", "5600 K", "5600 K", "lamp: warmed twice"},
		{"cooled", "colour: 5600 K", "3600 K", "3000 K", "lamp: cooled twice"},
		{"once", "colour: 3600 K", "5600 K", "5600 K", ""},
		{"gelled once", "colour: 5600 K, gel: 1/2 CTO", "5600 K", "5600 K", ""},
	} {
		notes := put(t, 0.05, "lamps: {lamp: {kit: B12-D26, at: 0 5 1, aim: S, "+row.lamp+"}}\nambient: {sky: {reading: 100 lx, shape: everywhere, colour: "+row.sky+"}}\n"+under(row.balance, "180 deg")).levels.Notes
		got := strings.Join(notes, "; ")
		if row.want == "" && strings.Contains(got, "twice") || !strings.Contains(got, row.want) {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// Tubes look greener to the camera than to the eye, and that is told; white lamps do not.
func TestCameraDisagreement(t *testing.T) {
	l := put(t, 0.05, "lamps: {lamp: {kit: B12-D26, at: 0 5 1, aim: S}}\nambient: {tubes: {reading: 100 lx, shape: everywhere, spectrum: FL2}}\n"+under("5600 K", "180 deg")).levels
	if got := strings.Join(l.Notes, "; "); !strings.Contains(got, "tubes: ") || strings.Contains(got, "lamp: ") {
		t.Errorf("notes %q, want one of the tubes alone", got)
	}
}

// Frames under a ripple of 0.35: at 180° and 24 fps on 50 Hz |sin(πp)/(πp)| of p = 2.083 is 0.0395, so they differ by
// log2(1.0138/0.9862) = 0.04 stop and beat at 4 Hz; half the light halves it. 172.8° holds whole pulses; on 60 Hz 24 fps
// divides them.
func TestFlicker(t *testing.T) {
	const tubes = "  tubes: {reading: 100 lx, shape: everywhere, ripple: 35 %}\n"
	const day = "  day: {reading: 100 lx, shape: everywhere}\n"
	for _, row := range []struct {
		name, plan, shutter string
		ripple, beat        float64
		steady              bool
	}{
		{"out of step", mains50 + "ambient:\n" + tubes, "180 deg", 0.0399, 4, false},
		{"half of the light", mains50 + "ambient:\n" + tubes + day, "180 deg", 0.0199, 4, true},
		{"whole pulses", mains50 + "ambient:\n" + tubes, "172.8 deg", 0, 4, true},
		{"60 Hz", "supply: {mains: 60 Hz}\nambient:\n" + tubes, "150 deg", 0, 0, true},
	} {
		f := put(t, 0.05, row.plan+under("5600 K", row.shutter)).levels.Flicker
		if math.Abs(float64(*f.Ripple)-row.ripple) > 2e-4 || math.Abs(float64(f.Beat)-row.beat) > 1e-9 || f.Steady != row.steady || f.Point != "face" {
			t.Errorf("%s: %.4f stop at %s, beat %v, steady %v; want %g, %g, %v", row.name, float64(*f.Ripple), f.Point, f.Beat, f.Steady, row.ripple, row.beat, row.steady)
		}
		if row.name == "out of step" && (len(f.Angles) != 4 || math.Abs(float64(f.Angles[1]-unit.Degree(172.8))) > 1e-9) {
			t.Errorf("steady at %v, want 172.8° among four", f.Angles)
		}
	}
	// Of the shutters that would make up the rest, those that flicker are not offered: none here is a whole pulse.
	for _, mains := range []string{"50 Hz", "60 Hz"} {
		offered := false
		for _, c := range put(t, 0.05, "supply: {mains: "+mains+"}\nambient:\n"+strings.Replace(tubes, "100 lx", "150 lx", 1)+under("5600 K", "180 deg")).levels.Exposure.Choices {
			offered = offered || c.Shutter > 0
		}
		if offered != (mains == "60 Hz") {
			t.Errorf("on %s a shutter is offered: %v", mains, offered)
		}
	}
	if f := put(t, 0.05, "ambient:\n"+day+under("5600 K", "180 deg")).levels.Flicker; f != nil {
		t.Error("flicker without a ripple")
	}
}

// A quarter to half minus green takes the green of an old tube (common practice, no source): the sleeve acts on the tube's
// own lines.
func TestSleeveOnTubes(t *testing.T) {
	const tube = "practicals: {tube: {kind: tube, at: 0 4 2, diameter: 26 mm, length: 1.2 m, faces: E, flux: 3000 lm, spectrum: FL2, colour: 4000 K, duv: 0.008, gel: GEL}}\n"
	for _, row := range []struct {
		gel       string
		low, high float64 // Duv
	}{{"ND 0.3", 0.0079, 0.0081}, {"1/4 minus green", 0, 0.003}, {"1/2 minus green", -0.007, -0.002}} {
		s := put(t, 0.05, strings.Replace(tube, "GEL", row.gel, 1)+under("4000 K", "180 deg")).levels.Sources[0]
		if *s.Duv < row.low || *s.Duv > row.high {
			t.Errorf("%s: Duv %+.4f, want %g to %g", row.gel, *s.Duv, row.low, row.high)
		}
	}
}
