package clock

import (
	"math"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// Axis is a direction from true north and up from level.
type Axis struct {
	Azimuth  unit.Bearing
	Altitude unit.Degree
}

// AxisOf returns the axis along a direction (x east, y north, z up).
func AxisOf(d geometry.Vector) Axis {
	azimuth := math.Mod(math.Atan2(d.X, d.Y)*180/math.Pi+360, 360)
	return Axis{unit.Bearing(azimuth), unit.Degree(math.Asin(d.Z/d.Length()) * 180 / math.Pi)}
}

// Vector returns the axis as a unit vector.
func (a Axis) Vector() geometry.Vector {
	sinA, cosA := math.Sincos(float64(a.Azimuth) * math.Pi / 180)
	sinH, cosH := math.Sincos(a.Altitude.Radians())
	return geometry.Vector{X: sinA * cosH, Y: cosA * cosH, Z: sinH}
}

// Look says by how many degrees the sun is inside what is asked for; below 0 it is outside.
type Look func(daylight.Sun) float64

// Near is the sun, as seen, within an angle of an axis.
func Near(a Axis, angle unit.Degree) Look {
	axis := a.Vector()
	return func(s daylight.Sun) float64 {
		d := Axis{s.Azimuth, s.Altitude}.Vector()
		apart := math.Atan2(axis.Cross(d).Length(), axis.Dot(d)) * 180 / math.Pi
		return float64(angle) - apart
	}
}

// Beside is the sun, whatever its height, within an angle of a bearing on the ground.
func Beside(b unit.Bearing, angle unit.Degree) Look {
	return func(s daylight.Sun) float64 {
		apart := math.Abs(math.Remainder(float64(s.Azimuth-b), 360))
		return float64(angle) - apart
	}
}

// Over is the sun, as seen, at or above an altitude.
func Over(altitude unit.Degree) Look {
	return func(s daylight.Sun) float64 { return float64(s.Altitude - altitude) }
}

// OverSkyline is the middle of the sun, as seen, over what stands about a place.
func OverSkyline(k *daylight.Skyline) Look {
	return func(s daylight.Sun) float64 { return float64(s.Altitude - k.Height(s.Azimuth)) }
}

// Inside is the sun's middle inside a picture: the camera looks along Z of a basis (x east, y north, z up), with X to its
// right, and sees so much to either side and up and down.
func Inside(basis geometry.Basis, across, up unit.Degree) Look {
	return func(s daylight.Sun) float64 {
		d := basis.In(Axis{s.Azimuth, s.Altitude}.Vector())
		if d.Z <= 0 {
			return -90
		}
		x, y := math.Atan2(math.Abs(d.X), d.Z)*180/math.Pi, math.Atan2(math.Abs(d.Y), d.Z)*180/math.Pi
		return math.Min(float64(across)-x, float64(up)-y)
	}
}

// Both is two things at once.
func Both(a, b Look) Look {
	return func(s daylight.Sun) float64 { return math.Min(a(s), b(s)) }
}

// SunWhen returns when the sun over a place is where a look asks for, from one instant up to a later one, each end to a second.
// A stretch of less than a minute may be missed. It panics outside the years for which positions hold.
func SunWhen(from, to time.Time, p unit.Position, look Look) (spans []daylight.Span) {
	at := func(t time.Time) bool { return look(daylight.SunAt(t, p)) >= 0 }
	edge := func(a, b time.Time) time.Time { // between one that is inside and one that is not
		inside := at(a)
		for b.Sub(a) > time.Second {
			middle := a.Add(b.Sub(a) / 2)
			if at(middle) == inside {
				a = middle
			} else {
				b = middle
			}
		}
		return b
	}
	var open *daylight.Span
	before := from
	for t := from; ; t = t.Add(time.Minute) {
		if t.After(to) {
			t = to
		}
		switch inside := at(t); {
		case inside && open == nil:
			open = &daylight.Span{From: from, To: to}
			if t.After(from) {
				open.From = edge(before, t)
			}
		case !inside && open != nil:
			open.To = edge(before, t)
			spans, open = append(spans, *open), nil
		}
		if before = t; !t.Before(to) {
			break
		}
	}
	if open != nil {
		spans = append(spans, *open)
	}
	return spans
}
