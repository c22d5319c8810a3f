package spectrum

import (
	"math"

	"gloam/internal/unit"
)

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

// GreenShift returns the transmittance of a gel that moves daylight of 5600 K across the Planckian locus by a Duv (positive
// is plus green, negative minus green) at its own temperature, and passes the given luminous transmittance of it. Over a
// black body of 3200 K the move is about a sixth less, and minus green warms by some 2 mired for each 0.001. An error says that
// no smooth gel does it.
func GreenShift(duv float64, transmittance unit.Fraction) (Curve, error) {
	if !(math.Abs(duv) <= 0.05 && transmittance > 0 && transmittance < 1) {
		return Curve{}, errNoFactor
	}
	want := white(dayKelvin, dayDuv+duv)
	for k := range want {
		want[k] *= float64(transmittance)
	}
	return tuned(phase(dayKelvin), want)
}

// clearFilm is the transmittance of the film a gel is made of (common practice, no source).
const clearFilm = 0.92

// Gel is a filter over a lamp or a window. Over a source whose spectrum is known, Curve times that is exact; Band stands for
// it in light that is carried in bands.
type Gel struct {
	Name          string
	Curve         Curve
	Band          Band
	Shift         unit.Mired    // along the Planckian locus, positive warms
	Duv           float64       // across it, positive toward green; of a shift in mired 0
	Transmittance unit.Fraction // luminous, of the light it is made for
}

// MeasuredGel returns the gel of a measured transmittance, its numbers those it has over daylight of 5600 K, or where that
// would be cooled over a black body of 3200 K, rounded to what a roll is worth: 0.1 mired, Duv 0.0001.
func MeasuredGel(name string, transmittance Curve) Gel {
	g := Gel{Name: name, Curve: transmittance, Band: BandMean(transmittance)}
	for _, source := range []Curve{phase(dayKelvin), Planck(tungstenKelvin)} {
		through := source.Mul(transmittance)
		y := luminance(through)
		if y < darkest {
			return g
		}
		before, duv0 := place(source)
		after, duv := place(through)
		g.Shift = unit.Mired(math.Round(1e7/after-1e7/before) / 10)
		g.Duv = math.Round((duv-duv0)*1e4) / 1e4
		g.Transmittance = unit.Fraction(y / luminance(source))
		if g.Shift >= 0 {
			break
		}
	}
	return g
}

// place returns the temperature (K) of the black body nearest to a source in the CIE 1960 diagram, and the distance from it,
// positive on the green side. A source far from white is placed at an end, 1000 K or 50000 K.
func place(source Curve) (kelvin, duv float64) {
	l := LightOf(source)
	x, y, z := sum(l.X), sum(l.Y), sum(l.Z)
	d := x + 15*y + 3*z
	u, v := 4*x/d, 6*y/d
	offset := func(mired float64) (along, across float64) {
		u0, v0 := planckUV(1e6 / mired)
		t := tangent(1e6 / mired)
		return (u-u0)*t[0] + (v-v0)*t[1], (u-u0)*t[1] - (v-v0)*t[0]
	}
	// Along the locus the sign tells on which side the nearest point lies; halving finds it.
	low, high := 20.0, 1000.0
	for range 40 {
		mid := (low + high) / 2
		if along, _ := offset(mid); along > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	_, duv = offset(low)
	return 1e6 / low, duv
}
