package exposure

import (
	"errors"
	"math"

	"gloam/internal/unit"
)

// Lens is a thin lens, with distances measured from it.
type Lens struct {
	Focal   unit.Metre
	Opening unit.FNumber
}

// ErrFocus is returned for a lens focused no farther than its focal length.
var ErrFocus = errors.New("focus is not beyond the focal length")

// Field returns the angle a sensor sees along the side given, with the lens focused far away: 2·atan(side/2f).
func (l Lens) Field(side unit.Metre) unit.Degree {
	return unit.Degree(2 * math.Atan(float64(side/(2*l.Focal))) * 180 / math.Pi)
}

// FrameSide returns how much a sensor sees at the distance along the side given, with the lens focused far away:
// side·d/f.
func (l Lens) FrameSide(side, distance unit.Metre) unit.Metre { return side * distance / l.Focal }

// Hyperfocal returns the nearest focus that keeps infinity sharp for a circle of confusion: f²/(N·c) + f.
func (l Lens) Hyperfocal(circle unit.Metre) unit.Metre {
	return l.Focal*l.Focal/(unit.Metre(l.Opening)*circle) + l.Focal
}

// DepthOfField returns from where to where the picture is sharp for a circle of confusion, with H the hyperfocal
// distance: s(H−f)/(H+s−2f) and s(H−f)/(H−s). The far end is +∞ from H on.
func (l Lens) DepthOfField(focus, circle unit.Metre) (near, far unit.Metre, err error) {
	if !(focus > l.Focal) {
		return 0, 0, ErrFocus
	}
	h := l.Hyperfocal(circle)
	near = focus * (h - l.Focal) / (h + focus - 2*l.Focal)
	if focus >= h {
		return near, unit.Metre(math.Inf(1)), nil
	}
	return near, focus * (h - l.Focal) / (h - focus), nil
}

// Blur returns how wide the edge of a thing at the distance, above 0, is smeared on the sensor: f²/(N(s−f))·|s−x|/x.
func (l Lens) Blur(focus, distance unit.Metre) (unit.Metre, error) {
	if !(focus > l.Focal) {
		return 0, ErrFocus
	}
	circle := l.Focal * l.Focal / (unit.Metre(l.Opening) * (focus - l.Focal)) // of a thing at infinity
	return circle * unit.Metre(math.Abs(float64(focus-distance))/float64(distance)), nil
}

// TransmissionStop returns the T-stop of an opening behind glass that passes the share, above 0: N/√τ.
func TransmissionStop(opening unit.FNumber, transmittance unit.Fraction) unit.TStop {
	return unit.TStop(float64(opening) / math.Sqrt(float64(transmittance)))
}
