package solve

import (
	"fmt"
	"math"

	"gloam/internal/exposure"
	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// Covering is a spot-to-flood setting and what it does.
type Covering struct {
	Beam   unit.Degree
	Centre unit.Lux
	Edge   unit.Stop // the edge under the centre
}

// EdgeLoss returns by how many stops the edge of a width, square to the axis of a bell beam at the distance, lies under
// its centre, with the receptor kept parallel: (2θ/β)² − 3·log2 cos θ, of which the second part is distance and
// incidence. The beam is above 0.
func EdgeLoss(beam unit.Degree, width, distance unit.Metre) unit.Stop {
	theta := math.Atan(float64(width / 2 / distance))
	off := 2 * theta / beam.Radians()
	return unit.Stop(off*off - 3*math.Log2(math.Cos(theta)))
}

// Cover returns the setting that lights a width at a distance, both above 0, within so many stops from centre to edge and
// does it brightest. A fault.Fault tells that even full flood falls off too far.
func Cover(family *photometry.Family, width, distance unit.Metre, within unit.Stop) (Covering, error) {
	spot, flood := family.Range()
	theta := math.Atan(float64(width / 2 / distance))
	room := float64(within) + 3*math.Log2(math.Cos(theta))
	least := unit.Degree(2 * theta / math.Sqrt(max(room, 0)) * 180 / math.Pi)
	if !(least <= flood) {
		return Covering{}, fault.Fault{Text: fmt.Sprintf("even at full flood the edge of %s lies too far under the centre", width),
			Read: EdgeLoss(flood, width, distance).Tenths() + " stops", Allowed: within.Tenths() + " stops"}
	}
	// The peak falls with the beam in most lamps, but need not in all: every setting from the least on is compared.
	best := Covering{}
	least = max(least, spot)
	const settings = 64
	for i := range settings + 1 {
		beam := min(least*unit.Degree(math.Pow(float64(flood/least), float64(i)/settings)), flood)
		d, err := family.At(beam)
		if err != nil {
			return Covering{}, err
		}
		if centre := exposure.Illuminance(d.Peak(), distance, 0); centre > best.Centre {
			best = Covering{beam, centre, EdgeLoss(beam, width, distance)}
		}
	}
	return best, nil
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
