package unit

import (
	"errors"
	"math"
	"strings"
)

// Stop is a base-2 logarithm of a ratio of light. No light at all is −∞ stops.
type Stop float64

var stops = dimension{
	name: "a number of stops", symbol: " stops", low: -60, high: 60,
	units: map[string]float64{
		"": 1, "stop": 1, "stops": 1, "over": 1, "stop over": 1, "stops over": 1,
		"under": -1, "stop under": -1, "stops under": -1,
	},
}

// Stops returns the stops that a ratio of light makes: log2 of it. The ratio is at least 0.
func Stops(ratio float64) Stop { return Stop(math.Log2(ratio)) }

// Factor returns the ratio of light that the stops make: 2 to their power.
func (s Stop) Factor() float64 { return math.Exp2(float64(s)) }

// Parse reads from −60 to 60 stops with or without sign, a ratio to one such as 4:1, or `at stop`.
func (s *Stop) Parse(text string) error {
	scanned, err := scan(text, stops.name)
	if err != nil {
		return err
	}
	if scanned.rest == "at stop" {
		*s = 0
		return nil
	}
	n, unit, err := split(text, stops.name)
	if err != nil {
		return err
	}
	switch {
	case unit == ":1" && n.value > 0:
		n.value, unit = math.Log2(n.value), ""
	case n.signed && (strings.HasSuffix(unit, "over") || strings.HasSuffix(unit, "under")):
		return errors.New("has a sign and a word for it; write one of them")
	}
	value, err := stops.value(n, unit)
	if err == nil {
		*s = Stop(value)
	}
	return err
}

// Forms says how a number of stops is written.
func (Stop) Forms() string { return "stops such as +1, -2/3, +1 1/3, 1.5 stops, 1/2 under, 4:1" }

// String returns the nearest third with its sign: +1⅓, −⅔, at stop.
func (s Stop) String() string { return s.print(thirds(float64(s))) }

// Tenths returns the nearest tenth with its sign: +1.3, −0.7, at stop.
func (s Stop) Tenths() string { return s.print(places(float64(s), 1)) }

func (s Stop) print(text string) string {
	switch {
	case math.IsInf(float64(s), -1):
		return "no light"
	case text == "0":
		return "at stop"
	}
	return signed(text)
}

// roundedAway is the most of a half-width that printing may drop, in stops.
const roundedAway = 0.05

// Interval returns the stops as a half-width that hides next to none of it: ±⅓, ±⅔, up to the next third unless it lies
// within 0.05 above one; below a quarter in tenths, likewise up.
func (s Stop) Interval() string {
	width := math.Abs(float64(s))
	if !(width < 1e6) {
		return "±" + places(width, 0)
	}
	if width < 0.25 {
		return "±" + places(math.Ceil((width-roundedAway/3)*10-1e-9)/10, 1)
	}
	return "±" + thirds(math.Ceil((width-roundedAway)*3-1e-9)/3)
}
