package gear

import "gloam/internal/unit"

// Quality is how the figures of a piece of gear are known.
type Quality string

// The qualities, from the best.
const (
	Measured Quality = "measured" // this very piece, with a meter
	Sheet    Quality = "sheet"    // its data sheet
	Guess    Quality = "guess"    // one like it
)

// Half-widths at 95 % of what stays unknown whatever the gear, in stops (common practice, no source; combined by
// root-sum-square).
const (
	DistanceDoubt unit.Stop = 0.14 // a distance known to 5 %
	DimDoubt      unit.Stop = 0.07 // a dim control's curve
	MeterDoubt    unit.Stop = 0.10 // a meter
)

// LampDoubt returns how far a lamp's light may lie from its figures, as a 95 % half-width in stops (common practice, no
// source).
func (q Quality) LampDoubt() unit.Stop { return q.doubt(0.15, 0.45, 1.0) }

// ClothDoubt returns the same for a cloth.
func (q Quality) ClothDoubt() unit.Stop { return q.doubt(0.20, 0.40, 0.7) }

func (q Quality) doubt(measured, sheet, guess unit.Stop) unit.Stop {
	switch q {
	case Measured:
		return measured
	case Sheet:
		return sheet
	case Guess:
		return guess
	}
	panic("gear: unknown quality")
}
