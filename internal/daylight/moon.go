package daylight

import (
	"math"
	"time"

	"gloam/internal/unit"
)

// Moon is where the middle of the moon's disc stands over a place, and how it is lit.
type Moon struct {
	Altitude  unit.Degree  // as seen, with refraction as for the sun
	Geometric unit.Degree  // without air
	Azimuth   unit.Bearing // clockwise from true north
	Phase     unit.Degree  // how far it is ahead of the sun in longitude: 0 new, 90 first quarter, 180 full, to below 360
	Lit       float64      // share of the disc that is lit, 0 to 1
	gibbous   float64      // degrees from the sun's place as the moon sees it to the Earth's: 0 full, 180 new
	distance  float64      // km, from the Earth's middle
}

const (
	earthRadiusKM = 6378.14
	auKM          = 149597870.7
)

// MoonAt returns where the moon stands over a place at sea level [Meeus1998], chapters 47 and 48, geometric altitude within
// 0.02°. It panics outside 1900 to 2100.
func MoonAt(t time.Time, p unit.Position) Moon {
	m := momentOf(t)
	e := eclipticAt(m)
	longitude, latitude, distance := moonEcliptic(m.centuries)
	longitude += e.nutation
	var b body
	b.rightAscension, b.declination = e.equatorial(longitude, latitude)
	b.parallax = math.Asin(earthRadiusKM / distance)
	s := b.over(p, m, e)

	_, sunDistance, sunLongitude := sunBody(m, e)
	elongation := math.Acos(math.Cos(radians(latitude)) * math.Cos(radians(longitude-sunLongitude))) // equation 48.2
	sunDistance *= auKM
	gibbous := math.Atan2(sunDistance*math.Sin(elongation), distance-sunDistance*math.Cos(elongation)) // equation 48.3
	return Moon{
		Altitude: unit.Degree(apparentAltitude(s.altitude)), Geometric: unit.Degree(s.altitude), Azimuth: unit.Bearing(s.azimuth),
		Phase: unit.Degree(turn(longitude - sunLongitude)), Lit: (1 + math.Cos(gibbous)) / 2, // equation 48.1
		gibbous: degrees(gibbous), distance: distance,
	}
}

// moonEcliptic returns the moon's longitude and latitude on the mean equinox of date, degrees, and its distance from the Earth's
// middle, km, at Julian centuries from J2000 [Meeus1998], chapter 47.
func moonEcliptic(t float64) (longitude, latitude, distance float64) {
	mean := 218.3164477 + t*(481267.88123421+t*(-0.0015786+t*(1.0/538841-t/65194000)))
	d := 297.8501921 + t*(445267.1114034+t*(-0.0018819+t*(1.0/545868-t/113065000)))
	m := 357.5291092 + t*(35999.0502909+t*(-0.0001536+t/24490000))
	mMoon := 134.9633964 + t*(477198.8675055+t*(0.0087414+t*(1.0/69699-t/14712000)))
	f := 93.2720950 + t*(483202.0175233+t*(-0.0036539+t*(-1.0/3526000+t/863310000)))
	a1, a2, a3 := 119.75+131.849*t, 53.09+479264.290*t, 313.45+481266.484*t
	eccentricity := 1 + t*(-0.002516-0.0000074*t)
	series := func(terms []moonTerm) (sine, cosine float64) {
		for _, n := range terms {
			s, c := math.Sincos(radians(n.d*d + n.m*m + n.mMoon*mMoon + n.f*f))
			weight := math.Pow(eccentricity, math.Abs(n.m))
			sine, cosine = sine+weight*n.sine*s, cosine+weight*n.cosine*c
		}
		return sine, cosine
	}
	sin := func(angle float64) float64 { return math.Sin(radians(angle)) }
	longitude, distance = series(moonLongitude)
	longitude += 3958*sin(a1) + 1962*sin(mean-f) + 318*sin(a2)
	latitude, _ = series(moonLatitude)
	latitude += -2235*sin(mean) + 382*sin(a3) + 175*sin(a1-f) + 175*sin(a1+f) + 127*sin(mean-mMoon) - 115*sin(mean+mMoon)
	return turn(mean + longitude/1e6), latitude / 1e6, 385000.56 + distance/1000
}

// moonPhases are the eight names, 45° each about new, first quarter, full and last quarter.
var moonPhases = [8]string{"new moon", "waxing crescent", "first quarter", "waxing gibbous",
	"full moon", "waning gibbous", "last quarter", "waning crescent"}

// PhaseName returns the phase in words.
func (m Moon) PhaseName() string { return moonPhases[int(turn(float64(m.Phase)+22.5)/45)%8] }

// moonPieces give the illuminance of level ground by the full moon under a clear sky, log10 lx as a cubic of altitude/90°, each
// down to its altitude [ESAA].
var moonPieces = []struct {
	down         float64 // degrees
	coefficients [4]float64
}{
	{20, [4]float64{-1.95, 4.06, -4.24, 1.56}},
	{5, [4]float64{-2.58, 12.58, -42.58, 59.06}},
	{-0.8, [4]float64{-2.79, 24.27, -252.95, 1321.29}},
}

// Lux returns the moon's illuminance of level ground under a clear sky, without stars, airglow and lamps: the full moon's by
// altitude [ESAA], less for the phase and more for the nearness as [JanDeYoung1987] has it (both laws from memory). Cloud takes
// most of it. Below -0.8° it fades to nothing at -2° (our choice).
func (m Moon) Lux() unit.Lux {
	h := float64(m.Geometric)
	if h <= -2 {
		return 0
	}
	i := 0
	for i < len(moonPieces)-1 && h < moonPieces[i].down {
		i++
	}
	c, x := moonPieces[i].coefficients, h/90
	exponent := c[0] + x*(c[1]+x*(c[2]+x*c[3]))
	exponent += -0.00868*m.gibbous - 2.2e-9*math.Pow(m.gibbous, 4)
	near := degrees(math.Asin(earthRadiusKM/m.distance)) / 0.951 // over the parallax at the mean distance
	return unit.Lux(math.Pow(10, exponent) * near * near * smooth((h+2)/1.2))
}
