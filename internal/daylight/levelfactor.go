package daylight

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Pair is one reading inside and one in the open on level ground, out of the sun, taken at the same time.
type Pair struct{ Inside, Outside unit.Lux }

// DaylightFactor is what a place inside gets of the sky's light on open level ground [EN17037]. The definition is
// for an overcast sky; under another, the place gets other parts of the sky and the factor turns with the sun.
type DaylightFactor struct {
	Share    unit.Fraction
	Interval unit.Stop // 95 % half-width
}

const (
	// pairDoubt is the half-width of one pair (our choice): two readings of 0.1 stop and the time between them.
	pairDoubt = 0.2
	// unevenDoubt is the half-width that a sky of another shape than overcast adds (our choice; a window to a clear sky's blue side
	// and one to its sun side part by more than a stop).
	unevenDoubt = 1.0
)

// FactorOf returns the daylight factor that pairs agree on, their geometric mean. Its half-width is a pair's over the root of
// their number, or what their scatter makes it, whichever is more. Faults of kind Input: no pair, a level not above 0.
func FactorOf(pairs []Pair) (DaylightFactor, error) {
	if len(pairs) == 0 {
		return DaylightFactor{}, fault.Fault{Text: "a daylight factor needs a pair of readings, inside and outside"}
	}
	var sum, squares float64
	for i, p := range pairs {
		if !(p.Inside > 0 && p.Outside > 0) || math.IsInf(float64(p.Inside/p.Outside), 0) {
			return DaylightFactor{}, fault.Fault{Path: fmt.Sprintf("pairs[%d]", i), Text: "both readings of a pair are above 0"}
		}
		stops := float64(unit.Stops(float64(p.Inside / p.Outside)))
		sum, squares = sum+stops, squares+stops*stops
	}
	n := float64(len(pairs))
	mean := sum / n
	scatter := 0.0
	if n > 1 {
		scatter = halfWidths * math.Sqrt(max(0, squares-n*mean*mean)/(n-1)/n)
	}
	return DaylightFactor{unit.Fraction(math.Exp2(mean)), unit.Stop(max(pairDoubt/math.Sqrt(n), scatter))}, nil
}

// Inside returns the level inside and its half-width when the sky outside gives level ground a level known to a half-width.
func (f DaylightFactor) Inside(diffuse unit.Lux, interval unit.Stop, k Kind) (unit.Lux, unit.Stop) {
	doubt := math.Hypot(float64(f.Interval), float64(interval))
	if k != Overcast && k != HeavyOvercast {
		doubt = math.Hypot(doubt, unevenDoubt)
	}
	return diffuse * unit.Lux(f.Share), unit.Stop(doubt)
}
