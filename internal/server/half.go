package server

import "math"

// halfOf returns the nearest half of a number from 0 to 65504, ties to even [IEEE754]; what is beyond becomes the largest.
func halfOf(x float32) uint16 {
	const largest = 65504
	switch {
	case !(x > 0):
		return 0
	case x >= largest:
		return 0x7bff
	case x < 1.0/(1<<14): // subnormal: steps of 2⁻²⁴
		return uint16(math.RoundToEven(float64(x) * (1 << 24)))
	}
	bits := math.Float32bits(x)
	bits += 0xfff + bits>>13&1
	return uint16(bits>>13 - (127-15)<<10)
}
