package colour

import (
	"math"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// ssiWeights weigh the thirty intervals of 10 nm from 375 nm: less at the ends, where cameras see little [ST2122].
var ssiWeights = [30]float64{
	12. / 45, 22. / 45, 32. / 45, 40. / 45, 44. / 45, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 11. / 15, 3. / 15,
}

// SSI returns the spectral similarity index of a source to a reference [ST2122]: whole numbers from 0 to 100, where 100 is
// the same shape from 375 to 675 nm. A source without power there has 0.
func SSI(source, reference spectrum.Curve) float64 {
	test, ref := intervals(source), intervals(reference)
	// The differences, weighed and with a zero at either end, are smoothed by 0.22, 0.56, 0.22.
	var d [34]float64
	for i := range test {
		d[i+2] = (test[i] - ref[i]) / (ref[i] + 1./30) * ssiWeights[i]
	}
	sum := 0.0
	for i := 1; i+1 < len(d); i++ {
		v := 0.22*d[i-1] + 0.56*d[i] + 0.22*d[i+1]
		sum += v * v
	}
	if index := math.Round(100 - 32*math.Sqrt(sum)); index > 0 {
		return index
	}
	return 0
}

// intervals returns the power in each interval of 10 nm as a share of their sum: values at 1 nm, those on an interval's ends
// by half.
func intervals(c spectrum.Curve) [30]float64 {
	var out [30]float64
	total := 0.0
	for i := range out {
		for k := range 11 {
			v := c.At(float64(375 + 10*i + k))
			if k == 0 || k == 10 {
				v /= 2
			}
			out[i] += v
		}
		total += out[i]
	}
	for i := range out {
		out[i] /= total
	}
	return out
}

// SSIReference returns what a source of a colour temperature is compared with when nothing else is named: a black body
// below 4000 K, daylight from there to 25000 K [ST2122]. The error is a fault of kind Input beyond.
func SSIReference(cct unit.Kelvin) (spectrum.Curve, error) {
	if cct < 4000 {
		return spectrum.Planck(cct), nil
	}
	return spectrum.Daylight(cct)
}
