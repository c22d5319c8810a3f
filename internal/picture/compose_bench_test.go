package picture

import (
	"math"
	"testing"

	"gloam/internal/spectrum"
)

// BenchmarkCompose projects one layer of 960x540 pixels from bands to linear RGB under the balance, which is what a change of
// kelvin, gel or balance asks of a layer, on one processor.
func BenchmarkCompose(b *testing.B) {
	img := flat(960, 540, grey(0.4), grey(0.4*800/math.Pi))
	light3200 := spectrum.LightOf(spectrum.Planck(3200))
	weights := Weights{[]spectrum.Band{light3200.X}, []spectrum.Band{light3200.Y}, []spectrum.Band{light3200.Z}}
	var planes [3][]float32
	for k := range planes {
		planes[k] = make([]float32, img.Width)
	}
	for b.Loop() {
		scene := testCamera.scene()
		row := lightRow(img, img.Layers, weights, &scene)
		for y := range img.Height {
			row(y, planes)
		}
	}
}
