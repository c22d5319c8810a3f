package server

import (
	"image/png"
	"strings"
	"testing"
)

// A camera balanced to a greener light takes green out of what is shown; what the eye sees, and so the probe, stays.
func TestThePictureIsWhatTheCameraRecords(t *testing.T) {
	var green [2]float64
	var probed [2]string
	for i, camera := range []string{"camera: {balance: 5600 K, ", "camera: {balance: 5600 K, tint: 0.02, "} {
		c := running(t, withPlan(t, strings.Replace(small, "camera: {", "set: {ground: stone}\n"+camera, 1)))
		await(t, c.listen("plan=table.yaml&picture=64"), pictureKind, func(e *PictureEvent) bool { return e.Final })
		_, text := c.ask("GET", "/api/picture/screen?plan=table.yaml&picture=64", nil, nil)
		shown, err := png.Decode(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		for y := range shown.Bounds().Dy() {
			for x := range shown.Bounds().Dx() {
				r, g, b, _ := shown.At(x, y).RGBA()
				green[i] += 2*float64(g) - float64(r) - float64(b)
			}
		}
		_, probed[i] = c.ask("GET", "/api/picture/probe?plan=table.yaml&picture=64&x=32&y=30", nil, nil)
	}
	if !(green[1] < green[0]) || probed[0] != probed[1] || strings.Contains(probed[0], "null") {
		t.Errorf("green over red and blue %v, probed %q", green, probed)
	}
}
