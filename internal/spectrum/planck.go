package spectrum

import (
	"math"

	"gloam/internal/unit"
)

// The radiation constants: c1 = 2hc² (W·m²/sr, exact in the SI of 2019), and c2 = 1.4388e-2 m·K as colorimetry fixes it
// [CIE15], clause 9.5, so that a temperature means the same whatever the year's constants.
const (
	radiationC1 = 1.191042972e-16
	radiationC2 = 1.4388e-2
)

// radiance returns the spectral radiance of a black body in W/(m²·sr·m) by Planck's law.
func radiance(nm, kelvin float64) float64 {
	m := nm * 1e-9
	return radiationC1 / (math.Pow(m, 5) * math.Expm1(radiationC2/(m*kelvin)))
}

// Planck returns the relative power of a black body, sampled at 1 nm and 1 at 560 nm. It panics when kelvin is not above 0.
func Planck(kelvin unit.Kelvin) Curve {
	if !(kelvin > 0) {
		panic("spectrum: temperature not above 0 K")
	}
	norm := radiance(560, float64(kelvin))
	return sampled(1, func(nm float64) float64 { return radiance(nm, float64(kelvin)) / norm })
}
