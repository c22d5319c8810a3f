package daylight

import (
	"math"

	"gloam/internal/unit"
)

// Luminances are the mean luminances of the sky's patches, cd/m², in the order of Patches.
type Luminances [PatchCount]unit.Nit

// LuminancesAt returns the luminance of each patch of a sky that gives level ground an illuminance, with the sun at a geometric
// altitude and an azimuth: Σ luminance·Horizontal is that illuminance. The sun itself is not in it.
//
// The distribution is the type of [CIES011] that goes with the kind, averaged over each patch at nine points. With the sun
// below the horizon it is that of a sun on it, and from -12° to -18° it passes into an even sky (our choice).
func LuminancesAt(altitude unit.Degree, azimuth unit.Bearing, diffuse unit.Lux, k Kind) *Luminances {
	var relative [PatchCount]float64
	h := float64(altitude)
	sun := toward(radians(max(0, h)), radians(float64(azimuth)))
	shapes[skies[k].standard].fill(sun, &relative)
	scale := 1 / horizontal(&relative)
	night := smooth((-12 - h) / 6)
	var l Luminances
	for i, value := range relative {
		value *= scale
		l[i] = unit.Nit(float64(diffuse) * (value + night*(1/math.Pi-value)))
	}
	return &l
}

// horizontal returns the illuminance of level ground by patches of given luminance.
func horizontal(luminance *[PatchCount]float64) float64 {
	sum := 0.0
	for i, value := range luminance {
		sum += value * Patches[i].Horizontal
	}
	return sum
}

// Through returns the level that a sky makes at a point whose response to each patch is known: lx for 1 cd/m².
func (l *Luminances) Through(response *[PatchCount]float64) float64 {
	var a, b, c, d float64 // four sums, so that the additions need not wait for one another
	for i := 0; i+3 < PatchCount; i += 4 {
		a += float64(l[i]) * response[i]
		b += float64(l[i+1]) * response[i+1]
		c += float64(l[i+2]) * response[i+2]
		d += float64(l[i+3]) * response[i+3]
	}
	return a + b + c + d + float64(l[PatchCount-1])*response[PatchCount-1]
}
