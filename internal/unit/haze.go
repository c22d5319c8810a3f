package unit

import "strconv"

// Extinction is the share of light that haze takes out of a beam on a short way, per metre: over d metres e^(−σd) is left.
type Extinction float64

var extinction = dimension{
	name: "an extinction", symbol: " /m", high: 10,
	units: map[string]float64{"": 1, "/m": 1, "1/m": 1, "m-1": 1, "per m": 1, "per metre": 1, "/ft": 1 / foot, "per ft": 1 / foot},
}

// Parse reads an extinction of at least 0; a plain number is per metre.
func (e *Extinction) Parse(text string) error { return set(e, &extinction, text) }

// Forms says how an extinction is written.
func (Extinction) Forms() string { return "an extinction such as 0.05 /m, 0.015 /ft" }

// String returns the extinction as written: 0.05 /m.
func (e Extinction) String() string { return strconv.FormatFloat(float64(e), 'g', 3, 64) + " /m" }

// AtVisibility returns the extinction of air through which a black thing on the horizon is just made out at a distance: what
// is left there is 2 % ([Koschmieder1924], with his threshold of contrast).
func AtVisibility(seen Metre) Extinction { return Extinction(3.912 / float64(seen)) }
