package daylight

import (
	"math"

	"gloam/internal/unit"
)

// Levels are what sun and sky give in the open, each with its 95 % half-width. No sun has no half-width.
type Levels struct {
	Direct   unit.Lux // by the sun, square-on to it
	Diffuse  unit.Lux // by the sky, on level ground
	Global   unit.Lux // by both, on level ground
	Interval struct{ Direct, Diffuse, Global unit.Stop }
}

const (
	// twilightDoubt is the half-width of the twilight figures under a clear sky: a factor of two [ESAA].
	twilightDoubt = 1.0
	// nightDoubt is that of a moonless night, which airglow, cloud and above all the lamps of towns decide (common practice).
	nightDoubt = 2.5
	// pureTwilight is the altitude (degrees) below which a clear sky is that of [ESAA] alone.
	pureTwilight = 3.0
	// wideBelow is the altitude (degrees) under which the half-widths grow towards those of twilight: there haze counts most.
	wideBelow = 10.0
)

// LevelsAt returns the levels with the sun's middle at a geometric altitude on a day of the year (1 to 366), without moon and
// without lamps.
//
// By day the sky is [RP21]'s. Under a clear sky it passes between 10° and 3° into the polynomials of [ESAA], since it is half
// a stop too bright at 5°; under cloud it leads over at 0°. They reach to -18°; below, the sky stays as it is there. Cloud
// keeps the share of a clear sky's light in twilight that it has at 0° (our choice). The levels are continuous and never fall
// while the sun climbs. They are climate's mean: a reading on the spot is worth more (Learn). What sun and sky add up to is
// as sure as both, taken as independent.
func LevelsAt(altitude unit.Degree, yearDay int, k Kind) Levels {
	s, h := &skies[k], max(-90, min(90, float64(altitude)))
	apparent := apparentAltitude(h)
	lift := max(0, math.Sin(radians(apparent))) // of the sun over level ground
	var l Levels
	l.Direct = unit.Lux(s.sun(apparent, yearDay))
	l.Diffuse = unit.Lux(s.skylight(h, lift, yearDay))
	l.Global = l.Diffuse + unit.Lux(float64(l.Direct)*lift)
	l.Interval.Diffuse = widen(s.diffuse, h)
	if l.Direct > 0 {
		l.Interval.Direct = widen(s.direct, h)
	}
	l.Interval.Global = unit.Stop(math.Hypot(l.sunShare()*float64(l.Interval.Direct), (1-l.sunShare())*float64(l.Interval.Diffuse)))
	return l
}

// sunShare returns the sun's share of the level on level ground.
func (l Levels) sunShare() float64 { return 1 - float64(l.Diffuse/l.Global) }

// sun returns the direct illuminance square-on to it, lx.
func (s *sky) sun(apparent float64, yearDay int) float64 {
	disc := discAbove(apparent)
	if disc == 0 {
		return 0
	}
	return s.share * disc * throughAir(beyondAir(yearDay), s.extinction, airMass(apparent))
}

// skylight returns the sky's illuminance of level ground, lx.
func (s *sky) skylight(h, lift float64, yearDay int) float64 {
	switch {
	case h >= s.low:
		return s.daylight(h)
	case h <= pureTwilight:
		return s.twilight(h, lift, yearDay)
	}
	weight := smooth((h - pureTwilight) / (s.low - pureTwilight))
	return math.Pow(s.daylight(h), weight) * math.Pow(s.twilight(h, lift, yearDay), 1-weight)
}

// daylight returns the sky's illuminance of level ground by day, lx [RP21].
func (s *sky) daylight(h float64) float64 {
	return 1000 * (s.base + s.slope*math.Pow(max(0, math.Sin(radians(h))), s.power))
}

// twilight returns what [ESAA] leaves for the sky when a clear sky's sun is taken off, times the cloud's share, lx.
func (s *sky) twilight(h, lift float64, yearDay int) float64 {
	apart := func(h, lift float64) float64 {
		return groundByClearSky(h) - lift*skies[Clear].sun(apparentAltitude(h), yearDay)
	}
	if s.low > 0 {
		return apart(h, lift)
	}
	level := math.Sin(radians(apparentAltitude(0)))
	return apart(h, lift) * s.daylight(0) / apart(0, level)
}

// widen returns the half-width of a kind's figure at an altitude (degrees): by day its own; in twilight, and at night, that of
// the clear sky's figures with it in quadrature; between 10° and 0° and in the six degrees below -12° a passage (our choice).
func widen(own unit.Stop, h float64) unit.Stop {
	low := math.Hypot(twilightDoubt, float64(own))
	if h >= 0 {
		return unit.Stop(low + (float64(own)-low)*min(1, h/wideBelow))
	}
	night := smooth((-12 - h) / 6)
	return unit.Stop(math.Hypot(twilightDoubt+night*(nightDoubt-twilightDoubt), float64(own)))
}

// apparentAltitude adds refraction at 10 °C and 1010 hPa to an altitude (degrees) [Saemundsson1986]; from -1° down it fades
// out, since nothing is seen there.
func apparentAltitude(h float64) float64 {
	seen := max(h, -1)
	lifted := 1.02 / 60 / math.Tan(radians(seen+10.3/(seen+5.11)))
	return h + max(0, lifted)*smooth(h+2)
}
