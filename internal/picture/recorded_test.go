package picture

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// seenAs returns linear sRGB of a grey card in light at the key, as a camera under a balance records it.
func seenAs(t *testing.T, light spectrum.Curve, balance unit.Kelvin, tint float64) [3]float64 {
	t.Helper()
	recorder, err := colour.GenericCamera().Balance(balance, tint)
	if err != nil {
		t.Fatal(err)
	}
	cam := testCamera
	cam.Balance, cam.Tint = balance, tint
	l := recorder.Light(light)
	img := flat(1, 1, grey(0.18), grey(0.18*float64(cam.Key())/math.Pi))
	c := Compose(img, Weights{[]spectrum.Band{l.X}, []spectrum.Band{l.Y}, []spectrum.Band{l.Z}})
	scene := cam.scene()
	return scene.ofXYZ(c.Pixels[0])
}

// Smooth light looks in the picture as CAT16 says it looks beside the white of the balance, to the six mired that a camera's
// matrix leaves; the light of the balance is grey; a warm lamp under a balance of the day, and a sky under a lower one, are not.
func TestRecordedLight(t *testing.T) {
	white := func(k unit.Kelvin, duv float64) spectrum.Curve {
		c, err := spectrum.White(k, duv)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	sky, _ := spectrum.Sky(7000)
	for _, row := range []struct {
		name    string
		light   spectrum.Curve
		balance unit.Kelvin
		tint    float64
		ordered func(r, g, b float64) bool
	}{
		{"light of the balance", white(4300, 0), 4300, 0, func(r, g, b float64) bool { return math.Abs(r-g) < 1e-6 && math.Abs(g-b) < 1e-6 }},
		{"green tubes, tint taken out", white(4000, 0.008), 4000, 0.008, func(r, g, b float64) bool { return math.Abs(r-g) < 1e-6 && math.Abs(g-b) < 1e-6 }},
		{"green tubes", white(4000, 0.008), 4000, 0, func(r, g, b float64) bool { return g > 1.03*r && g > 1.03*b }},
		{"a sky of 7000 K under 5000 K", sky, 5000, 0, func(r, g, b float64) bool { return r < 0.95*g && b > 1.1*g }},
		{"a lamp of 3600 K under 7600 K", white(3600, 0), 7600, 0, func(r, g, b float64) bool { return r > 1.3*g && b < 0.6*g }},
	} {
		rgb := seenAs(t, row.light, row.balance, row.tint)
		if !row.ordered(rgb[0], rgb[1], rgb[2]) {
			t.Errorf("%s is recorded as %.4f", row.name, rgb)
		}
		cam := testCamera
		cam.Balance, cam.Tint = row.balance, row.tint
		scene := cam.scene()
		eye := scene.ofXYZ(colour.MixtureOf([]spectrum.Light{spectrum.LightOf(row.light)}, []unit.Lux{1}).Scale(0.18 * float64(cam.Key()) / math.Pi))
		a, b := xyzFromRGB.of(rgb[0], rgb[1], rgb[2]), xyzFromRGB.of(eye[0], eye[1], eye[2])
		p, q := colour.XYZ{X: a[0], Y: a[1], Z: a[2]}.UV1976(), colour.XYZ{X: b[0], Y: b[1], Z: b[2]}.UV1976()
		if d := math.Hypot(p.U-q.U, p.V-q.V); d > 0.006 {
			t.Errorf("%s: u'v' %.4f from what the eye sees", row.name, d)
		}
	}
}
