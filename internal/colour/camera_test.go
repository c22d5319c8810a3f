package colour

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// measuredCameras returns the sensitivities of six cameras.
func measuredCameras(t *testing.T) []Camera {
	t.Helper()
	records := records(t, "cameras.csv")
	cameras := make([]Camera, 6)
	for i := range cameras {
		var b strings.Builder
		for _, r := range records[1:] {
			b.WriteString(r[0] + "," + strings.Join(r[1+3*i:4+3*i], ",") + "\n")
		}
		var err error
		if cameras[i], err = ReadCamera("cameras.csv", []byte(b.String())); err != nil {
			t.Fatal(err)
		}
	}
	return cameras
}

func TestWhiteBalanceGains(t *testing.T) {
	cameras := measuredCameras(t)
	// Computed independently; the tolerance is theirs, 0.2 %.
	for _, r := range records(t, "balance.csv")[1:] {
		camera := cameras[r[0][len("camera")]-'1']
		gains := camera.Gains(spectrumOf(t, r[1]))
		for k, got := range gains {
			within(t, strings.Join(r[:2], " "), got/number(t, r[2+k]), 1, 0.002)
		}
	}
}

// Smooth light looks to every camera as it does to the eye.
func TestSmoothLightLooksAlikeToAll(t *testing.T) {
	for _, camera := range append(measuredCameras(t), GenericCamera()) {
		for _, k := range []unit.Kelvin{2200, 3200, 4300, 5600, 7000, 12000} {
			for _, green := range []float64{-0.3, 0, 0.2} {
				light := spectrum.Tinted(k, green)
				eye, err1 := EyeView(light)
				seen, err2 := camera.View(light)
				if err1 != nil || err2 != nil {
					t.Fatal(camera.Name, k, green, err1, err2)
				}
				d := seen.From(eye)
				within(t, "mired", float64(d.Mired), 0, 1e-3)
				within(t, "Duv", d.Duv, 0, 1e-6)
				within(t, "u'v'", d.UV, 0, 1e-6)
			}
		}
	}
}

// Any two lights, mixed in any share, lie between the two for eye and camera alike, and how bright they are changes nothing.
func TestViewOfMixtures(t *testing.T) {
	camera := GenericCamera()
	names := spectrum.IlluminantNames()
	rapid.Check(t, func(r *rapid.T) {
		a, _ := spectrum.Illuminant(rapid.SampledFrom(names).Draw(r, "one"))
		b, _ := spectrum.Illuminant(rapid.SampledFrom(names).Draw(r, "other"))
		share := rapid.Float64Range(0, 1).Draw(r, "share")
		mix := spectrum.Mixture([]spectrum.Curve{a, b}, []float64{share, 1 - share})
		view, err := camera.View(mix)
		if err != nil {
			return // sodium alone is no white to a camera
		}
		bright, err := camera.View(mix.Scale(1e6))
		if err != nil || math.Abs(float64(bright.From(view).Mired)) > 1e-3 {
			r.Fatalf("a brighter light looks %+v, %v; at first %+v", bright, err, view)
		}
		one, err1 := camera.View(a)
		two, err2 := camera.View(b)
		if err1 != nil || err2 != nil {
			return
		}
		// To the eye mixing is a straight line; the camera's own way of seeing bends it a little.
		if d := one.From(two).UV; view.From(one).UV > d+0.02 || view.From(two).UV > d+0.02 {
			r.Fatalf("mixture %+v of %+v and %+v", view, one, two)
		}
	})
}

// The white a camera is balanced to is recorded as 1, 1, 1, and a cooler light as bluer.
func TestRecorded(t *testing.T) {
	camera := GenericCamera()
	white, err := spectrum.White(5000, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range camera.Recorded(white.Scale(3), white) {
		within(t, "white", v, 1, 1e-12)
	}
	sky, err := spectrum.Sky(7000)
	if err != nil {
		t.Fatal(err)
	}
	if rgb := camera.Recorded(sky, white); !(rgb[0] < rgb[1] && rgb[1] < rgb[2]) {
		t.Errorf("a sky of 7000 K under a balance of 5000 K is recorded as %.3f", rgb)
	}
	view, err := camera.View(sky)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "sky from balance, mired", float64(MiredFromBalance(view.Kelvin, 5000)), -57.14, 0.5)
}

// A line spectrum may look another white to a camera than to the eye; how much another, the cameras themselves show.
func TestCamerasSeeTubesDifferently(t *testing.T) {
	most := 0.0
	for _, camera := range append(measuredCameras(t), GenericCamera()) {
		for _, name := range []string{"FL2", "FL11", "LED-B3", "LED-RGB1"} {
			light := illuminant(t, name)
			eye, err1 := EyeView(light)
			seen, err2 := camera.View(light)
			if err1 != nil || err2 != nil {
				t.Fatal(camera.Name, name, err1, err2)
			}
			d := seen.From(eye)
			t.Logf("%s %s: %+.1f mired, Duv %+.4f", camera.Name, name, float64(d.Mired), d.Duv)
			most = max(most, SideBySide.Of(d))
			if math.Abs(float64(d.Mired)) > 80 || math.Abs(d.Duv) > 0.03 {
				t.Errorf("%s sees %s %+.1f mired, Duv %+.4f from the eye", camera.Name, name, float64(d.Mired), d.Duv)
			}
		}
	}
	if most < 1 {
		t.Error("no camera sees any lamp differently")
	}
}

func TestCameraRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"two curves", "500,1,1\n505,1,1\n", "three sensitivities"},
		{"below zero", "500,1,1,1\n505,1,-1,1\n", "c.csv:2: a value of the spectrum is out of range"},
		{"blind", "500,1,1,0\n505,1,1,0\n", "is 0 throughout the visible"},
		{"no table", "x", "not a line of a spectrum"},
	} {
		if _, err := ReadCamera("c.csv", []byte(c.text)); fault.Code(err) != 1 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	for _, light := range []spectrum.Curve{spectrum.LED(640, 10), spectrum.LED(450, 10), spectrum.Flat(0)} {
		if v, err := GenericCamera().View(light); fault.Code(err) != 1 {
			t.Errorf("view of no white: %v, %v", v, err)
		}
	}
}
