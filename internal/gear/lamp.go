package gear

import (
	"fmt"

	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// Lamp is a head with its attachment.
type Lamp struct {
	Name      string
	Title     string // what it is, in words
	Source    string // where the figures come from, as the kit says
	Quality   Quality
	Opening   Opening
	Reference unit.Kelvin // at which the light is stated
	IP        string      // ingress protection; "" is none
	Mass      *Mass       // nil: unknown
	Power     *Power      // nil: unknown
	Fan       *Fan        // nil: silent

	text   lampText    // for lamps that are like it
	at     fault.Place // where it stands in its kit
	light  light
	output curve   // share against mired, 1 at the reference
	dim    curve   // share of light against the control
	duv    float64 // distance from the Planckian locus

	emission emission
}

// Mass is what a lamp weighs.
type Mass struct{ Head, Supply, Accessory unit.Kilogram }

// OnStand returns what the stand carries: head and attachment.
func (m Mass) OnStand() unit.Kilogram { return m.Head + m.Accessory }

// Total returns all of it.
func (m Mass) Total() unit.Kilogram { return m.Head + m.Supply + m.Accessory }

// Power is what a lamp draws.
type Power struct {
	Standby, Full unit.Watt
	Factor        unit.Fraction // power factor
	Leakage       Milliampere   // to earth
}

// Fan is the noise of a lamp at 1 m.
type Fan struct {
	Noise unit.DecibelA
	Quiet *QuietMode // nil: it has none
}

// QuietMode is a mode with less noise and less light.
type QuietMode struct {
	Noise unit.DecibelA
	Most  unit.Fraction // most light, of full
}

// Quiet is the name of the quiet mode.
const Quiet = "quiet"

// Beam returns the lamp's light at full output and reference colour, and how far behind its front the source seems to
// lie. The zoom is the full angle at 50 % of a spot-to-flood lamp and nil for any other; anything else, and a zoom out of
// range, is an error of kind Input.
func (l *Lamp) Beam(zoom *unit.Degree) (photometry.Distribution, unit.Metre, error) {
	return l.light.at(zoom)
}

// Zoom returns the narrowest and the widest beam of a spot-to-flood lamp, and whether it is one.
func (l *Lamp) Zoom() (spot, flood unit.Degree, ok bool) {
	if l.light.family == nil {
		return 0, 0, false
	}
	spot, flood = l.light.family.Range()
	return spot, flood, true
}

// Luminance returns how bright a tube is at full output and reference colour, even all over, and whether the lamp is a
// tube: I0 over its length times its diameter.
func (l *Lamp) Luminance() (unit.Nit, bool) {
	if l.Opening.Shape != Tube {
		return 0, false
	}
	return unit.Nit(float64(l.light.fixed.Peak()) / l.Opening.area()), true
}

// Colours returns the ends of the range of colour temperatures; they are one for a lamp of fixed colour.
func (l *Lamp) Colours() (low, high unit.Kelvin) {
	last := len(l.output) - 1
	return unit.Kelvin(1e6 / l.output[last].x), unit.Kelvin(1e6 / l.output[0].x)
}

// hair is how far beyond the ends of its range a colour counts as the end, in mired: people write whole ones.
const hair = 0.5

// Output returns the lamp's full output at a colour temperature as a share of that at the reference: linear in mired
// between the points of its table. Beyond the ends is an error of kind Input.
func (l *Lamp) Output(kelvin unit.Kelvin) (share float64, err error) {
	m := float64(kelvin.Mired())
	if !(kelvin > 0 && m >= l.output[0].x-hair && m <= l.output[len(l.output)-1].x+hair) {
		low, high := l.Colours()
		allowed := fmt.Sprintf("%.0f K to %.0f K", float64(low), float64(high))
		if low == high {
			allowed = fmt.Sprintf("%.0f K only", float64(low))
		}
		return 0, fault.Fault{Text: "the lamp has no such colour", Read: fmt.Sprintf("%.0f K", float64(kelvin)), Allowed: allowed}
	}
	return l.output.at(m), nil
}

// AtLevel returns the share of full light at a level of the dim control.
func (l *Lamp) AtLevel(dim unit.Fraction) float64 { return l.dim.at(float64(dim)) }

// MaxDim returns the highest level of the dim control in a mode: 1, or in the quiet mode that which gives its most light.
func (l *Lamp) MaxDim(mode string) unit.Fraction {
	if mode != Quiet || l.Fan == nil || l.Fan.Quiet == nil {
		return 1
	}
	return unit.Fraction(l.dim.reach(float64(l.Fan.Quiet.Most)))
}

// Noise returns the noise at 1 m in a mode, and whether the lamp makes any.
func (l *Lamp) Noise(mode string) (unit.DecibelA, bool) {
	switch {
	case l.Fan == nil:
		return 0, false
	case mode == Quiet && l.Fan.Quiet != nil:
		return l.Fan.Quiet.Noise, true
	}
	return l.Fan.Noise, true
}

// Draw returns the power drawn at a level of the dim control, and whether it is known: standby plus a part in proportion to
// the light, since that is what the engine's current follows.
func (l *Lamp) Draw(dim unit.Fraction) (unit.Watt, bool) {
	if l.Power == nil {
		return 0, false
	}
	return l.Power.Standby + unit.Watt(l.AtLevel(dim))*(l.Power.Full-l.Power.Standby), true
}
