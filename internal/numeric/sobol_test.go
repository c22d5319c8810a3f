package numeric

import (
	"math"
	"testing"
)

// The first two Sobol dimensions form a (0,2)-sequence: every block of 2^m points puts one point in each elementary
// interval of area 2^-m (Sobol 1967; the property is what Owen scrambling keeps).
func TestEveryPairIsANet(t *testing.T) {
	const m = 8
	for pair := 0; pair < 3; pair++ {
		for split := 0; split <= m; split++ {
			seen := map[[2]int]bool{}
			for i := uint32(0); i < 1<<m; i++ {
				p := Path(12345, i)
				var u, v float64
				for k := 0; k <= pair; k++ {
					u, v = p.Next()
				}
				if u < 0 || u >= 1 || v < 0 || v >= 1 {
					t.Fatalf("point %d of pair %d: %g %g is outside [0,1)", i, pair, u, v)
				}
				seen[[2]int{int(u * float64(int(1)<<split)), int(v * float64(int(1)<<(m-split)))}] = true
			}
			if len(seen) != 1<<m {
				t.Errorf("pair %d, split %d: %d of %d cells hit", pair, split, len(seen), 1<<m)
			}
		}
	}
}

func TestSeedsAreIndependentEnough(t *testing.T) {
	// Correlation of one pair under two seeds, and of two pairs under one seed, stays within 4 sigma of none.
	const n = 4096
	corr := func(f func(i uint32) (a, b float64)) float64 {
		var s float64
		for i := uint32(0); i < n; i++ {
			a, b := f(i)
			s += (a - 0.5) * (b - 0.5)
		}
		return s / n * 12
	}
	limit := 4 / math.Sqrt(n)
	for seed := uint32(0); seed < 20; seed++ {
		a := corr(func(i uint32) (float64, float64) {
			p, q := Path(seed, i), Path(seed+1, i)
			u, _ := p.Next()
			v, _ := q.Next()
			return u, v
		})
		b := corr(func(i uint32) (float64, float64) {
			p := Path(seed, i)
			u, _ := p.Next()
			_, v := p.Next()
			return u, v
		})
		if math.Abs(a) > limit || math.Abs(b) > limit {
			t.Errorf("seed %d: correlation between seeds %.4f, between pairs %.4f, limit %.4f", seed, a, b, limit)
		}
	}
}

func TestMeanError(t *testing.T) {
	m, e := MeanError([]float64{1, 2, 3, 4})
	if m != 2.5 || math.Abs(e-math.Sqrt(5.0/3/4)) > 1e-15 {
		t.Errorf("mean %g, error %g", m, e)
	}
	if _, e := MeanError([]float64{7}); !math.IsInf(e, 1) {
		t.Errorf("one batch has a known error %g", e)
	}
}
