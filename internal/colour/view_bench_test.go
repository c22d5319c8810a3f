package colour

import (
	"testing"

	"gloam/internal/spectrum"
)

// BenchmarkView finds how a tube looks to a camera, once for each point and source of a set-up.
func BenchmarkView(b *testing.B) {
	camera := GenericCamera()
	tube, _ := spectrum.Illuminant("FL2")
	for b.Loop() {
		if _, err := camera.View(tube); err != nil {
			b.Fatal(err)
		}
	}
}
