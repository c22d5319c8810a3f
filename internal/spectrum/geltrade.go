package spectrum

import (
	"math"

	"gloam/internal/unit"
)

// correction is one trade gel: a colour correction in a strength.
type correction struct {
	name          string
	shift         unit.Mired
	transmittance unit.Fraction
}

// corrections holds the trade strengths of colour-temperature orange and blue. Common practice, no source: figures from
// memory inside the spread between makers (full orange +130 to +165, half +80 to +110, quarter +40 to +65, eighth +20
// to +26 mired; losses ±1/4 stop). Measure the roll.
var corrections = []correction{
	{"full CTO", 150, 0.60},
	{"1/2 CTO", 109, 0.71},
	{"1/4 CTO", 64, 0.80},
	{"1/8 CTO", 24, 0.88},
	{"full CTB", -135, 0.33},
	{"1/2 CTB", -75, 0.54},
	{"1/4 CTB", -35, 0.69},
	{"1/8 CTB", -18, 0.81},
}

// compensations holds the trade strengths of minus and plus green: what they move in Duv, and what they pass. Common
// practice, no source: a density of 0.30 in the green, or in red and blue together, for a full one, in a clear film.
var compensations = map[string]struct {
	duv         float64
	minus, plus unit.Fraction
}{
	"full": {0.032, 0.63, 0.70}, "1/2": {0.016, 0.75, 0.79}, "1/4": {0.008, 0.83, 0.85}, "1/8": {0.004, 0.88, 0.89},
}

// strengths are the trade's, in words that ParseGel reads.
var strengths = []string{"1/8", "1/4", "1/2", "full"}

// TradeGels returns the correction gels every truck carries: orange, blue, minus and plus green, in each strength.
func TradeGels() []Gel {
	var gels []Gel
	for _, kind := range []string{"CTO", "CTB", "minus green", "plus green"} {
		for _, s := range strengths {
			g, err := ParseGel(s + " " + kind)
			if err != nil {
				panic("spectrum: no curve for a trade gel")
			}
			gels = append(gels, g)
		}
	}
	return gels
}

// typicalTransmittance returns the transmittance of a gel of a shift, by its loss in the trade gels: linear between
// them and a clear film's 0.92, and in proportion beyond the strongest.
func typicalTransmittance(shift unit.Mired) unit.Fraction {
	size, low, loss := math.Abs(float64(shift)), 0.0, -math.Log(clearFilm)
	rate := 0.0
	for i := len(corrections) - 1; i >= 0; i-- {
		c := corrections[i]
		if c.shift*shift <= 0 {
			continue
		}
		to, toLoss := math.Abs(float64(c.shift)), -math.Log(float64(c.transmittance))
		rate = (toLoss - loss) / (to - low)
		if size <= to {
			break
		}
		low, loss = to, toLoss
	}
	return unit.Fraction(math.Exp(-loss - rate*(size-low)))
}
