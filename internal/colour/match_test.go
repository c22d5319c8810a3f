package colour

import (
	"testing"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

func target(t *testing.T, light spectrum.Curve, camera Camera) Target {
	t.Helper()
	got, err := TargetOf(light, camera)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// A smooth lamp that can go anywhere meets any target, by the eye or by the camera, and says when the two do not agree.
func TestMatchOfALamp(t *testing.T) {
	lamp := Dial{Spectrum: spectrum.White, Low: 2700, High: 10000, Green: 0.02, Pink: 0.02}
	tube, err := spectrum.Tuned(illuminant(t, "FL2"), 4000, 0.008)
	if err != nil {
		t.Fatal(err)
	}
	sky, err := spectrum.Sky(7000)
	if err != nil {
		t.Fatal(err)
	}
	for _, camera := range append(measuredCameras(t), GenericCamera()) {
		for _, c := range []struct {
			name     string
			light    spectrum.Curve
			disagree bool
		}{{"sky", sky, false}, {"tungsten practical", spectrum.Planck(2856), false}, {"tube", tube, true}} {
			want := target(t, c.light, camera)
			byEye, err1 := MatchByEye(lamp, want, camera, SideBySide)
			byCamera, err2 := MatchByCamera(lamp, want, camera, SideBySide)
			if err1 != nil || err2 != nil {
				t.Fatal(c.name, err1, err2)
			}
			within(t, c.name+" by eye", SideBySide.Of(byEye.Eye), 0, 0.02)
			within(t, c.name+" by camera", SideBySide.Of(byCamera.Camera), 0, 0.02)
			if !byEye.EyeMatch || !byCamera.CameraMatch {
				t.Errorf("%s: no match: %+v, %+v", c.name, byEye.Verdict, byCamera.Verdict)
			}
			if byEye.Disagree != c.disagree || byCamera.Disagree != c.disagree {
				t.Errorf("%s: eye and camera disagree: %v; eye %+v, camera %+v", c.name, byEye.Disagree, byEye.Eye, byEye.Camera)
			}
		}
	}
}

// A dial that ends short says how far short.
func TestMatchAtTheEndOfTheDial(t *testing.T) {
	camera := GenericCamera()
	lamp := Dial{Spectrum: spectrum.White, Low: 3200, High: 5600}
	tube, err := spectrum.White(2700, 0.006)
	if err != nil {
		t.Fatal(err)
	}
	got, err := MatchByCamera(lamp, target(t, tube, camera), camera, SideBySide)
	if err != nil {
		t.Fatal(err)
	}
	if got.Kelvin != 3200 || got.Duv != 0 || got.EyeMatch || got.CameraMatch {
		t.Errorf("%v K, Duv %v, %+v", got.Kelvin, got.Duv, got.Verdict)
	}
	within(t, "short of, mired", float64(got.Eye.Mired), 312.5-370.4, 0.2)
	within(t, "short of, Duv", got.Eye.Duv, -0.006, 1e-4)
}

// The worked office: daylight of 6200 K to be brought toward tubes of 4000 K. The shift wanted is +88.7 mired: a quarter orange
// leaves 24.7, a half overshoots by 20.3 (mired addition, by hand), so the half is the nearer of single gels.
func TestGelsOfTheOffice(t *testing.T) {
	camera := GenericCamera()
	day, err := spectrum.Daylight(6200)
	if err != nil {
		t.Fatal(err)
	}
	white, err := spectrum.White(4000, 0.0015)
	if err != nil {
		t.Fatal(err)
	}
	want := target(t, white, camera)
	var list []spectrum.Gel
	for _, text := range []string{"1/4 CTO", "1/2 CTO"} {
		g, err := spectrum.ParseGel(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, g)
		v, err := want.Judge(day.Mul(g.Curve), camera, SideBySide)
		if err != nil {
			t.Fatal(err)
		}
		within(t, text, float64(v.Eye.Mired), map[string]float64{"1/4 CTO": -24.7, "1/2 CTO": 20.3}[text], 3)
	}
	packs, err := MatchGels(day, list, want, camera, SideBySide)
	if err != nil {
		t.Fatal(err)
	}
	if len(packs) != 6 || len(packs[0].Gels) != 1 || packs[0].Gels[0].Name != "1/2 CTO" {
		t.Errorf("nearest of %d is %v", len(packs), packs[0].Gels)
	}
	within(t, "transmittance", float64(packs[0].Transmittance), 0.71, 0.02)

	// A green tube with minus green comes nearer than any orange alone, and a whole list is ranked by what the camera sees.
	green, err := spectrum.Tuned(illuminant(t, "FL2"), 4000, 0.008)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"1/8 minus green", "1/4 minus green", "1/2 minus green"} {
		g, err := spectrum.ParseGel(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, g)
	}
	packs, err = MatchGels(green, list, target(t, spectrum.Planck(4000), camera), camera, SideBySide)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, p := range packs {
		if d := SideBySide.Of(p.Camera); d < last {
			t.Error("the packs are out of order")
		} else {
			last = d
		}
	}
	if best := packs[0]; len(best.Gels) == 0 || best.Gels[len(best.Gels)-1].Duv >= 0 {
		t.Errorf("a green tube is not given minus green: %v, %+v", best.Gels, best.Verdict)
	}
}

func TestTargetAt(t *testing.T) {
	got, err := TargetAt(Chromaticity{0.44758, 0.40745})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "illuminant A", float64(got.Eye.Kelvin), 2856, 1)
	if got.Camera != got.Eye {
		t.Error("the camera sees another chromaticity than the eye, of no spectrum")
	}
	for _, xy := range []Chromaticity{{0.7, 0.4}, {0, 0}, {0.3, 0}, {0.3, 0.6}} {
		if _, err := TargetAt(xy); fault.Code(err) != 1 {
			t.Errorf("%v: %v", xy, err)
		}
	}
}

// The square's day: a lamp of 5600 K beside a sky of 6500 K, mired by hand, rounded to 10 K.
func TestFollowSky(t *testing.T) {
	skies := []unit.Kelvin{7200, 6500, 6300, 6600, 7600, 6900}
	got, err := FollowSky(6500, 5600, skies)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{6110, 5600, 5450, 5670, 6400, 5890} {
		within(t, skies[i].String(), float64(got[i]), want, 12)
	}
	if _, err := FollowSky(3000, 10000, []unit.Kelvin{20000}); fault.Code(err) != 1 {
		t.Errorf("a lamp bluer than blue: %v", err)
	}
}
