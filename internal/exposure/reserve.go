package exposure

import (
	"math"

	"gloam/internal/unit"
)

// Part is a lamp's part in the light at a point, both in one unit: what it gives at full output in the mode it runs in, and
// what all else gives.
type Part struct{ Full, Rest float64 }

// NeededShare returns the share of a lamp's full output at which the level at a point lies so many stops over another
// level, all else as it is: x in Full·x + Rest = 2^wanted·(over.Full·x + over.Rest). What the level is over may be a key,
// which the lamp has no part in, or another point. It is 0 where that holds without the lamp, above 1 where full output is
// not enough, and +∞ where more of the lamp brings it no nearer. The lamp's reserve is −log2 of it.
func NeededShare(at, over Part, wanted unit.Stop) float64 {
	ratio := wanted.Factor()
	lacks, gain := ratio*over.Rest-at.Rest, at.Full-ratio*over.Full
	switch {
	case lacks <= 0:
		return 0
	case gain <= 0:
		return math.Inf(1)
	}
	return lacks / gain
}

// Carries reports whether a lamp that gives own of all lamps' light at a point counts as one of those that are to meet a
// target there: it does from a quarter on (common practice, no source).
func Carries(own, all float64) bool { return own > 0 && own >= all/4 }
