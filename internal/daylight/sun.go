package daylight

import (
	"math"
	"time"

	"gloam/internal/unit"
)

// Sun is where the middle of the sun's disc stands over a place.
type Sun struct {
	Altitude  unit.Degree  // as seen, lifted by refraction at 10 °C and 1010 hPa [Saemundsson1986]; from -1° down that fades out
	Geometric unit.Degree  // without air
	Azimuth   unit.Bearing // clockwise from true north; at the pole itself as the longitude given has it
	Radius    unit.Degree  // of the disc
	YearDay   int          // day of the year in universal time, 1 to 366, as LevelsAt asks for
	standing  standing
}

// SunAt returns where the sun stands over a place at sea level, by [SPA] without its height above the sea. Geometric altitude
// is within 0.003° while UTC and UT1 are within half a second. It panics outside 1900 to 2100: ask InRange first.
func SunAt(t time.Time, p unit.Position) Sun {
	m := momentOf(t)
	e := eclipticAt(m)
	b, distance, _ := sunBody(m, e)
	s := b.over(p, m, e)
	return Sun{unit.Degree(apparentAltitude(s.altitude)), unit.Degree(s.altitude), unit.Bearing(s.azimuth),
		unit.Degree(sunRadius / distance), t.UTC().YearDay(), s}
}

// sunBody returns the sun from the Earth's middle, its distance in au and its apparent longitude in degrees [SPA], equations 9
// to 27.
func sunBody(m moment, e ecliptic) (b body, distance, longitude float64) {
	millennia := m.centuries / 10
	distance = sum(earthRadius, millennia)
	longitude = turn(degrees(sum(earthLongitude, millennia)) + 180 + e.nutation - 20.4898/3600/distance) // aberration last
	latitude := -degrees(sum(earthLatitude, millennia))
	b.rightAscension, b.declination = e.equatorial(longitude, latitude)
	b.parallax = radians(8.794 / 3600 / distance)
	return b, distance, longitude
}

// Apart returns the angle between two standings of the sun in the sky, without air.
func (s Sun) Apart(other Sun) unit.Degree {
	a, b := s.standing, other.standing
	sinA, cosA := math.Sincos(radians(a.altitude))
	sinB, cosB := math.Sincos(radians(b.altitude))
	sinTurn, cosTurn := math.Sincos(radians(a.azimuth - b.azimuth))
	across := math.Hypot(cosB*sinTurn, cosA*sinB-sinA*cosB*cosTurn)
	return unit.Degree(degrees(math.Atan2(across, sinA*sinB+cosA*cosB*cosTurn)))
}
