package spectrum

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// components holds the CIE daylight components S0, S1, S2, 380 to 780 nm [CIE15].
var components = readTable("daylight.csv")

// Daylight returns the relative power of a phase of daylight by its correlated colour temperature, 4000 to 25000 K, by the
// method of CIE illuminants D [CIE15], clause 3.1. The kelvin is today's: illuminant D65 is Daylight(6504). Outside the range
// the error is a fault of kind Input.
func Daylight(kelvin unit.Kelvin) (Curve, error) {
	if !(kelvin >= 4000 && kelvin <= 25000) {
		return Curve{}, fault.Fault{Text: "daylight has no spectrum of that colour temperature",
			Read: fmt.Sprintf("%.0f K", float64(kelvin)), Allowed: "4000 K to 25000 K"}
	}
	m1, m2 := daylightFactors(float64(kelvin))
	// Rounded to three decimals as the standard has it.
	return daylightOf(math.Round(m1*1000)/1000, math.Round(m2*1000)/1000), nil
}

// phase returns the D spectrum of a colour temperature (K), unrounded, so that it changes smoothly with it.
func phase(kelvin float64) Curve { return daylightOf(daylightFactors(kelvin)) }

// daylightOf returns S0 + M1·S1 + M2·S2.
func daylightOf(m1, m2 float64) Curve {
	c := Curve{nm: components.nm, value: make([]float64, len(components.nm)), zeroOutside: true}
	for i := range c.value {
		c.value[i] = max(0, (components.columns[0][i]+m1*components.columns[1][i]+m2*components.columns[2][i])/100)
	}
	return c
}

// daylightLocus returns the chromaticity of daylight of a colour temperature (K) [CIE15], clause 3.1.
func daylightLocus(kelvin float64) (x, y float64) {
	t := 1000 / kelvin
	if kelvin <= 7000 {
		x = 0.244063 + t*(0.09911+t*(2.9678-t*4.6070))
	} else {
		x = 0.237040 + t*(0.24748+t*(1.9018-t*2.0064))
	}
	return x, -0.275 + x*(2.870-3*x)
}

// daylightFactors returns the shares M1 and M2 of S1 and S2 beside S0 [CIE15], clause 3.1.
func daylightFactors(kelvin float64) (m1, m2 float64) {
	x, y := daylightLocus(kelvin)
	m := 0.0241 + 0.2562*x - 0.7341*y
	return (-1.3515 - 1.7703*x + 5.9114*y) / m, (0.0300 - 31.4424*x + 30.0717*y) / m
}
