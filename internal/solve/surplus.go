package solve

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// Surplus is a lamp with light to spare. Fields of 0 are not asked about. A reserve of +∞ (not needed) buys nothing that
// can be said: Spend panics on more than 60 stops.
type Surplus struct {
	Reserve, Keep unit.Stop     // what it has, and what is to stay
	Distance      unit.Metre    // of a small lamp from the point
	Walk          unit.Metre    // straight toward it
	Near          unit.Metre    // of the lamp from the walk's near end; 0: the point is there
	Frame         unit.Metre    // side of a square heavy cloth that the lamp fills
	FrameDistance unit.Metre    // from it to the face, square-on
	Quiet         unit.Fraction // share of full output that a quiet mode allows
	Battery       float64       // W·h
	Standby, Full unit.Watt     // drawn with no light and at full
	Others        []unit.Stop   // smaller lamps at the same place: how far each lies under this one
}

// Spent is what the spare stops would buy, each alone, with what is to stay kept.
type Spent struct {
	Spare           unit.Stop   // 0 if there is none
	Distance        unit.Metre  // that the lamp may stand off
	Swing, SwingNow unit.Stop   // of the walk from there, and from where it is
	Frame           unit.Metre  // side of the largest cloth it can fill
	Angle, AngleNow unit.Degree // across that cloth and the present one, seen from the face
	Quiet           bool        // the quiet mode is enough
	Runtime         unit.Second // on the battery, dimmed to what is needed and kept
	RuntimeFull     unit.Second
	Others          []int // that are strong enough, by place in the list
}

// Spend returns what spare stops buy. Distance follows the inverse square; a larger cloth takes the same flux over its area,
// and the face's level goes as F/a²; power is standby plus a part in proportion to the light.
func Spend(s Surplus) Spent {
	if spare := float64(s.Reserve - s.Keep); math.IsNaN(spare) || spare > 60 {
		panic("solve: a surplus needs a reserve of stops that a lamp can have")
	}
	out := Spent{Spare: max(s.Reserve-s.Keep, 0), Distance: s.Distance, Frame: s.Frame}
	out.Distance *= unit.Metre((out.Spare / 2).Factor())
	if s.Distance > 0 && s.Walk > 0 {
		near := s.Near
		if near == 0 {
			near = s.Distance
		}
		off := near + out.Distance - s.Distance
		out.SwingNow, out.Swing = exposure.FallOff(near, near+s.Walk), exposure.FallOff(off, off+s.Walk)
	}
	if s.Frame > 0 && s.FrameDistance > 0 {
		out.Frame = largestFrame(s.Frame, s.FrameDistance, out.Spare)
		across := func(side unit.Metre) unit.Degree {
			return unit.Degree(2 * math.Atan(float64(side/2/s.FrameDistance)) * 180 / math.Pi)
		}
		out.Angle, out.AngleNow = across(out.Frame), across(s.Frame)
	}
	out.Quiet = s.Quiet > 0 && s.Reserve+unit.Stops(float64(s.Quiet)) >= s.Keep
	if s.Battery > 0 && s.Full > 0 {
		lasts := func(share float64) unit.Second {
			return unit.Second(3600 * s.Battery / (float64(s.Standby) + share*float64(s.Full-s.Standby)))
		}
		out.Runtime, out.RuntimeFull = lasts((-out.Spare).Factor()), lasts(1)
	}
	for i, under := range s.Others {
		if s.Reserve-under >= s.Keep {
			out.Others = append(out.Others, i)
		}
	}
	return out
}

// largestFrame returns the side at which a cloth that takes the same flux gives the face so many stops less.
func largestFrame(side, distance unit.Metre, spare unit.Stop) unit.Metre {
	level := func(a unit.Metre) float64 {
		return float64(photometry.ElementRectangle(a, a, distance)) / float64(a*a)
	}
	least := level(side) / spare.Factor()
	low, high := side, side*unit.Metre(math.Exp2(float64(spare)/2+1))
	for level(high) > least {
		high *= 2
	}
	for range 60 {
		if middle := (low + high) / 2; level(middle) >= least {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}
