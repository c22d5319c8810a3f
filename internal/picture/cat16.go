package picture

import "gloam/internal/colour"

// conesFromXYZ is CAT16's matrix [Li2017], equation 11.
var conesFromXYZ = matrix{
	{0.401288, 0.650173, -0.051461},
	{-0.250268, 1.204414, 0.045854},
	{-0.002079, 0.048952, 0.953127},
}

// cat16 returns the map from colours seen under one white to colours of the same look under another, both fully adapted
// to (D = 1) and of the same luminance [Li2017].
func cat16(from, to colour.XYZ) matrix {
	a, b := conesFromXYZ.ofXYZ(from), conesFromXYZ.ofXYZ(to)
	gain := diagonal([3]float64{b[0] / a[0], b[1] / a[1], b[2] / a[2]})
	return conesFromXYZ.inverse().times(gain).times(conesFromXYZ)
}
