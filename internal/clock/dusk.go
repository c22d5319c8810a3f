package clock

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Dusk is a window in the picture by day that is to look like dusk. Between the sky seen in it and grey in that window's own
// light lies a number of stops that no gel on it and no stop of the camera can change, for both move alike: only other light
// can.
type Dusk struct {
	Sky     unit.Nit  // seen in the bare window
	Ambient unit.Lux  // by the bare window alone, where the exposure is made
	Wanted  unit.Stop // the sky over grey
}

// OverGrey returns the stops between the sky and grey in the window's own light: log2(π·L/(0.18·E)).
func (d Dusk) OverGrey() unit.Stop { return exposure.OverGrey(d.Sky, d.Ambient) }

// KeyOverAmbient returns how many times the window's light the key must be, whatever the gel: 2^(OverGrey − Wanted).
func (d Dusk) KeyOverAmbient() float64 { return (d.OverGrey() - d.Wanted).Factor() }

// GelStep is a window under a gel: what is left of it, and what then makes the dusk.
type GelStep struct {
	ND      unit.Density
	Ambient unit.Lux
	Sky     unit.Nit
	Key     unit.Lux // all light together
	Lamp    unit.Lux // of it, what the lamps must give; 0 where the window's own light is enough
	Level   float64  // of what they can give; above 1 they can't
}

// Gels returns what each step of 0.3 of gel on the panes asks for, from none to the given most, with lamps that can give full.
// A strip of 0.3 takes one stop.
func (d Dusk) Gels(most unit.Density, full unit.Lux) (steps []GelStep) {
	ratio := d.KeyOverAmbient()
	for n := 0; 0.3*float64(n) <= float64(most)+hair; n++ {
		share := math.Exp2(-float64(n))
		s := GelStep{ND: unit.Density(0.3 * float64(n)), Ambient: d.Ambient * unit.Lux(share), Sky: d.Sky * unit.Nit(share)}
		s.Key = s.Ambient * unit.Lux(ratio)
		s.Lamp = max(0, s.Key-s.Ambient)
		s.Level = float64(s.Lamp / full)
		steps = append(steps, s)
	}
	return steps
}

// Spare is what is ordered of a gel beyond the panes, for overlaps and tears (common practice, no source).
const Spare = 0.10

// GelArea returns the square metres of gel for panes of a width and a height each, with and without Spare.
func GelArea(panes []unit.Size2) (bare, ordered float64) {
	for _, p := range panes {
		bare += float64(p.Width) * float64(p.Height)
	}
	return bare, bare * (1 + Spare)
}
