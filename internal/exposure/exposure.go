// Package exposure holds the formulas between light and a camera: the key, tones, neutral density, meters and their
// receptors, ratios, fall-off, the reserve of a lamp, the lens, and flicker. Formulas only: no state, no light transport;
// what a cloth or a room does with light is left to others.
//
// Levels are those of the meter's receptor, at the point where it is held. Lengths are metres, angles degrees. Where a
// level of 0 is allowed, its stops are −∞. The formulas are exact for what they assume; what that is stands with each.
package exposure

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// UsualConstant is the calibration constant C of incident meters with a flat receptor that most makers use [ISO2720].
const UsualConstant unit.LuxSecond = 250

// MidGrey is the reflectance of the grey card: the tone of a level equal to the key.
const MidGrey unit.Fraction = 0.18

// Camera is what decides the exposure.
type Camera struct {
	EI       unit.EI
	FPS      unit.FPS
	Shutter  unit.Shutter
	Stop     unit.TStop
	ND       unit.Stop      // filter in the camera, as the trade counts it: one stop for each 0.3
	Constant unit.LuxSecond // C of the incident meter; 0 is UsualConstant
}

// Check returns what makes the camera impossible or unusual, each fault with the field's name as its path.
func (c Camera) Check() fault.List {
	var list fault.List
	add := func(kind fault.Kind, path, text string) {
		list = append(list, fault.Fault{Kind: kind, Path: path, Text: text})
	}
	for _, part := range []struct {
		path string
		set  bool
	}{{"ei", c.EI > 0}, {"fps", c.FPS > 0}, {"shutter", c.Shutter != unit.Shutter{}}, {"stop", c.Stop > 0}} {
		if !part.set {
			add(fault.Input, part.path, "is missing")
		}
	}
	if len(list) == 0 && !fits(c.ExposureTime(), c.FPS) {
		add(fault.Input, "shutter", fmt.Sprintf("is open for %v, longer than a frame at %v", c.ExposureTime(), c.FPS))
	}
	if c.ND < 0 {
		add(fault.Input, "nd", "is below 0")
	}
	// Ranges of C from memory of [ISO2720]: 240 to 400 for a flat receptor, 320 to 540 for a dome.
	if c.Constant != 0 && (c.Constant < 240 || c.Constant > 540) {
		add(fault.Note, "constant", "is outside what meters use, 240 to 540 lx s")
	}
	return list
}

// fits reports whether the exposure time is no longer than a frame, but for rounding.
func fits(t unit.Second, rate unit.FPS) bool { return float64(t)*float64(rate) <= 1+1e-9 }

// ExposureTime returns how long one frame is exposed: the time of the shutter, or its angle/(360·fps).
func (c Camera) ExposureTime() unit.Second {
	if c.Shutter.Time > 0 {
		return c.Shutter.Time
	}
	return unit.Second(float64(c.Shutter.Angle) / (360 * float64(c.FPS)))
}

// Key returns the level that the working exposure asks for: C·T²·2^ND/(EI·t), the incident-light equation of [ISO2720]
// with the T-stop for the f-number. It panics on a camera that Check finds incomplete.
func (c Camera) Key() unit.Lux {
	exposed := float64(c.EI) * float64(c.ExposureTime())
	if !(exposed > 0 && c.Stop > 0) || math.IsInf(exposed, 0) {
		panic("exposure: key of an incomplete camera")
	}
	constant := c.Constant
	if constant == 0 {
		constant = UsualConstant
	}
	return unit.Lux(float64(constant) * float64(c.Stop*c.Stop) * c.ND.Factor() / exposed)
}

// StopFor returns the T-stop for which the level, at least 0, is the key, all else as it is.
func (c Camera) StopFor(level unit.Lux) unit.TStop { return c.Stop.Closed(c.OverKey(level)) }

// OverKey returns how far an incident level, at least 0, stands over the key: log2(E/E_key).
func (c Camera) OverKey(level unit.Lux) unit.Stop { return unit.Stops(float64(level / c.Key())) }

// OverGrey returns how far a surface of the luminance, at least 0, stands over grey in the picture.
func (c Camera) OverGrey(luminance unit.Nit) unit.Stop { return OverGrey(luminance, c.Key()) }

// ToneOf returns where a matt surface of the reflectance, in light of the level, falls over grey in the picture:
// log2(ρE/(0.18·E_key)).
func (c Camera) ToneOf(reflectance unit.Fraction, level unit.Lux) unit.Stop {
	return c.OverGrey(Luminance(reflectance, level))
}

// OverGrey returns how far a surface of the luminance, at least 0, stands over a matt grey card that the level lights:
// log2(πL/(0.18·E)). For a sky in a window and the ambient of the room this difference is fixed, whatever gel or stop.
func OverGrey(luminance unit.Nit, level unit.Lux) unit.Stop {
	return unit.Stops(float64(luminance / Luminance(MidGrey, level)))
}
