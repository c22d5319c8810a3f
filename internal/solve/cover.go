package solve

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// Covering is a spot-to-flood setting and what it does.
type Covering struct {
	Beam   unit.Degree
	Centre unit.Lux
	Edge   unit.Stop // the edge under the centre
}

// EdgeLoss returns by how many stops the edge of a width, square to the axis of a small lamp at the distance, lies under
// its centre, with the receptor kept parallel: log2(I(0)/I(θ)) − 3·log2 cos θ, of which the second part is distance and
// incidence. A bell beam makes the first (2θ/β)². Where no light goes it is +∞.
func EdgeLoss(light photometry.Distribution, width, distance unit.Metre) unit.Stop {
	theta := math.Atan(float64(width / 2 / distance))
	edge := light.At(photometry.Direction(0, unit.Degree(theta*180/math.Pi)))
	return unit.Stops(light.At(photometry.Direction(0, 0))/edge) - 3*unit.Stops(math.Cos(theta))
}

// Cover returns the setting between spot and flood of a lamp of bell beams, of the level in the centre that it gives, that
// lights a width at a distance, both above 0, within so many stops from centre to edge and does it brightest; ok is false,
// and the setting full flood, when that too falls off too far.
func Cover(spot, flood unit.Degree, level func(unit.Degree) unit.Lux, width, distance unit.Metre, within unit.Stop) (c Covering, ok bool) {
	theta := math.Atan(float64(width / 2 / distance))
	covering := func(beam unit.Degree) Covering {
		off := 2 * theta / beam.Radians()
		return Covering{beam, level(beam), unit.Stop(off*off - 3*math.Log2(math.Cos(theta)))}
	}
	room := float64(within) + 3*math.Log2(math.Cos(theta))
	least := unit.Degree(2 * theta / math.Sqrt(max(room, 0)) * 180 / math.Pi)
	if !(least <= flood) {
		return covering(flood), false
	}
	// The peak falls with the beam in most lamps, but need not in all: every setting from the least on is compared.
	least = max(least, spot)
	const settings = 64
	for i := range settings + 1 {
		beam := min(least*unit.Degree(math.Pow(float64(flood/least), float64(i)/settings)), flood)
		if now := covering(beam); now.Centre > c.Centre || i == 0 {
			c = now
		}
	}
	return c, true
}

// CoverFrom returns the nearest distance, up to a kilometre, from which a small lamp lights a width, square to its axis,
// within so many stops, above 0, from centre to edge.
func CoverFrom(light photometry.Distribution, width unit.Metre, within unit.Stop) unit.Metre {
	near, far := unit.Metre(0), farthest
	for range 60 {
		if middle := (near + far) / 2; EdgeLoss(light, width, middle) > within {
			near = middle
		} else {
			far = middle
		}
	}
	return far
}

// farthest is where searches along a line end.
const farthest unit.Metre = 1000

// Throw returns the nearest distance from a small lamp to the near end of a walk straight away from it that keeps the
// walk's swing within so many stops, over an ambient that is the same along it: the root of
// log2((I/d² + A)/(I/(d+w)² + A)) = n, by halving. Swing and walk are above 0.
func Throw(intensity unit.Candela, ambient unit.Lux, walk unit.Metre, swing unit.Stop) unit.Metre {
	near, far := unit.Metre(0), exposure.WalkDistance(walk, swing) // what it would be without the ambient
	for range 60 {
		middle := (near + far) / 2
		a := exposure.Illuminance(intensity, middle, 0) + ambient
		b := exposure.Illuminance(intensity, middle+walk, 0) + ambient
		if unit.Stops(float64(a/b)) > swing {
			near = middle
		} else {
			far = middle
		}
	}
	return far
}

// Farthest returns the distance, from near to a kilometre, at which a level that falls with it is just what is wanted; ok
// is false when it is already below at near.
func Farthest(level func(unit.Metre) unit.Lux, wanted unit.Lux, near unit.Metre) (distance unit.Metre, ok bool) {
	if !(level(near) >= wanted) {
		return 0, false
	}
	far := farthest
	if level(far) >= wanted {
		return far, true
	}
	for range 60 {
		if middle := (near + far) / 2; level(middle) >= wanted {
			near = middle
		} else {
			far = middle
		}
	}
	return near, true
}

// SunHeight returns how high a lamp must hang to light a point from the altitude of a sun, at a level distance: h + d·tan a.
func SunHeight(point, distance unit.Metre, altitude unit.Degree) unit.Metre {
	return point + distance*unit.Metre(math.Tan(altitude.Radians()))
}

// ShadowAltitude returns the altitude from which a thing throws a shadow of the length on level ground: atan(h/s).
func ShadowAltitude(height, shadow unit.Metre) unit.Degree {
	return unit.Degree(math.Atan2(float64(height), float64(shadow)) * 180 / math.Pi)
}
