package picture

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// unhalf is what a binary16 means by IEEE 754.
func unhalf(h uint16) float64 {
	sign := 1 - 2*float64(h>>15)
	exponent, fraction := int(h>>10&31), float64(h&1023)
	switch exponent {
	case 0:
		return sign * math.Ldexp(fraction, -24)
	case 31:
		if fraction != 0 {
			return math.NaN()
		}
		return sign * math.Inf(1)
	}
	return sign * math.Ldexp(1024+fraction, exponent-25)
}

func TestEveryHalfComesBack(t *testing.T) {
	for h := range 1 << 16 {
		v := unhalf(uint16(h))
		got := half(float32(v))
		if math.IsNaN(v) {
			if !math.IsNaN(unhalf(got)) {
				t.Errorf("%#x is not a number, and becomes %#x", h, got)
			}
			continue
		}
		if got != uint16(h) {
			t.Errorf("%#x = %v becomes %#x", h, v, got)
		}
	}
}

// Between two halves the nearer is taken, half way the even one.
func TestHalfIsTheNearest(t *testing.T) {
	for h := range uint16(0x7bff) {
		low, high := unhalf(h), unhalf(h+1)
		even := h + h&1
		middle := float32((low + high) / 2) // exact: a float has room for one more digit
		for name, c := range map[string]struct {
			in   float32
			want uint16
		}{
			"half way":   {middle, even},
			"just below": {math.Nextafter32(middle, 0), h},
			"just above": {math.Nextafter32(middle, 1e9), h + 1},
		} {
			if got := half(c.in); got != c.want {
				t.Fatalf("%s of %v and %v: got %#x, want %#x", name, low, high, got, c.want)
			}
			if got := half(-c.in); got != c.want|0x8000 {
				t.Fatalf("minus %s of %v and %v: got %#x, want %#x", name, low, high, got, c.want|0x8000)
			}
		}
	}
	for in, want := range map[float32]uint16{65519: 0x7bff, 65520: 0x7c00, 1e30: 0x7c00, float32(math.Inf(1)): 0x7c00, 1e-30: 0} {
		if got := half(in); got != want {
			t.Errorf("%v becomes %#x, want %#x", in, got, want)
		}
	}
}

func TestHalfIsWithinItsPrecision(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float32Range(leastFullHalf, mostHalf).Draw(t, "value")
		if e := math.Abs(unhalf(half(v))/float64(v) - 1); e > 1.0/2048 {
			t.Fatalf("%v is off by %v of itself", v, e)
		}
	})
}
