package colour

import (
	"math"
	"sync"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Rendering holds the colour rendering indices of CIE 13.3-1995: Ra, the mean of the first eight, and R[0] to R[13], the
// special ones R1 to R14. 100 is as under the reference; strange colours go below 0.
type Rendering struct {
	Ra float64
	R  [14]float64
}

// CIE13 returns the colour rendering indices of a source against a black body of its correlated colour temperature below
// 5000 K and daylight from there [CIE13]. The standard means sources within 0.0054 of the reference in u, v; beyond, the
// indices say little. Sums are at 1 nm; for narrow lines tabulated at 5 nm sums at 5 nm would differ by up to 2 in R9. The
// error is a fault of kind Input where the source has no colour temperature, or one above 25000 K, where there is no reference.
func CIE13(source spectrum.Curve) (Rendering, error) {
	cct, err := cctOf(source)
	if err != nil {
		return Rendering{}, err
	}
	reference := spectrum.Planck(unit.Kelvin(cct))
	if cct >= 5000 {
		if reference, err = spectrum.Daylight(unit.Kelvin(cct)); err != nil {
			return Rendering{}, err
		}
	}
	source, reference = source.Fine(), reference.Fine()
	observer := spectrum.Observer1931()
	test, testY := sourceSeen(source, observer)
	ref, refY := sourceSeen(reference, observer)
	var r Rendering
	for i, sample := range cie13Samples() {
		a := uniform64(adapted(seen(source, observer, sample, testY), test, ref), ref)
		b := uniform64(yuv(seen(reference, observer, sample, refY)), ref)
		r.R[i] = 100 - 4.6*distance(a, b)
		if i < 8 {
			r.Ra += r.R[i] / 8
		}
	}
	return r, nil
}

var cie13Samples = sync.OnceValue(func() []spectrum.Curve { return readSamples("cie13.csv") })

// vonKries returns c and d of a chromaticity, the coordinates in which [CIE13], clause 5.7, adapts.
func vonKries(uv UV) (c, d float64) {
	return (4 - uv.U - 10*uv.V) / uv.V, (1.708*uv.V + 0.404 - 1.481*uv.U) / uv.V
}

// adapted returns a sample's Y and its u, v after adaptation from the test source to the reference [CIE13], clause 5.7.
func adapted(sample, test, reference XYZ) [3]float64 {
	ct, dt := vonKries(test.UV1960())
	cr, dr := vonKries(reference.UV1960())
	c, d := vonKries(sample.UV1960())
	c, d = c*cr/ct, d*dr/dt
	q := 16.518 + 1.481*c - d
	return [3]float64{sample.Y, (10.872 + 0.404*c - 4*d) / q, 5.520 / q}
}

// yuv returns a colour's Y and its CIE 1960 u, v.
func yuv(c XYZ) [3]float64 {
	uv := c.UV1960()
	return [3]float64{c.Y, uv.U, uv.V}
}

// uniform64 returns W*, U*, V* of the CIE 1964 uniform colour space from Y, u, v [CIE13], clause 5.8.
func uniform64(yuv [3]float64, white XYZ) [3]float64 {
	n := white.UV1960()
	w := 25*math.Cbrt(yuv[0]) - 17
	return [3]float64{w, 13 * w * (yuv[1] - n.U), 13 * w * (yuv[2] - n.V)}
}

func distance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}
