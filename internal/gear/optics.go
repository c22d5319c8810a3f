package gear

import (
	"fmt"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Optics is what a cloth does with light in each spectral band, as shares of what falls on it. The shares that leave a side
// sum to at most 1; the rest is absorbed.
type Optics struct {
	StraightOn     spectrum.Band // goes on as it came, or within Spread
	Spread         unit.Degree   // full angle at 50 %; 0 is none
	ScatterForward spectrum.Band // matt, out of the other side
	ReflectFront   spectrum.Band // matt, light that came to the front
	ReflectBack    spectrum.Band // matt, light that came to the back
}

// Optics returns what the cloth does with light.
func (c *Cloth) Optics() Optics { return c.optics }

// rounding is what sums of shares may exceed 1 by in binary.
const rounding = 1e-9

// energy tells a cloth that would give out more light than falls on it.
func (r *reader) energy(path document.Path, c *Cloth) {
	for _, side := range []struct {
		name      string
		reflected unit.Fraction
	}{{"front", c.Front}, {"back", c.Back}} {
		sum := c.leaves(side.reflected)
		if sum > 1+rounding {
			r.tell(path, fault.Fault{Text: fmt.Sprintf("more light leaves it than falls on its %s", side.name),
				Read: fmt.Sprintf("%.1f %%", sum*100), Allowed: "up to 100 %"})
			return
		}
	}
}

// leaves returns the sum of the shares that leave a cloth which reflects so much.
func (c *Cloth) leaves(reflected unit.Fraction) float64 {
	return c.straight() + float64(c.Through+c.Forward+reflected)
}

// tint makes the cloth's optics. The colour is that of one curve for all that leaves the side that gives most, cut to the
// shares, so that no band gives out more than it takes in.
func (r *reader) tint(path document.Path, c *Cloth, t *clothText) {
	most := min(1, max(c.leaves(c.Front), c.leaves(c.Back)))
	shape := neutral()
	switch {
	case most == 0:
	case t.Material != "":
		m, _ := spectrum.Material(t.Material) // checked to be one
		scaled, err := m.Scaled(unit.Fraction(most))
		if err != nil {
			r.tellAll(path.Join("material"), err)
			return
		}
		shape = scaled.Band().Scale(1 / most)
	case c.Shift != 0:
		curve, err := spectrum.MiredShift(c.Shift, unit.Fraction(most))
		if err != nil {
			r.tellAll(path.Join("shift"), err)
			return
		}
		shape = spectrum.BandMean(curve).Scale(1 / most)
	}
	c.optics = Optics{
		StraightOn: shape.Scale(c.straight()), Spread: c.Spread, ScatterForward: shape.Scale(float64(c.Through + c.Forward)),
		ReflectFront: shape.Scale(float64(c.Front)), ReflectBack: shape.Scale(float64(c.Back)),
	}
}

// neutral returns the shape without colour.
func neutral() spectrum.Band {
	var b spectrum.Band
	for i := range b {
		b[i] = 1
	}
	return b
}
