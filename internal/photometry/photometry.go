// Package photometry holds far-field luminous intensity distributions: analytic beams, measured tables from LM-63 and
// EULUMDAT files, spot-to-flood families, and the form factors of matt discs and rectangles.
//
// A distribution is light seen from afar, where the inverse square holds. It knows no colour, no dimmer and no place;
// near a large opening use its form factor (ElementDisc, ElementRectangle) or sample its surface instead. A lamp whose
// apparent source lies behind its front, such as a Fresnel, is described by FitDistances.
//
// Angles follow the (C, γ) system of [CIE121]: γ is counted from the lamp's axis, C about it.
package photometry

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

const (
	degree = math.Pi / 180 // radians
	turn   = 360.0         // degrees
)

// Distribution is a far-field luminous intensity distribution in a lamp's own frame: +Z is the axis (γ 0), +X lies in
// the C0 half-plane, +Y in the C90 half-plane. It does not change after it is made.
type Distribution interface {
	// At returns the intensity toward the unit vector, in candela.
	At(direction geometry.Vector) float64
	// Flux returns the integral of At over the sphere.
	Flux() unit.Lumen
	// Peak returns the greatest intensity in any direction.
	Peak() unit.Candela
	// Sample returns a direction and its probability density per steradian, roughly proportional to At. u and v lie in
	// [0, 1). At is zero wherever the density is.
	Sample(u, v float64) (direction geometry.Vector, pdf float64)
	// PDF returns the density, per steradian, with which Sample returns the unit vector.
	PDF(direction geometry.Vector) float64
}

// Direction returns the unit vector at (C, γ).
func Direction(c, gamma unit.Degree) geometry.Vector {
	sc, cc := math.Sincos(float64(c) * degree)
	sg, cg := math.Sincos(float64(gamma) * degree)
	return geometry.Vector{X: sg * cc, Y: sg * sc, Z: cg}
}

// offAxis returns the angle from +Z in radians, exact also close to the axis, where acos is not.
func offAxis(d geometry.Vector) float64 { return math.Atan2(math.Hypot(d.X, d.Y), d.Z) }

// around returns the unit vector at angle theta from +Z given by its sine and cosine, a share v of a turn about it.
func around(sin, cos, v float64) geometry.Vector {
	s, c := math.Sincos(2 * math.Pi * v)
	return geometry.Vector{X: sin * c, Y: sin * s, Z: cos}
}
