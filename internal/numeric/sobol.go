// Package numeric holds the numerical tools that know nothing of light: low-discrepancy points, seeded streams,
// statistics of batches.
package numeric

import (
	"math"
	"math/bits"
)

// Points is a stream of low-discrepancy points for one path: padded pairs of the first two Sobol dimensions, each pair
// shuffled and scrambled on its own by hashed Owen scrambling [Burley2020]. Point i of a stream depends on (seed, i)
// alone, so that a run can be continued and split over cores without changing a digit.
type Points struct {
	seed, index, pair uint32
}

// Path returns the stream of path i under the seed.
func Path(seed, i uint32) Points { return Points{seed: seed, index: i} }

// Next returns the next pair, each in [0, 1).
func (p *Points) Next() (u, v float64) {
	h := Hash(p.seed, p.pair)
	p.pair++
	i := owen(p.index, h) // the shuffle: a scrambled index visits the same nets in another order
	x, y := bits.Reverse32(i), sobolSecond(i)
	return toUnit(owen(x, Hash(h, 0x68bc21eb))), toUnit(owen(y, Hash(h, 0x02e5be93)))
}

// sobolSecond returns the second Sobol dimension of index i as 32 fractional bits; the first is i bit-reversed.
func sobolSecond(i uint32) uint32 {
	var r uint32
	for v := uint32(1 << 31); i != 0; i >>= 1 {
		if i&1 != 0 {
			r ^= v
		}
		v ^= v >> 1
	}
	return r
}

// owen scrambles 32 fractional bits by a nested uniform permutation chosen by the seed: a Laine-Karras hash on the
// reversed bits ([Burley2020], listing 3, with the constants of its improved form).
func owen(x, seed uint32) uint32 {
	x = bits.Reverse32(x)
	x ^= x * 0x3d20adea
	x += seed
	x *= (seed >> 16) | 1
	x ^= x * 0x05526c56
	x ^= x * 0x53a22864
	return bits.Reverse32(x)
}

// toUnit maps 32 bits to [0, 1) at the middle of their cell, so that neither end is ever met.
func toUnit(x uint32) float64 { return (float64(x) + 0.5) / (1 << 32) }

// Hash mixes two words into one: the finalizer of MurmurHash3 over their sum, a bijection in b for a given a.
func Hash(a, b uint32) uint32 {
	x := b*0x9e3779b9 + a ^ 0x85ebca6b
	x ^= x >> 16
	x *= 0x85ebca6b
	x ^= x >> 13
	x *= 0xc2b2ae35
	x ^= x >> 16
	return x
}

// HashText returns a seed from a name, so that a stream belongs to a thing and not to its place in a list (FNV-1a).
func HashText(seed uint32, text string) uint32 {
	h := uint32(2166136261) ^ seed
	for i := 0; i < len(text); i++ {
		h = (h ^ uint32(text[i])) * 16777619
	}
	return Hash(seed, h)
}

// MeanError returns the mean of independent batch values and the standard error of that mean. One value or none has
// no known error: +Inf.
func MeanError(batches []float64) (mean, stderr float64) {
	n := float64(len(batches))
	for _, x := range batches {
		mean += x
	}
	if n > 0 {
		mean /= n
	}
	if n < 2 {
		return mean, math.Inf(1)
	}
	var sum float64
	for _, x := range batches {
		sum += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sum / (n - 1) / n)
}
