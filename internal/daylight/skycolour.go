package daylight

import (
	"math"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Colour is the colour of the sun or of the whole sky. Interval is the 95 % half-width of its reciprocal colour temperature.
type Colour struct {
	Kelvin   unit.Kelvin
	Duv      float64
	Interval unit.Mired
}

// Light returns the colour as light: daylight's or a black body's spectrum, brought to the colour.
func (c Colour) Light() (spectrum.Light, error) { return spectrum.BiColour(c.Kelvin, c.Duv) }

// skyColour is the colours of a kind of sky by day at the altitudes of colourAltitudes, in mired and Duv, and the
// sky's by dusk.
type skyColour struct {
	sun, sky       [len(colourAltitudes)]float64
	sunDuv, skyDuv [len(colourAltitudes)]float64
	dusk, doubt    float64 // mired; doubt is the half-width of the sky's
}

// colourAltitudes are degrees.
var colourAltitudes = [8]float64{3, 10, 15, 20, 30, 60, 75, 90}

// The clear and the hazy sky are those of [Bird1986] at aerosol depths of 0.1 and 0.3, computed for 1.4 cm of water, ozone
// 0.31 and ground of 0.2. Clouds are grey, so an overcast sky has about the colour of sun and sky together, 6500 K (common
// practice; the typical daylight of [Hernandez2001] is 5700 K); skies between stand between. Dusk is common practice, no
// source: 12 500 K in a clear sky, 9000 K under cloud.
var (
	clearColour = skyColour{
		sun:    [8]float64{415.3, 259.8, 231.7, 217.1, 202.1, 187.9, 185.8, 185.2},
		sunDuv: [8]float64{0.00470, 0.00516, 0.00425, 0.00359, 0.00278, 0.00191, 0.00177, 0.00173},
		sky:    [8]float64{94.7, 98.3, 96.6, 94.5, 91.0, 85.6, 84.5, 84.2},
		skyDuv: [8]float64{0.00377, 0.00348, 0.00364, 0.00364, 0.00353, 0.00331, 0.00327, 0.00326},
		dusk:   80, doubt: 25,
	}
	hazyColour = skyColour{
		sun:    [8]float64{533.0, 300.8, 259.9, 238.8, 217.2, 196.8, 193.9, 193.0},
		sunDuv: [8]float64{0.00201, 0.00410, 0.00371, 0.00327, 0.00263, 0.00185, 0.00172, 0.00169},
		sky:    [8]float64{107.9, 138.6, 139.3, 136.4, 130.4, 120.9, 119.2, 118.7},
		skyDuv: [8]float64{0.00143, 0.00104, 0.00233, 0.00289, 0.00318, 0.00310, 0.00305, 0.00304},
		dusk:   90, doubt: 25,
	}
	partlyColour   = clearColour.under(133, 95)
	brokenColour   = clearColour.under(143, 100)
	overcastColour = clearColour.under(154, 111)
)

// cloudDuv is where daylight lies above the Planckian locus, about (CIE illuminants D).
const cloudDuv = 0.0032

// under returns the same sun with a sky of one colour by day, in mired, and one by dusk.
func (c skyColour) under(day, dusk float64) skyColour {
	for i := range c.sky {
		c.sky[i], c.skyDuv[i] = day, cloudDuv
	}
	c.dusk, c.doubt = dusk, 20
	return c
}

// SunColour returns the colour of the sun's direct light at a geometric altitude. Below 3° it is that at 3°. The half-width
// is what a change of 0.1 in aerosol depth and another model make: 6 mired and 4 more for each air mass (our choice).
func SunColour(altitude unit.Degree, k Kind) Colour {
	c, mass := &skies[k].colour, airMass(max(apparentAltitude(float64(altitude)), colourAltitudes[0]))
	return Colour{
		Kelvin:   unit.Kelvin(1e6 / byAirMass(mass, &c.sun)),
		Duv:      byAirMass(mass, &c.sunDuv),
		Interval: unit.Mired(6 + 4*mass),
	}
}

// SkyColour returns the colour of the whole sky's light, as level ground gets it, at a geometric altitude of the sun. A part
// of a clear sky differs far more (from 3800 K to beyond any colour temperature, measured [Hernandez2001]): white about the
// sun, deep blue at right angles to it; none of that is in the figure. From 0° to -6° it turns to dusk's.
func SkyColour(altitude unit.Degree, k Kind) Colour {
	c, h := &skies[k].colour, float64(altitude)
	mass := airMass(max(apparentAltitude(h), colourAltitudes[0]))
	day, dusk := byAirMass(mass, &c.sky), smooth(-h/6)
	return Colour{
		Kelvin:   unit.Kelvin(1e6 / (day + dusk*(c.dusk-day))),
		Duv:      byAirMass(mass, &c.skyDuv),
		Interval: unit.Mired(c.doubt + dusk*10),
	}
}

// byAirMass reads a column of a table by air mass, in which mired run nearly straight.
func byAirMass(mass float64, column *[len(colourAltitudes)]float64) float64 {
	last := len(colourAltitudes) - 1
	for i := range last {
		thick, thin := airMass(colourAltitudes[i]), airMass(colourAltitudes[i+1])
		if mass >= thin || i == last-1 {
			t := math.Max(0, math.Min(1, (thick-mass)/(thick-thin)))
			return column[i] + t*(column[i+1]-column[i])
		}
	}
	panic("daylight: a table of colours without rows")
}
