package picture

import (
	"math"

	"gloam/internal/colour"
	"gloam/internal/exposure"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Camera is what turns light into tones: the exposure, and the colour temperature of the light that is to look white.
type Camera struct {
	exposure.Camera
	Balance unit.Kelvin
	Tint    float64 // Duv of the light that is to look white
}

// white returns the colour of the light the camera is balanced to, so that a light which reads no mired from the balance and
// the tint's Duv is grey in the picture.
func (c Camera) white() colour.XYZ {
	white, err := spectrum.BiColour(c.Balance, c.Tint)
	if err != nil {
		panic("picture: camera balanced to what is no white")
	}
	return colour.MixtureOf([]spectrum.Light{white}, []unit.Lux{1})
}

// whiteLuminance returns the luminance that the camera renders as 1: that of a perfect matt white in light at the key.
func (c Camera) whiteLuminance() unit.Nit { return exposure.Luminance(1, c.Key()) }

// scene returns the map from a composite's XYZ to scene-referred linear sRGB: balanced to D65 by CAT16, a matt white in
// light at the key 1, so a grey card there 0.18.
func (c Camera) scene() matrix {
	if !(c.Balance > 0) || math.IsInf(float64(c.Balance), 0) {
		panic("picture: camera without a balance")
	}
	k := 1 / float64(c.whiteLuminance())
	return rgbFromXYZ.times(cat16(c.white(), d65.XYZ(1))).times(diagonal([3]float64{k, k, k}))
}
