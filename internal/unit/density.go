package unit

import (
	"fmt"
	"math"
	"strings"
)

// Density is an optical density, log10 of the loss. ND 0.3 is Density(0.3).
type Density float64

// nominalStop is the density that the trade counts as one stop; log10 2 is 0.30103.
const nominalStop = 0.3

var neutral = dimension{name: "a neutral density", high: 10}

// Parse reads a density from 0 to 10: ND 0.6, the whole tenths of a filter's name (ND6, ND9), or stops at 0.3 each.
//
// A whole number that is not one of a stop in tenths is refused: ND8 is 0.8 to some and a factor of 8 to others.
func (d *Density) Parse(text string) error {
	s, err := scan(text, neutral.name)
	if err != nil {
		return err
	}
	cleaned := s.rest
	var named bool
	s.rest, named = cutAny(s.rest, "nd")
	n, ok := s.number()
	if !ok || n.signed {
		return refuse(cleaned, neutral.name)
	}
	factor := 1.0
	switch unit := word(s.rest); {
	case unit == "stop" || unit == "stops":
		factor = nominalStop
	case unit != "":
		return neutral.wrong(unit)
	case n.whole && n.value != 0:
		if !named || math.Mod(n.value, 3) != 0 {
			return fmt.Errorf("%v may be a density, a factor or stops; write it with a point or as stops", n.value)
		}
		factor = 0.1
	}
	value, err := neutral.within(n, factor)
	if err == nil {
		*d = Density(value)
	}
	return err
}

// Forms says how a neutral density is written.
func (Density) Forms() string { return "a neutral density such as ND 0.6, ND6, 1.5, 2 stops" }

// Stops returns what the filter takes by its density: D/log10 2.
func (d Density) Stops() Stop { return Stop(float64(d) / math.Log10(2)) }

// NominalStops returns what the trade counts the filter as: one stop for each 0.3.
func (d Density) NominalStops() Stop { return Stop(d / nominalStop) }

// Transmittance returns the share of light that passes: 10^−D.
func (d Density) Transmittance() Fraction { return Fraction(math.Pow(10, -float64(d))) }

// String returns the density with one decimal or two: ND 0.6, ND 0.45.
func (d Density) String() string {
	text := places(float64(d), 2)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return "ND " + text
}
