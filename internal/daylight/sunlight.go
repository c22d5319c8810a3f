package daylight

import (
	"math"

	"gloam/internal/unit"
)

const (
	// solarIlluminance is the sun's at the mean distance, outside the atmosphere, lx [RP21].
	solarIlluminance = 128_000
	// sunSolidAngle is the sun's disc at the mean distance, sr: 0.533° across.
	sunSolidAngle = 6.80e-5
	// sunRadius is half the disc's width, degrees.
	sunRadius = 0.2666
)

// beyondAir returns the sun's illuminance outside the atmosphere on a day of the year (1 is 1 January), lx: up to 3.3 % either
// way with the distance [RP21].
func beyondAir(yearDay int) float64 {
	return solarIlluminance * (1 + 0.033412*math.Cos(2*math.Pi*float64(yearDay-3)/365))
}

// airMass returns how much more air the light passes than from the zenith, at an apparent altitude (degrees) from 0
// [KastenYoung1989]. At the zenith it is 0.9997.
func airMass(apparent float64) float64 {
	apparent = max(0, apparent)
	return 1 / (math.Sin(radians(apparent)) + 0.50572*math.Pow(apparent+6.07995, -1.6364))
}

// throughAir returns what is left of the sun's illuminance (lx) behind an air mass at an extinction for each [RP21], where the
// air mass is 1/sin of the altitude. With [KastenYoung1989] it holds to the horizon.
func throughAir(beyond, extinction, mass float64) float64 { return beyond * math.Exp(-extinction*mass) }

// discAbove returns the share of the sun's disc above the horizon at an apparent altitude of its middle (degrees).
func discAbove(apparent float64) float64 {
	x := max(-1, min(1, apparent/sunRadius))
	return (math.Acos(-x) + x*math.Sqrt(1-x*x)) / math.Pi
}

// SunLuminance returns the luminance of the sun's disc that makes an illuminance square-on, without the glow about it.
func SunLuminance(direct unit.Lux) unit.Nit { return unit.Nit(direct / sunSolidAngle) }
