package exposure

import (
	"math"

	"gloam/internal/unit"
)

// NitSecond is the unit of the calibration constant K of a reflected-light meter, cd·s/m².
type NitSecond float64

// UsualReflectedConstant is the K that most spot meters use; 14 is the other common one [ISO2720].
const UsualReflectedConstant NitSecond = 12.5

// CalibratedReflectance returns the reflectance at which a reflected-light meter of constant k agrees with an incident
// meter of constant c and flat receptor: πK/C, from equating the two equations of [ISO2720].
func CalibratedReflectance(k NitSecond, c unit.LuxSecond) unit.Fraction {
	return unit.Fraction(math.Pi * float64(k) / float64(c))
}

// EV returns the exposure value of an f-number and an exposure time, both above 0: log2(N²/t).
func EV(opening unit.FNumber, t unit.Second) unit.Stop {
	return unit.Stops(float64(opening*opening) / float64(t))
}

// LevelOfEV returns the incident level for which a meter of constant c shows the exposure value at ISO 100:
// C/100·2^EV [ISO2720].
func LevelOfEV(ev unit.Stop, c unit.LuxSecond) unit.Lux {
	return unit.Lux(float64(c) / 100 * ev.Factor())
}

// LuminanceOfEV returns the luminance for which a meter of constant k shows the exposure value at ISO 100:
// K/100·2^EV [ISO2720].
func LuminanceOfEV(ev unit.Stop, k NitSecond) unit.Nit {
	return unit.Nit(float64(k) / 100 * ev.Factor())
}

// Receptor is what an incident meter collects light with.
type Receptor int

const (
	// Flat is a disc.
	Flat Receptor = iota
	// Dome is a half globe.
	Dome
)

// Response returns the weight a receptor gives to light that comes in at an angle of this cosine to its axis, from −1 to
// 1: the cosine itself, 0 from behind, for a disc; (1 + cos)/2, the cardioid of [ISO2720], for a dome. Real domes differ
// by ±0.1 stop (common practice, no source).
func (r Receptor) Response(cosine float64) float64 {
	switch r {
	case Flat:
		return math.Max(0, cosine)
	case Dome:
		return (1 + cosine) / 2
	}
	panic("exposure: no such receptor")
}

// SaturationExposure returns the focal-plane exposure at which a sensor of saturation-based speed S clips: 78/S
// [ISO12232], from memory.
func SaturationExposure(s unit.EI) unit.LuxSecond { return unit.LuxSecond(78 / s) }

// OutputExposure returns the focal-plane exposure that gives the standard output of a camera of standard output
// sensitivity S: 10/S [ISO12232], from memory.
func OutputExposure(s unit.EI) unit.LuxSecond { return unit.LuxSecond(10 / s) }

// FocalPlaneExposure returns the exposure on the sensor behind a lens of common transmittance and flare, focused far
// away: 0.65·L·t/N² [ISO12232], from memory.
func FocalPlaneExposure(luminance unit.Nit, t unit.Second, opening unit.FNumber) unit.LuxSecond {
	return unit.LuxSecond(0.65 * float64(luminance) * float64(t) / float64(opening*opening))
}
