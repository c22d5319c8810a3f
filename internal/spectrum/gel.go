package spectrum

import "gloam/internal/unit"

// ND returns the transmittance of a neutral density, the same in every band: 10^-d.
func ND(d unit.Density) Band {
	t := float64(d.Transmittance())
	var b Band
	for i := range b {
		b[i] = t
	}
	return b
}

// A warming gel is made to bring daylight to tungsten and a cooling one to bring tungsten to daylight: from CIE daylight at
// dayKelvin to a black body at tungstenKelvin and back. Daylight lies dayDuv on the green side of the Planckian locus, so the
// gel moves that much in Duv over the whole way, and in proportion over a part of it.
const (
	dayKelvin      = 5600.0
	dayDuv         = 0.0033
	tungstenKelvin = 3200.0
	wholeWay       = 1e6/tungstenKelvin - 1e6/dayKelvin // mired
)

// MiredShift returns the transmittance of a colour-correcting gel of a mired shift (positive warms) that passes the given
// luminous transmittance. Both are exact for the light it is made for: daylight of 5600 K for a warming gel, a black body
// of 3200 K for a cooling one. Wien's law keeps the shift nearly the same for other whites; a warming gel moves a black
// body 3 to 5 % farther than daylight. An error says that no smooth gel does it: the shift leaves the range of white, or the
// transmittance is more than the shift allows.
func MiredShift(shift unit.Mired, transmittance unit.Fraction) (Curve, error) {
	source, kelvin, way := phase(dayKelvin), dayKelvin, 1-float64(shift)/wholeWay
	if shift < 0 {
		source, kelvin, way = Planck(tungstenKelvin), tungstenKelvin, -float64(shift)/wholeWay
	}
	to := 1e6 / (1e6/kelvin + float64(shift))
	if !(to >= 1500 && to <= 25000 && transmittance > 0 && transmittance < 1) {
		return Curve{}, errNoFactor
	}
	want := white(to, dayDuv*min(max(way, 0), 1))
	for k := range want {
		want[k] *= float64(transmittance)
	}
	return tuned(source, want)
}

// Gel is a filter over a lamp or a window.
type Gel struct {
	Name          string
	Curve         Curve
	Band          Band
	Shift         unit.Mired    // along the Planckian locus, positive warms
	Transmittance unit.Fraction // luminous, of the light it is made for
}
