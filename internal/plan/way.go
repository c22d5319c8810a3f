package plan

import (
	"math"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// Way returns the way that a direction leads from a place, and whether it leads anywhere: as long as it is to what it
// leads to, of length 1 where it says only which way. A thing is met in its middle, a person in the face.
func (l *Locator) Way(t *Toward, from geometry.Vector) (geometry.Vector, bool) {
	return l.way(t, from, l.middle)
}

// LevelWay returns the way as Way does, but level, as people look and slopes fall. There a person is where they stand, so
// that two can face each other. The zero vector is straight up, straight down or the place itself.
func (l *Locator) LevelWay(t *Toward, from geometry.Vector) (geometry.Vector, bool) {
	const nothing = 1e-9 // of a length of 1 or more: what sine and cosine leave of straight up
	way, ok := l.way(t, from, l.foot)
	way.Z = 0
	if way.Length() < nothing {
		way = geometry.Vector{}
	}
	return way, ok
}

func (l *Locator) way(t *Toward, from geometry.Vector, of func(Name) (geometry.Vector, bool)) (geometry.Vector, bool) {
	switch {
	case t.Place != nil:
		to := geometry.Vector{X: float64(t.Place.X), Y: float64(t.Place.Y), Z: from.Z}
		if t.Place.Z != nil {
			to.Z = float64(*t.Place.Z)
		}
		return to.Sub(from), true
	case t.Bearing != nil:
		return l.Sky(*t.Bearing, -t.Below), true
	case t.Name == Name{Thing: SunName}:
		return l.sun()
	}
	to, ok := of(t.Name)
	return to.Sub(from), ok
}

// bearing returns the level direction of an azimuth.
func (l *Locator) bearing(azimuth unit.Bearing) geometry.Vector {
	s, c := math.Sincos(unit.Degree(azimuth - l.doc.Set.North).Radians())
	return geometry.Vector{X: s, Y: c}
}

// Sky returns the direction at an azimuth from true north and an altitude.
func (l *Locator) Sky(azimuth unit.Bearing, altitude unit.Degree) geometry.Vector {
	s, c := math.Sincos(altitude.Radians())
	return l.bearing(azimuth).Mul(c).AddMul(s, geometry.Up)
}

// sun returns the direction to the sun, and whether the document says where it is: by a reading, or by place and time.
func (l *Locator) sun() (geometry.Vector, bool) {
	if at, ok := l.doc.instant(); ok {
		s := daylight.SunAt(at, *l.doc.Place)
		return l.Sky(s.Azimuth, s.Altitude), true
	}
	for i := range l.doc.Ambient {
		if a := &l.doc.Ambient[i].Value; a.Shape == sunShape && a.Altitude != nil && a.Azimuth != nil {
			return l.Sky(*a.Azimuth, *a.Altitude), true
		}
	}
	return geometry.Vector{}, false
}
