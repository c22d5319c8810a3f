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
	i := bits.Reverse32(owen(bits.Reverse32(p.index), h)) // the shuffle: a scrambled index visits the same nets in another order
	return toUnit(bits.Reverse32(owen(i, Hash(h, 0x68bc21eb)))), toUnit(bits.Reverse32(owen(sobolSecond(i), Hash(h, 0x02e5be93))))
}

// Apart returns the stream of the same path under another seed, from its start: lots that depend on no others the path draws.
func (p Points) Apart(seed uint32) Points { return Points{seed: Hash(p.seed, seed), index: p.index} }

// sobolSecond returns the second Sobol dimension of index i as 32 fractional bits, the first of them lowest, as i itself is
// the first dimension. Its matrix is Pascal's triangle modulo 2, where C(k, m) is odd if the bits of m are among those of k:
// each step takes one bit of k.
func sobolSecond(i uint32) uint32 {
	i ^= i >> 1 & 0x55555555
	i ^= i >> 2 & 0x33333333
	i ^= i >> 4 & 0x0f0f0f0f
	i ^= i >> 8 & 0x00ff00ff
	return i ^ i>>16
}

// owen scrambles 32 fractional bits, the first of them lowest, by a nested uniform permutation chosen by the seed: a
// Laine-Karras hash ([Burley2020], listing 3, with the constants of its improved form).
func owen(x, seed uint32) uint32 {
	x ^= x * 0x3d20adea
	x += seed
	x *= (seed >> 16) | 1
	x ^= x * 0x05526c56
	x ^= x * 0x53a22864
	return x
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
