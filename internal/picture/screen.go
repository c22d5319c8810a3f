package picture

import (
	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Screen returns the weights under which layers add up to what Display takes in, scene-referred linear sRGB in place of X, Y
// and Z: it takes those of what the camera records under its balance.
func (c Camera) Screen(recorded Weights) Weights {
	m := c.scene()
	return recorded.through(&m)
}

// OverGrey returns what a luminance in cd/m² is multiplied by to get it in times grey, an 18 % card's in light at the key: 1
// is no stop over grey.
func OverGrey(cam exposure.Camera) float64 { return cam.OverGrey(unit.Nit(1)).Factor() }

// tableSize is how many steps Tones' tables have: between them a straight line is within a tenth of a step of 8 bits.
const tableSize = 4096

// Tones is Display as tables, for a page that composes layers itself. A colour is first mixed with grey of its own luminance
// until no component is below 0. Then its greatest component looks its place up in Shown, the others follow in proportion,
// and each is looked up in Encoded.
type Tones struct {
	Luminance [3]float64 // shares of linear sRGB in the luminance
	Most      float64    // the scene-referred component at the end of Shown; what is brighter is shown as that
	Shown     []float32  // linear component that a screen is given, for 0 to Most in even steps
	Encoded   []float32  // what stands in a file of 0 to 1, for a linear component of 0 to 1 in even steps
}

// ScreenTones returns the tables.
func ScreenTones() Tones {
	t := Tones{xyzFromRGB[1], decodePQ(rollOff.peak) / displayPeak, make([]float32, tableSize+1), make([]float32, tableSize+1)}
	for i := range t.Shown {
		share := float64(i) / tableSize
		t.Shown[i] = float32(rollOff.of(share*t.Most*displayPeak) / displayPeak)
		t.Encoded[i] = float32(encodeSRGB(share))
	}
	return t
}
