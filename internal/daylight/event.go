package daylight

import (
	"time"

	"gloam/internal/unit"
)

// Altitudes of the sun's middle without air at which the day turns.
const (
	// Horizon is sunrise and sunset: the disc's upper edge seen on a level horizon through 34' of refraction, with a radius
	// of 16' [ESAA].
	Horizon unit.Degree = -50.0 / 60
	// Civil, Nautical and Astronomical are the ends of the twilights [ESAA].
	Civil        unit.Degree = -6
	Nautical     unit.Degree = -12
	Astronomical unit.Degree = -18
	// GoldenTop and GoldenEnd bound golden time; from there to Civil is blue time (common practice, no source).
	GoldenTop unit.Degree = 6
	GoldenEnd unit.Degree = -4
)

// Crossing is the sun's middle passing an altitude.
type Crossing struct {
	At      time.Time
	Rising  bool
	Azimuth unit.Bearing
}

// Course is what the sun does about an altitude for a while.
type Course int

// The courses.
const (
	Crosses Course = iota
	StaysAbove
	StaysBelow
)

// Pass is the sun about one altitude in a day: every time it rises and sets through it, in order. In a day it may rise or set
// twice, once or never, and set before it rises.
type Pass struct {
	Rises, Sets []Crossing
	Course      Course
}

// Events are those of a day on the clock of a zone.
type Events struct {
	From, To                               time.Time // midnight to midnight; 23 or 25 hours where the clock is changed
	Horizon, Civil, Nautical, Astronomical Pass
	Golden, Blue                           []Span // the sun between GoldenTop and GoldenEnd, and between that and Civil
	Transits, LowerTransits                []time.Time
	Highest, Lowest                        unit.Degree // altitude of the sun's middle, without air
}

// Span is a time from one instant to a later one.
type Span struct{ From, To time.Time }

// DayEvents returns the events of a date over a place, each to a second of the model; weather moves those at the horizon by a
// minute and more. A date that its zone's calendar leaves out, or outside 1900 to 2100, is a fault.
func DayEvents(date unit.Date, p unit.Position, zone *time.Location) (Events, error) {
	from, to, err := dayOf(date, zone)
	if err != nil {
		return Events{}, err
	}
	c := courseOf(from, to, p)
	e := Events{From: from, To: to, Horizon: c.pass(Horizon), Civil: c.pass(Civil), Nautical: c.pass(Nautical),
		Astronomical: c.pass(Astronomical), Golden: c.between(GoldenEnd, GoldenTop), Blue: c.between(Civil, GoldenEnd),
		Transits: transits(from, to, p, 0), LowerTransits: transits(from, to, p, 180)}
	e.Lowest, e.Highest = c.extent()
	return e, nil
}

// Crossings returns every time the sun's middle passes an altitude (without air) from one instant up to a later one, in order,
// each to a second.
func Crossings(from, to time.Time, p unit.Position, altitude unit.Degree) []Crossing {
	return courseOf(from, to, p).crossings(altitude)
}

func (c *course) pass(altitude unit.Degree) Pass {
	var p Pass
	for _, crossing := range c.crossings(altitude) {
		if crossing.Rising {
			p.Rises = append(p.Rises, crossing)
		} else {
			p.Sets = append(p.Sets, crossing)
		}
	}
	switch {
	case len(p.Rises)+len(p.Sets) > 0:
	case c.altitude(c.turns[0]) >= float64(altitude):
		p.Course = StaysAbove
	default:
		p.Course = StaysBelow
	}
	return p
}

// between returns when the sun is at or above an altitude and below another.
func (c *course) between(low, high unit.Degree) []Span {
	edges := []time.Time{c.turns[0]}
	for _, altitude := range []unit.Degree{low, high} {
		for _, crossing := range c.crossings(altitude) {
			edges = append(edges, crossing.At)
		}
	}
	edges = append(edges, c.turns[len(c.turns)-1])
	return spansWhere(edges, func(t time.Time) bool {
		h := c.altitude(t)
		return h >= float64(low) && h < float64(high)
	})
}
