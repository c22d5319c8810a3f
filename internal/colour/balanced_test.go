package colour

import (
	"math"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// A camera records the white of its balance as it is, whatever the white.
func TestBalancedWhite(t *testing.T) {
	for _, camera := range append(measuredCameras(t), GenericCamera()) {
		for _, k := range []unit.Kelvin{2700, 3200, 5000, 5600, 9000} {
			for _, tint := range []float64{-0.005, 0, 0.008} {
				b, err := camera.Balance(k, tint)
				if err != nil {
					t.Fatal(err)
				}
				white, _ := spectrum.White(k, tint)
				got, want := lightXYZ(b.Light(white.Scale(7))), lightXYZ(spectrum.LightOf(white))
				within(t, "X", got.X, want.X, 1e-9)
				within(t, "Y", got.Y, 1, 1e-9)
				within(t, "Z", got.Z, want.Z, 1e-9)
			}
		}
	}
	if _, err := GenericCamera().Balance(500, 0); fault.Code(err) != 1 {
		t.Errorf("a balance to 500 K: %v", err)
	}
	b, _ := GenericCamera().Balance(5600, 0)
	if l := b.Light(spectrum.Flat(0)); l != (spectrum.Light{}) {
		t.Errorf("light of a dark source: %v", l)
	}
}

// How near a camera comes to the eye in smooth light and in tubes. Smooth light is told nearly as the eye has it; a tube is
// not, and that is the camera's doing: View says how it looks to it. The limits are guards.
func TestBalancedLights(t *testing.T) {
	for i, camera := range append(measuredCameras(t), GenericCamera()) {
		for _, k := range []unit.Kelvin{3200, 5600} {
			b, err := camera.Balance(k, 0)
			if err != nil {
				t.Fatal(err)
			}
			worst := 0.0
			for _, light := range []unit.Kelvin{2700, 3200, 4300, 5600, 7000, 10000} {
				mired, _ := compared(t, lightXYZ(b.Light(spectrum.Tinted(light, 0))), lightXYZ(spectrum.LightOf(spectrum.Tinted(light, 0))))
				worst = max(worst, mired)
			}
			mean, most := 0.0, 0.0
			white, _ := spectrum.White(k, 0)
			for _, sample := range ebuCurves()[3:] {
				got, want := lightXYZ(b.Light(white.Mul(sample))), lightXYZ(spectrum.LightOf(white.Mul(sample)))
				got = got.Scale(1 / got.Y)
				d := math.Hypot(got.UV1976().U-want.UV1976().U, got.UV1976().V-want.UV1976().V)
				mean, most = mean+d/18, max(most, d)
			}
			t.Logf("camera %d at %v: smooth lights within %.1f mired, samples within u'v' %.4f mean %.4f", i+1, k, worst, most, mean)
			if worst > 6 || mean > 0.005 {
				t.Errorf("camera %d at %v: smooth lights within %.1f mired, samples within u'v' %.4f mean %.4f", i+1, k, worst, most, mean)
			}
		}
	}
}
