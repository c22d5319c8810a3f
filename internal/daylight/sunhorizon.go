package daylight

import (
	"math"

	"gloam/internal/unit"
)

// body is where the sun or the moon stands as seen from the Earth's middle, in radians, on the true equator and equinox of date.
type body struct{ rightAscension, declination, parallax float64 }

// standing is where a body stands over a place, in degrees, without refraction.
type standing struct{ altitude, azimuth, hourAngle float64 }

// earthFlattening is the polar axis over the equatorial.
const earthFlattening = 0.99664719

// over returns where a body stands over a place at sea level: the Earth turned under it, and the parallax of not standing at its
// middle [SPA], equations 28 to 47.
func (b body) over(p unit.Position, m moment, e ecliptic) standing {
	hour := radians(siderealTime(m, e)+float64(p.Longitude)) - b.rightAscension
	latitude := p.Latitude.Radians()
	u := math.Atan2(earthFlattening*math.Sin(latitude), math.Cos(latitude))
	outward, up := math.Cos(u), earthFlattening*math.Sin(u)

	sinParallax := math.Sin(b.parallax)
	sinDec, cosDec := math.Sincos(b.declination)
	sinHour, cosHour := math.Sincos(hour)
	east, south := -outward*sinParallax*sinHour, cosDec-outward*sinParallax*cosHour
	shift := math.Atan2(east, south)
	declination := math.Atan2((sinDec-up*sinParallax)*math.Cos(shift), south)
	hour -= shift

	sinLat, cosLat := math.Sincos(latitude)
	sinDec, cosDec = math.Sincos(declination)
	sinHour, cosHour = math.Sincos(hour)
	altitude := math.Asin(max(-1, min(1, sinLat*sinDec+cosLat*cosDec*cosHour)))
	azimuth := math.Atan2(sinHour*cosDec, cosHour*sinLat*cosDec-sinDec*cosLat)
	return standing{degrees(altitude), turn(degrees(azimuth) + 180), turn(degrees(hour))}
}

// siderealTime returns the apparent sidereal time at Greenwich, degrees [SPA], equations 28 and 29.
func siderealTime(m moment, e ecliptic) float64 {
	t := m.days / 36525
	mean := 280.46061837 + 360.98564736629*m.days + t*t*(0.000387933-t/38710000)
	return turn(mean + e.nutation*math.Cos(radians(e.obliquity)))
}

// ecliptic is the true tilt of the Earth's axis and the nutation in longitude at a moment, degrees.
type ecliptic struct{ obliquity, nutation float64 }

func eclipticAt(m moment) ecliptic {
	longitude, obliquity := nutation(m.centuries)
	return ecliptic{meanObliquity(m.centuries) + obliquity, longitude}
}

// equatorial turns an apparent longitude and latitude, degrees, onto the equator, radians [SPA], equations 26 and 27.
func (e ecliptic) equatorial(longitude, latitude float64) (rightAscension, declination float64) {
	sinTilt, cosTilt := math.Sincos(radians(e.obliquity))
	sinLon, cosLon := math.Sincos(radians(longitude))
	sinLat, cosLat := math.Sincos(radians(latitude))
	return math.Atan2(sinLon*cosTilt*cosLat-sinLat*sinTilt, cosLon*cosLat), math.Asin(sinLat*cosTilt + cosLat*sinTilt*sinLon)
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// turn brings degrees to 0 up to 360.
func turn(angle float64) float64 {
	if angle = math.Mod(angle, 360); angle < 0 {
		angle += 360
	}
	if angle >= 360 { // a negative too small to show beside 360
		return 0
	}
	return angle
}

// halfTurn brings degrees to -180 up to 180.
func halfTurn(angle float64) float64 { return turn(angle+180) - 180 }
