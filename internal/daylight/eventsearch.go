package daylight

import (
	"sort"
	"time"

	"gloam/internal/unit"
)

// course is the sun's altitude over a place for a while, cut at its turns: from each to the next it only climbs or only sinks.
type course struct {
	place unit.Position
	turns []time.Time // the first and the last are the ends
}

const (
	// eventStep is how far apart the altitude is looked at for its turns. They are some twelve hours apart.
	eventStep = time.Hour
	// eventGrain is how near an event is sought.
	eventGrain = 100 * time.Millisecond
)

func courseOf(from, to time.Time, p unit.Position) *course {
	if to.Before(from) {
		panic("daylight: a time that ends before it begins")
	}
	c := &course{p, []time.Time{from}}
	before, here := c.altitude(from.Add(-eventStep)), c.altitude(from)
	for t := from; t.Before(to.Add(eventStep)); t = t.Add(eventStep) {
		after := c.altitude(t.Add(eventStep))
		if (here-before)*(here-after) >= 0 {
			highest := here > before || here > after
			if turn := c.turnIn(t.Add(-eventStep), t.Add(eventStep), highest); turn.After(from) && turn.Before(to) {
				c.turns = append(c.turns, turn)
			}
		}
		before, here = here, after
	}
	c.turns = append(c.turns, to)
	return c
}

func (c *course) altitude(t time.Time) float64 { return float64(SunAt(t, c.place).Geometric) }

// turnIn returns when the altitude is highest (or lowest) between two times, by thirds.
func (c *course) turnIn(a, b time.Time, highest bool) time.Time {
	for b.Sub(a) > 10*eventGrain {
		third := b.Sub(a) / 3
		left, right := a.Add(third), b.Add(-third)
		if (c.altitude(left) < c.altitude(right)) == highest {
			a = left
		} else {
			b = right
		}
	}
	return a.Add(b.Sub(a) / 2)
}

func (c *course) crossings(altitude unit.Degree) []Crossing {
	var found []Crossing
	for i := range c.turns[1:] {
		a, b := c.turns[i], c.turns[i+1]
		above := func(t time.Time) bool { return c.altitude(t) >= float64(altitude) }
		if rising := above(b); above(a) != rising {
			t := whenTurns(a, b, above)
			found = append(found, Crossing{t, rising, SunAt(t, c.place).Azimuth})
		}
	}
	return found
}

// extent returns the lowest and the highest altitude.
func (c *course) extent() (low, high unit.Degree) {
	low, high = 90, -90
	for _, t := range c.turns {
		h := unit.Degree(c.altitude(t))
		low, high = min(low, h), max(high, h)
	}
	return low, high
}

// whenTurns returns when a condition that differs at two times changes between them, by halving, to the second.
func whenTurns(a, b time.Time, is func(time.Time) bool) time.Time {
	before := is(a)
	for b.Sub(a) > eventGrain {
		if middle := a.Add(b.Sub(a) / 2); is(middle) == before {
			a = middle
		} else {
			b = middle
		}
	}
	return b
}

// spansWhere returns the times between edges, in any order, throughout which a condition holds; neighbours are joined.
func spansWhere(edges []time.Time, is func(time.Time) bool) []Span {
	sort.Slice(edges, func(i, j int) bool { return edges[i].Before(edges[j]) })
	var spans []Span
	for i := range edges[1:] {
		a, b := edges[i], edges[i+1]
		if !b.After(a) || !is(a.Add(b.Sub(a)/2)) {
			continue
		}
		if last := len(spans) - 1; last >= 0 && spans[last].To.Equal(a) {
			spans[last].To = b
		} else {
			spans = append(spans, Span{a, b})
		}
	}
	return spans
}

// transits returns when the sun's hour angle is a given one, from an instant up to a later one: 0 in the meridian, 180 below the
// pole.
func transits(from, to time.Time, p unit.Position, hourAngle float64) []time.Time {
	var found []time.Time
	toGo := turn(hourAngle - SunAt(from, p).standing.hourAngle)
	first := from.Add(time.Duration(toGo / 360 * float64(24*time.Hour)))
	for _, guess := range []time.Time{first.Add(-24 * time.Hour), first, first.Add(24 * time.Hour), first.Add(48 * time.Hour)} {
		if t := atHourAngle(guess, p, hourAngle); !t.Before(from) && t.Before(to) {
			found = append(found, t)
		}
	}
	return found
}

// atHourAngle returns when the sun's hour angle is a given one, the time nearest to a guess.
func atHourAngle(t time.Time, p unit.Position, hourAngle float64) time.Time {
	for range 4 { // the hour angle keeps time to a part in a thousand, so each round gains three digits
		off := halfTurn(hourAngle - SunAt(t, p).standing.hourAngle)
		t = t.Add(time.Duration(off / 360 * float64(24*time.Hour)))
	}
	return t
}
