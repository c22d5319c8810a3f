package clock

import (
	"fmt"

	"gloam/internal/exposure"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Ambient is a reading of the light that is there without the lamps.
type Ambient struct {
	Name   string // a clock time, or what the crew calls it
	Lux    unit.Lux
	Colour unit.Kelvin
}

// Hold is what lamps are to hold while the ambient changes.
type Hold struct {
	Reference Ambient
	Lamp      unit.Kelvin // the lamps' colour beside the reference
	Ratio     unit.Stop   // wanted, lamps and ambient over ambient
	Tolerance unit.Stop
	Camera    exposure.Camera
	Full      func(unit.Kelvin) (unit.Lux, error) // what the lamps can give at a colour, at the point; a colour they can't make is an error
}

// Setting is what one reading asks for.
type Setting struct {
	Ambient
	Lamp        unit.Lux         // wanted of the lamps together
	Level       float64          // of all they can give at that colour; above 1 they can't
	LampColour  unit.Kelvin      // at the reference's distance from the ambient, in mired
	Ratio       unit.Stop        // lamps and ambient over ambient, as the lamps can
	Exposure    unit.Stop        // against the reference
	OverKey     unit.Stop        // of lamps and ambient
	Filter      exposure.NDSplit // the weaker of the two filters that come next, the rest by iris
	InTolerance bool
}

// HoldRatio returns the settings that hold the ratio: the lamps follow the ambient, lamp = (2^ratio − 1)·ambient, and the
// exposure follows both.
func (h *Hold) HoldRatio(readings []Ambient) ([]Setting, error) {
	return h.settings(readings, func(a unit.Lux) unit.Lux { return exposure.LampOver(a, h.Ratio) })
}

// HoldExposure returns the settings that hold the reference's exposure: the lamps give what the ambient lost, lamp = total −
// ambient, and the ratio drifts.
func (h *Hold) HoldExposure(readings []Ambient) ([]Setting, error) {
	total := h.Reference.Lux * unit.Lux(h.Ratio.Factor())
	return h.settings(readings, func(a unit.Lux) unit.Lux { return max(0, total-a) })
}

func (h *Hold) settings(readings []Ambient, lamp func(unit.Lux) unit.Lux) ([]Setting, error) {
	var out []Setting
	var faults fault.List
	for _, a := range append([]Ambient{h.Reference}, readings...) {
		if !(a.Lux > 0) || !(a.Colour > 0) {
			faults = append(faults, fault.Fault{Path: a.Name, Text: "a reading of ambient has a level and a colour above 0"})
		}
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	for _, a := range readings {
		s, err := h.setting(a, lamp(a.Lux))
		if err != nil {
			for _, f := range fault.Of(err, fault.Input) {
				f.Path = a.Name
				faults = append(faults, f)
			}
			continue
		}
		out = append(out, s)
	}
	return out, faults.Err()
}

// setting works one reading out.
func (h *Hold) setting(a Ambient, lamp unit.Lux) (Setting, error) {
	s := Setting{Ambient: a, Lamp: lamp}
	var err error
	if s.LampColour, err = KeepDistance(h.Lamp, h.Reference.Colour, a.Colour); err != nil {
		return s, err
	}
	full, err := h.Full(s.LampColour)
	if err != nil {
		return s, err
	}
	if !(full > 0) {
		return s, fault.Fault{Text: fmt.Sprintf("the lamps give nothing at %s", s.LampColour)}
	}
	s.Level = float64(lamp / full)
	total := a.Lux + min(lamp, full)
	s.Ratio = unit.Stops(float64(total / a.Lux))
	s.Exposure = unit.Stops(float64(total/h.Reference.Lux)) - h.Ratio
	s.OverKey = h.Camera.OverKey(total)
	s.InTolerance = s.Ratio-h.Ratio <= h.Tolerance+hair && h.Ratio-s.Ratio <= h.Tolerance+hair
	s.Filter = h.Camera.NDSplits(total)[0]
	return s, nil
}

// KeepDistance returns the colour at which a lamp is as far in mired from the ambient of now as it was from the ambient then. A
// distance that no colour temperature makes is an error.
func KeepDistance(lamp, then, now unit.Kelvin) (unit.Kelvin, error) {
	return (lamp.Mired() - then.Mired() + now.Mired()).Kelvin()
}
