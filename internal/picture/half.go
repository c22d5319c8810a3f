package picture

import "math"

// mostHalf is the greatest finite half, and leastFullHalf the least that still has all its eleven digits.
const (
	mostHalf      = 65504
	leastFullHalf = 1.0 / 16384
)

// half returns the nearest IEEE 754 binary16 of a float, ties to even; what is too large becomes infinite.
func half(f float32) uint16 {
	bits := math.Float32bits(f)
	sign := uint16(bits >> 16 & 0x8000)
	exponent := int(bits>>23&0xff) - 127
	fraction := bits & 0x7fffff
	switch {
	case exponent == 128 && fraction != 0:
		return sign | 0x7e00 // not a number
	case exponent > 15:
		return sign | 0x7c00
	case exponent >= -14:
		// A carry out of the fraction runs into the exponent, as it should, up to infinity.
		return sign + uint16(exponent+14)<<10 + uint16(nearest(fraction|0x800000, 13))
	case exponent >= -25:
		return sign + uint16(nearest(fraction|0x800000, uint(-exponent-1)))
	}
	return sign
}

// nearest returns x/2^shift rounded, ties to even.
func nearest(x uint32, shift uint) uint32 {
	return (x + 1<<(shift-1) - 1 + x>>shift&1) >> shift
}
