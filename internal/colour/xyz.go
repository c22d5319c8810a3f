// Package colour turns light into the numbers a crew reads: tristimulus values, chromaticity, correlated colour temperature
// and Duv, mired from the camera's balance; how true colours look in it (CIE 13.3, CIE 224 and TM-30, SMPTE ST 2122, EBU Tech
// 3355); how a camera sees it; and what to set or gel so that one light matches another. A published method has a file of its
// own.
//
// It works in the CIE 1931 2° observer over 360 to 830 nm, as package spectrum integrates it, save where a method names
// another. Pictures are adapted from the balance to the display by CAT16, in package picture.
package colour

import (
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// XYZ holds CIE 1931 tristimulus values in units of the level they describe: Y is the illuminance where the light is one
// falling on a point, the luminance where it is one seen.
type XYZ struct{ X, Y, Z float64 }

// Of returns the colour of a response in bands under a source's light: its Y is the level. The zero response is black.
func Of(l spectrum.Light, response spectrum.Band) XYZ {
	return XYZ{response.Dot(l.X), response.Dot(l.Y), response.Dot(l.Z)}
}

// Add returns the mixture of two lights.
func (c XYZ) Add(d XYZ) XYZ { return XYZ{c.X + d.X, c.Y + d.Y, c.Z + d.Z} }

// Scale returns the light at k times its level.
func (c XYZ) Scale(k float64) XYZ { return XYZ{k * c.X, k * c.Y, k * c.Z} }

// MixtureOf returns the colour of lights that add up, each at its own illuminance; Y is their sum in lux. It panics
// when lights and levels differ in number.
func MixtureOf(lights []spectrum.Light, levels []unit.Lux) XYZ {
	if len(lights) != len(levels) {
		panic("colour: lights and levels differ in number")
	}
	var all spectrum.Band
	for b := range all {
		all[b] = 1
	}
	var sum XYZ
	for i, l := range lights {
		sum = sum.Add(Of(l, all.Scale(float64(levels[i]))))
	}
	return sum
}
