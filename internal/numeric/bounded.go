package numeric

import "math"

// Bounded minimises ½·xᵀGx − hᵀx inside bounds, for a positive semidefinite G: least squares by its normal equations,
// with G = AᵀA and h = Aᵀb. It is the active-set method of [LawsonHanson1974], chapter 23, with both bounds as in
// [StarkParker1995]. The normal equations square the condition number, so about eight digits are to be had of a column
// that is nearly a sum of others. It holds the workspace, and Minimise allocates nothing.
type Bounded struct {
	n       int
	fixed   []bool // stands on a bound
	free    []int
	factor  []float64 // of the free part, LDLᵀ: the lower triangle L, whose diagonal of ones is left out
	inverse []float64 // of the diagonal D
	rest    []float64 // right-hand side and solution
}

// NewBounded returns the workspace for n variables.
func NewBounded(n int) *Bounded {
	return &Bounded{n: n, fixed: make([]bool, n), free: make([]int, 0, n), factor: make([]float64, n*n), rest: make([]float64, n),
		inverse: make([]float64, n)}
}

// dependent is the part of its own square below which a column counts as a sum of those before it.
const dependent = 1e-13

// Minimise moves x, where the search starts, to the minimum. G is row by row; low must not be above high, either may be
// infinite. It reports false where it gave up (numbers that are not finite); x then still lies inside the bounds.
func (b *Bounded) Minimise(x, g, h, low, high []float64) bool {
	n := b.n
	if len(x) != n || len(g) != n*n || len(h) != n || len(low) != n || len(high) != n {
		panic("numeric: lengths differ from the workspace")
	}
	for i := range x {
		x[i] = min(max(x[i], low[i]), high[i])
		b.fixed[i] = x[i] == low[i] || x[i] == high[i]
	}
	freed, at := -1, 0.
	for range 10*n + 10 {
		if !b.descend(x, g, h, low, high) {
			return false
		}
		again := b.worst(x, g, h, low, high)
		if again < 0 || again == freed && x[freed] == at {
			return true // freed, it went straight back: its gain was rounding
		}
		freed, at = again, x[again]
		b.fixed[freed] = false
	}
	return false
}

// slope is how steeply the sum falls along variable i, h − Gx.
func (b *Bounded) slope(i int, x, g, h []float64) float64 {
	s := h[i]
	for j, gij := range g[i*b.n : (i+1)*b.n] {
		s -= gij * x[j]
	}
	return s
}

// worst returns the variable on a bound that gains most by leaving it, or -1.
func (b *Bounded) worst(x, g, h, low, high []float64) int {
	best, most := -1, 0.
	for i := range x {
		if !b.fixed[i] || low[i] == high[i] || !(g[i*b.n+i] > 0) {
			continue
		}
		s := b.slope(i, x, g, h)
		if (x[i] == low[i] && s <= 0) || (x[i] == high[i] && s >= 0) {
			continue
		}
		// What rounding alone can make of the slope is no gain.
		noise := math.Abs(h[i])
		for j, gij := range g[i*b.n : (i+1)*b.n] {
			noise += math.Abs(gij * x[j])
		}
		if s = math.Abs(s); s <= 1e-13*noise {
			continue
		}
		if gain := s * s / g[i*b.n+i]; gain > most {
			best, most = i, gain
		}
	}
	return best
}

// descend minimises over the free variables, and fixes those that meet a bound on the way.
func (b *Bounded) descend(x, g, h, low, high []float64) bool {
	for {
		b.solve(x, g, h)
		step, stop, end := 1., -1, 0.
		for k, i := range b.free {
			z := b.rest[k]
			if math.IsNaN(z) {
				return false
			}
			bound := min(max(z, low[i]), high[i])
			if bound != z && (bound-x[i])/(z-x[i]) < step {
				step, stop, end = (bound-x[i])/(z-x[i]), i, bound
			}
		}
		for k, i := range b.free {
			x[i] = min(max(x[i]+step*(b.rest[k]-x[i]), low[i]), high[i])
		}
		if stop < 0 {
			return true
		}
		x[stop], b.fixed[stop] = end, true
	}
}

// solve finds the minimum over the free variables without regard to their bounds, by Cholesky's factors without square
// roots, which cost more than the rest. A free column that is a sum of those before it stays where it is: its part can be
// had from them.
func (b *Bounded) solve(x, g, h []float64) {
	n := b.n
	b.free = b.free[:0]
	for i := range n {
		if b.fixed[i] {
			continue
		}
		row, of := b.factor[len(b.free)*n:][:n], g[i*n:][:n]
		for k, j := range b.free {
			s, before := of[j], b.factor[k*n:][:n]
			for l, r := range b.rest[:k] {
				s -= r * before[l]
			}
			b.rest[k] = s
		}
		square := of[i]
		for k, s := range b.rest[:len(b.free)] {
			row[k] = s * b.inverse[k]
			square -= s * row[k]
		}
		if square > dependent*of[i] {
			b.inverse[len(b.free)] = 1 / square
			b.free = append(b.free, i)
		}
	}
	for k, i := range b.free {
		s, row := b.slope(i, x, g, h), b.factor[k*n:][:n]
		for l, r := range b.rest[:k] {
			s -= row[l] * r
		}
		b.rest[k] = s
	}
	for k := len(b.free) - 1; k >= 0; k-- {
		s := b.rest[k] * b.inverse[k]
		for l := k + 1; l < len(b.free); l++ {
			s -= b.factor[l*n+k] * b.rest[l]
		}
		b.rest[k] = s
	}
	for k, i := range b.free {
		b.rest[k] += x[i]
	}
}
