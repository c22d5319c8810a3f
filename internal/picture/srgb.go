package picture

import (
	"math"

	"gloam/internal/colour"
)

// The primaries and white of Recommendation BT.709 and of sRGB [IEC61966], table 1.
var (
	red   = colour.Chromaticity{X: 0.64, Y: 0.33}
	green = colour.Chromaticity{X: 0.30, Y: 0.60}
	blue  = colour.Chromaticity{X: 0.15, Y: 0.06}
	d65   = colour.Chromaticity{X: 0.3127, Y: 0.3290}
)

// xyzFromRGB takes linear sRGB to XYZ: the primaries in such shares that 1, 1, 1 is the white with Y 1, as
// [SMPTE177] derives it.
var xyzFromRGB = func() matrix {
	r, g, b, w := red.XYZ(1), green.XYZ(1), blue.XYZ(1), d65.XYZ(1)
	columns := matrix{{r.X, g.X, b.X}, {r.Y, g.Y, b.Y}, {r.Z, g.Z, b.Z}}
	back := columns.inverse()
	return columns.times(diagonal(back.ofXYZ(w)))
}()

// rgbFromXYZ takes XYZ to linear sRGB. Colours outside its gamut have a component below 0.
var rgbFromXYZ = xyzFromRGB.inverse()

// encodeSRGB returns the value of 0 to 1 that stands in a file for a linear component of 0 to 1 [IEC61966], equation 6.
func encodeSRGB(linear float64) float64 {
	if linear <= 0.0031308 {
		return 12.92 * linear
	}
	return 1.055*math.Pow(linear, 1/2.4) - 0.055
}
