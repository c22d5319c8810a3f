package spectrum

import (
	"fmt"
	"math"
	"slices"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Reflectance is how a matt surface reflects: a share of the light at each wavelength. Luminous is that share of daylight
// (illuminant D65) as the eye weighs it, and Source says where the figures come from.
type Reflectance struct {
	Name string
	Curve
	Luminous unit.Fraction
	Source   string
}

// Band returns the reflectance in each band.
func (r Reflectance) Band() Band { return BandMean(r.Curve) }

// Scaled returns the same shape with another luminous reflectance. When that would reflect more than all light at some
// wavelength the error is a fault of kind Input that names the most it can be.
func (r Reflectance) Scaled(luminous unit.Fraction) (Reflectance, error) {
	most := float64(r.Luminous) / slices.Max(r.value)
	if !(luminous >= 0 && float64(luminous) <= most) {
		return Reflectance{}, fault.Fault{Text: fmt.Sprintf("%s cannot reflect that much light", r.Name),
			Read: fmt.Sprintf("%.3g", float64(luminous)), Allowed: fmt.Sprintf("0 to %.2f", math.Floor(most*100)/100)}
	}
	r.Curve = r.Curve.Scale(float64(luminous / r.Luminous))
	r.Luminous = luminous
	return r, nil
}

// Grey returns a surface that reflects the same share of every wavelength. It panics when rho is not from 0 to 1.
func Grey(rho unit.Fraction) Reflectance {
	if !(rho >= 0 && rho <= 1) {
		panic("spectrum: grey reflectance not from 0 to 1")
	}
	return Reflectance{Name: "grey", Curve: Flat(float64(rho)), Luminous: rho, Source: "exact"}
}

// Material returns the reflectance of a named material, as MaterialNames lists them.
func Material(name string) (Reflectance, bool) {
	for _, m := range materials {
		if m.name == name {
			return m.reflectance(), true
		}
	}
	return Reflectance{}, false
}

// MaterialNames returns the names that Material knows, in the order of their table.
func MaterialNames() []string {
	names := make([]string, len(materials))
	for i, m := range materials {
		names[i] = m.name
	}
	return names
}
