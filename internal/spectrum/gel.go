package spectrum

import (
	"math"

	"gloam/internal/unit"
)

// ND returns the transmittance of a neutral density, the same in every band: 10^-d.
func ND(d unit.Density) Band {
	var b Band
	for i := range b {
		b[i] = math.Pow(10, -float64(d))
	}
	return b
}

// MiredShift returns the transmittance of a colour-correcting gel: it moves a black body by shift along the Planckian locus
// and passes the given luminous transmittance of it. The black body is 5600 K for a warming gel (shift above 0), which goes
// over daylight, and 3200 K for a cooling one. Wien's law makes the shift nearly the same for other sources. An error
// says that no smooth gel does it: the shift leaves the range of white, or the transmittance is higher than the shift
// allows.
func MiredShift(shift unit.Mired, transmittance unit.Fraction) (Curve, error) {
	kelvin := 5600.0
	if shift < 0 {
		kelvin = 3200
	}
	to := 1e6 / (1e6/kelvin + float64(shift))
	if !(to >= 1500 && to <= 25000 && transmittance > 0 && transmittance < 1) {
		return Curve{}, errNoFactor
	}
	want := white(to, 0)
	for k := range want {
		want[k] *= float64(transmittance)
	}
	return tuned(Planck(unit.Kelvin(kelvin)), want)
}

// Gel is a filter over a lamp or a window.
type Gel struct {
	Name          string
	Curve         Curve
	Band          Band
	Shift         unit.Mired    // along the Planckian locus, positive warms
	Transmittance unit.Fraction // luminous, of the light it is made for
}
