package picture

import "math"

// Constants of the perceptual quantiser [BT2100], table 4.
const (
	pqM1 = 2610.0 / 16384
	pqM2 = 2523.0 / 4096 * 128
	pqC1 = 3424.0 / 4096
	pqC2 = 2413.0 / 4096 * 32
	pqC3 = 2392.0 / 4096 * 32

	pqPeak = 10000 // cd/m² at signal 1
)

// encodePQ returns the signal of 0 to 1 for a display's luminance of 0 to 10000 cd/m² [BT2100], table 4.
func encodePQ(nits float64) float64 {
	y := math.Pow(nits/pqPeak, pqM1)
	return math.Pow((pqC1+pqC2*y)/(1+pqC3*y), pqM2)
}

// decodePQ is the inverse of encodePQ [BT2100], table 4.
func decodePQ(signal float64) float64 {
	p := math.Pow(signal, 1/pqM2)
	return pqPeak * math.Pow(math.Max(p-pqC1, 0)/(pqC2-pqC3*p), 1/pqM1)
}

// eetf is the transfer of [BT2390], section 5.4.1, from a source's range to a display's, both with black at 0: the same
// luminance up to a knee, then a Hermite spline in PQ that meets the display's peak at the source's.
type eetf struct {
	peak float64 // PQ of the source's peak
	most float64 // PQ of the display's peak, as a share of peak
	knee float64 // as a share of peak
}

// newEETF takes two peaks in cd/m²; the display's is the lower.
func newEETF(source, display float64) eetf {
	peak := encodePQ(source)
	most := encodePQ(display) / peak
	return eetf{peak, most, 1.5*most - 0.5}
}

// of returns the display's luminance for a source's, both in cd/m². Above the source's peak it is the display's.
func (e *eetf) of(nits float64) float64 {
	share := math.Min(encodePQ(nits)/e.peak, 1)
	if share <= e.knee {
		return nits
	}
	t := (share - e.knee) / (1 - e.knee)
	t2, t3 := t*t, t*t*t
	share = (2*t3-3*t2+1)*e.knee + (t3-2*t2+t)*(1-e.knee) + (3*t2-2*t3)*e.most
	return decodePQ(share * e.peak)
}
