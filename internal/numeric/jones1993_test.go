package numeric

import (
	"math"
	"slices"
	"testing"
)

// Functions of [Jones1993], section 6, with their lowest values; the evaluations it took the authors to come within
// 0.01 % (from memory) are a guide, since ties may be broken in another order.
func TestLowestPublished(t *testing.T) {
	square := func(x float64) float64 { return x * x }
	hartman := [4][7]float64{{3, 10, 30, 0.3689, 0.1170, 0.2673, 1}, {0.1, 10, 35, 0.4699, 0.4387, 0.7470, 1.2},
		{3, 10, 30, 0.1091, 0.8732, 0.5547, 3}, {0.1, 10, 35, 0.03815, 0.5743, 0.8828, 3.2}}
	for _, row := range []struct {
		name      string
		low, high []float64
		f         func(x []float64) float64
		lowest    float64
		published int
	}{
		{"Branin", []float64{-5, 0}, []float64{10, 15}, func(x []float64) float64 {
			return square(x[1]-5.1/(4*math.Pi*math.Pi)*x[0]*x[0]+5/math.Pi*x[0]-6) + 10*(1-1/(8*math.Pi))*math.Cos(x[0]) + 10
		}, 0.397887, 195},
		{"Goldstein-Price", []float64{-2, -2}, []float64{2, 2}, func(x []float64) float64 {
			a, b := x[0], x[1]
			return (1 + square(a+b+1)*(19-14*a+3*a*a-14*b+6*a*b+3*b*b)) *
				(30 + square(2*a-3*b)*(18-32*a+12*a*a+48*b-36*a*b+27*b*b))
		}, 3, 191},
		{"six-hump camel", []float64{-3, -2}, []float64{3, 2}, func(x []float64) float64 {
			a, b := x[0]*x[0], x[1]*x[1]
			return (4-2.1*a+a*a/3)*a + x[0]*x[1] + (4*b-4)*b
		}, -1.0316285, 285},
		{"Hartman of three", []float64{0, 0, 0}, []float64{1, 1, 1}, func(x []float64) float64 {
			sum := 0.
			for _, h := range hartman {
				sum -= h[6] * math.Exp(-h[0]*square(x[0]-h[3])-h[1]*square(x[1]-h[4])-h[2]*square(x[2]-h[5]))
			}
			return sum
		}, -3.86278, 199},
	} {
		t.Run(row.name, func(t *testing.T) {
			l := Lowest{Low: row.low, High: row.high, Resolution: make([]float64, len(row.low)), Budget: 2000}
			took := 0
			at, _ := l.Find(func(x []float64) (float64, float64, bool) {
				took++
				v := row.f(x)
				return v, 0, (v-row.lowest)/math.Abs(row.lowest) > 1e-4
			})
			t.Logf("%d evaluations, published %d", took, row.published)
			if at == nil || took > row.published*5/4 {
				t.Errorf("%d evaluations, published %d", took, row.published)
			}
		})
	}
}

func TestLowestToResolution(t *testing.T) {
	l := Lowest{Low: []float64{0}, High: []float64{10}, Resolution: []float64{0.05}, Budget: 1000}
	at, searched := l.Find(func(x []float64) (float64, float64, bool) { return math.Abs(x[0] - 2.3), 0, true })
	if !searched || math.Abs(at[0]-2.3) > 0.05 {
		t.Errorf("%v, %v", at, searched)
	}
	l.Budget = 5
	if _, searched = l.Find(func(x []float64) (float64, float64, bool) { return x[0], 0, true }); searched {
		t.Error("five evaluations searched all")
	}
	if at, _ := l.Find(func([]float64) (float64, float64, bool) { return 0, 0, false }); at != nil {
		t.Errorf("halted at once, yet found %v", at)
	}
}

// Under noise the place found is still near, whether or not its standard error is told.
func TestLowestLeavesNoiseAlone(t *testing.T) {
	const stderr = 0.05
	for _, told := range []float64{0, stderr} {
		s := Path(3, 0)
		l := Lowest{Low: []float64{0, 0}, High: []float64{6, 6}, Resolution: []float64{0.02, 0.02}, Budget: 400}
		at, _ := l.Find(func(x []float64) (float64, float64, bool) {
			u, v := s.Next()
			w, _ := s.Next()
			noise := (u + v + w - 1.5) * 2 * stderr // three uniform numbers have a variance of 1/4
			return math.Abs(x[0]-2) + math.Abs(x[1]-4) + noise, told, true
		})
		if off := math.Abs(at[0]-2) + math.Abs(at[1]-4); off > 6*stderr {
			t.Errorf("told %g: off by %g", told, off)
		}
	}
}

func TestLowestIsRepeatable(t *testing.T) {
	run := func() (seen []float64) {
		l := Lowest{Low: []float64{0, 0, 0}, High: []float64{1, 2, 3}, Resolution: []float64{.1, .1, .1}, Budget: 150}
		l.Find(func(x []float64) (float64, float64, bool) {
			seen = append(seen, x...)
			return math.Sin(5*x[0]) + math.Cos(3*x[1]) + x[2], 0, true
		})
		return seen
	}
	if a, b := run(), run(); !slices.Equal(a, b) {
		t.Error("two runs went different ways")
	}
}
