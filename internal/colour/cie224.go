package colour

import (
	"math"
	"sync"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// CIE224 returns the colour fidelity index Rf of CIE 224:2017, which is also that of ANSI/IES TM-30-18, and the gamut index
// Rg of TM-30-18 [CIE224] [TM30]: 99 samples seen by the CIE 1964 10° observer, in CAM02-UCS, against a black body up to 4000 K,
// daylight from 5000 K and their mix between. Rf runs from 0 to 100; Rg is 100 where colours are as rich as under the
// reference. The error is a fault of kind Input where the source has no colour temperature, or one above 25000 K.
func CIE224(source spectrum.Curve) (rf, rg float64, err error) {
	cct, err := cctOf(source)
	if err != nil {
		return 0, 0, err
	}
	reference, err := reference224(cct)
	if err != nil {
		return 0, 0, err
	}
	test, ref := samples224(source), samples224(reference.SampledAs(source))
	sum := 0.0
	for i := range test {
		sum += distance(test[i], ref[i])
	}
	// CIE 224, equation 8, with its scale factor 6.73.
	rf = 10 * math.Log1p(math.Exp((100-6.73*sum/float64(len(test)))/10))
	return rf, gamut(test, ref), nil
}

// reference224 returns the reference for a colour temperature (K) [CIE224], equation 2.
func reference224(cct float64) (spectrum.Curve, error) {
	if cct <= 4000 {
		return spectrum.Planck(unit.Kelvin(cct)), nil
	}
	day, err := spectrum.Daylight(unit.Kelvin(cct))
	if err != nil || cct >= 5000 {
		return day, err
	}
	share := (cct - 4000) / 1000
	return spectrum.Mixture([]spectrum.Curve{spectrum.Planck(unit.Kelvin(cct)), day}, []float64{1 - share, share}), nil
}

var cie224Samples = sync.OnceValue(func() []spectrum.Curve { return readSamples("cie224.csv") })

// samples224 returns the 99 samples under a source in CAM02-UCS.
func samples224(source spectrum.Curve) [][3]float64 {
	observer := spectrum.Observer1964()
	white, y := sourceSeen(source, observer)
	model := newCIECAM02(white)
	samples := cie224Samples()
	out := make([][3]float64, len(samples))
	for i, s := range samples {
		out[i] = model.ucs(seen(source, observer, s, y))
	}
	return out
}

// hueBins is how many equal bins of hue TM-30 averages the samples in, by their hue under the reference.
const hueBins = 16

// gamut returns 100 times the area of the polygon of the bins' means of a', b' under the test source over that under the
// reference [TM30].
func gamut(test, ref [][3]float64) float64 {
	var a, b [hueBins][2]float64
	var n [hueBins]float64
	for i := range ref {
		turn := math.Atan2(ref[i][2], ref[i][1]) / (2 * math.Pi)
		bin := int((turn - math.Floor(turn)) * hueBins)
		n[bin]++
		for k := range 2 {
			a[bin][k] += test[i][k+1]
			b[bin][k] += ref[i][k+1]
		}
	}
	for bin := range n {
		for k := range 2 {
			a[bin][k] /= n[bin]
			b[bin][k] /= n[bin]
		}
	}
	return 100 * area(a) / area(b)
}

// area returns twice the area of a polygon.
func area(p [hueBins][2]float64) float64 {
	sum := 0.0
	for i := range p {
		j := (i + 1) % hueBins
		sum += p[i][0]*p[j][1] - p[j][0]*p[i][1]
	}
	return sum
}
