package scene

import (
	"gloam/internal/geometry"
	"gloam/internal/photometry"
)

// uprightBeam is a distribution of type A or B as it hangs: a positive vertical angle is above the axis ([LM-63], from memory).
// Photometry counts it toward +Y, which is down in a lamp's frame.
type uprightBeam struct{ photometry.Distribution }

func (u uprightBeam) At(d geometry.Vector) float64  { return u.Distribution.At(mirrored(d)) }
func (u uprightBeam) PDF(d geometry.Vector) float64 { return u.Distribution.PDF(mirrored(d)) }

func (u uprightBeam) Sample(a, b float64) (geometry.Vector, float64) {
	d, pdf := u.Distribution.Sample(a, b)
	return mirrored(d), pdf
}

func mirrored(d geometry.Vector) geometry.Vector {
	d.Y = -d.Y
	return d
}

// beamOf returns the light of a photometric file in a lamp's frame.
func beamOf(f *photometry.File) photometry.Distribution {
	if f.Type == photometry.TypeC {
		return f.Table
	}
	return uprightBeam{f.Table}
}
