package numeric

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"
)

// normal returns the normal equations of rows·x = b.
func normal(rows [][]float64, b []float64) (g, h []float64) {
	n := len(rows[0])
	g, h = make([]float64, n*n), make([]float64, n)
	for k, row := range rows {
		for i := range n {
			for j := range n {
				g[i*n+j] += row[i] * row[j]
			}
			h[i] += row[i] * b[k]
		}
	}
	return g, h
}

func residual(rows [][]float64, b, x []float64) (sum float64) {
	for k, row := range rows {
		r := -b[k]
		for i := range x {
			r += row[i] * x[i]
		}
		sum += r * r
	}
	return math.Sqrt(sum)
}

var inf = math.Inf(1)

func TestBoundedPublished(t *testing.T) {
	steep := [][]float64{{0.171, -0.057}, {-0.049, -0.248}, {-0.166, 0.054}}
	steepB := []float64{0.074, 1.014, -0.383}
	two := [][]float64{{1, 0}, {1, 0}, {0, 1}}
	singular := [][]float64{{-0.307, -0.184}}
	// The line fit of [LawsonHanson1974], chapter 23, section 7: x₁t + x₂ through four points, with a slope of at least
	// 0 and a value of at most 1 at t = 1. In u = x₁ + x₂ these are bounds; its answer 0.621, 0.379 is from memory.
	var line [][]float64
	for _, at := range []float64{0.25, 0.5, 0.5, 0.8} {
		line = append(line, []float64{at - 1, 1})
	}
	for _, row := range []struct {
		name      string
		rows      [][]float64
		b         []float64
		low, high []float64
		want      []float64
		tolerance float64 // the digits printed by the source
	}{
		// SciPy's reference manual 1.11, example of scipy.optimize.nnls.
		{"nnls positive", two, []float64{2, 1, 1}, []float64{0, 0}, []float64{inf, inf}, []float64{1.5, 1}, 1e-12},
		{"nnls negative", two, []float64{-1, -1, -1}, []float64{0, 0}, []float64{inf, inf}, []float64{0, 0}, 0},
		// The README of the Julia package NonNegLeastSquares.
		{"nnls five", [][]float64{{-0.24, -0.82, 1.35, 0.36, 0.35}, {-0.53, -0.20, -0.76, 0.98, -0.54},
			{0.22, 1.25, -1.60, -1.37, -1.94}, {-0.51, -0.56, -0.08, 0.96, 0.46}, {0.48, -2.25, 0.38, 0.06, -1.29}},
			[]float64{-1.6, 0.19, 0.17, 0.31, -1.27}, make([]float64, 5), []float64{inf, inf, inf, inf, inf},
			[]float64{2.20104, 1.1901, 0, 1.55001, 0}, 1e-5},
		// SciPy's tests of lsq_linear, whose expected values were computed by another program.
		{"low bound of x", steep, steepB, []float64{0, -inf}, []float64{inf, inf}, []float64{0, -4.084174437334673}, 1e-9},
		{"low bound of y", steep, steepB, []float64{-1, 0}, []float64{inf, inf}, []float64{0.448427311733504, 0}, 1e-9},
		{"high bound of y", steep, steepB, []float64{-inf, -inf}, []float64{inf, -5}, []float64{-0.105560998682388, -5}, 1e-9},
		{"high bound of x", steep, steepB, []float64{-inf, -inf}, []float64{-1, inf}, []float64{-1, -4.181102129483254}, 1e-9},
		{"box", steep, steepB, []float64{0, -4}, []float64{1, 0}, []float64{0.005236663400791, -4}, 1e-9},
		{"fewer rows than columns", singular, []float64{0.773}, []float64{-0.1, -0.1}, []float64{0.1, 0.1},
			[]float64{-0.1, -0.1}, 0},
		{"line fit", line, []float64{0.5, 0.6, 0.7, 1.2}, []float64{0, -inf}, []float64{inf, 1}, []float64{0.621, 1}, 5e-4},
	} {
		t.Run(row.name, func(t *testing.T) {
			g, h := normal(row.rows, row.b)
			x := make([]float64, len(row.want))
			if !NewBounded(len(x)).Minimise(x, g, h, row.low, row.high) {
				t.Fatal("gave up")
			}
			for i := range x {
				if !(math.Abs(x[i]-row.want[i]) <= row.tolerance) {
					t.Errorf("x = %v, want %v", x, row.want)
				}
			}
		})
	}
}

// A problem of SciPy's tests that once made an active-set method circle, and one with equal columns: the answer is where
// no variable can be moved to gain.
func TestBoundedHard(t *testing.T) {
	for _, row := range []struct {
		name         string
		rows         [][]float64
		b, low, high []float64
	}{
		{"circling", [][]float64{{49, 41, -32}, {-19, -32, -8}, {-13, 10, 69}}, []float64{-41, -90, 47},
			[]float64{31, -44, 26}, []float64{54, -32, 28}},
		{"equal columns", [][]float64{{0.334, 0.668}, {-0.516, -1.032}, {0.192, 0.384}}, []float64{-1.436, 0.135, 0.909},
			[]float64{0, -1}, []float64{1, -0.5}},
	} {
		t.Run(row.name, func(t *testing.T) { mustBeMinimum(t, row.rows, row.b, row.low, row.high) })
	}
}

type failer interface{ Fatalf(string, ...any) }

// mustBeMinimum checks the conditions of Karush, Kuhn and Tucker, which for a convex sum are the minimum.
func mustBeMinimum(t failer, rows [][]float64, b, low, high []float64) []float64 {
	g, h := normal(rows, b)
	x := make([]float64, len(low))
	w := NewBounded(len(x))
	if !w.Minimise(x, g, h, low, high) {
		t.Fatalf("gave up on %v = %v", rows, b)
	}
	for i := range x {
		scale := math.Abs(h[i])
		for j := range x {
			scale += math.Abs(g[i*len(x)+j] * x[j])
		}
		slope := w.slope(i, x, g, h)
		inside := x[i] >= low[i] && x[i] <= high[i]
		if !inside || (slope > 1e-9*scale && x[i] < high[i]) || (slope < -1e-9*scale && x[i] > low[i]) {
			t.Fatalf("x = %v: variable %d falls by %g at bounds %g, %g", x, i, slope, low[i], high[i])
		}
	}
	return x
}

func TestBoundedIsMinimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 8).Draw(t, "n"), rapid.IntRange(1, 12).Draw(t, "m")
		number := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(-9, 9).Draw(t, "number")) })
		rows := rapid.SliceOfN(rapid.SliceOfN(number, n, n), m, m).Draw(t, "rows")
		b := rapid.SliceOfN(number, m, m).Draw(t, "b")
		low := rapid.SliceOfN(number, n, n).Draw(t, "low")
		high := make([]float64, n)
		for i := range high {
			high[i] = low[i] + float64(rapid.IntRange(0, 5).Draw(t, "width"))
		}
		mustBeMinimum(t, rows, b, low, high)
	})
}

// The reference is a general optimiser on the box mapped from free variables by x = low + (high − low)·(1 + sin u)/2.
func TestBoundedAgainstOptimiser(t *testing.T) {
	for seed := range uint32(20) {
		p := Path(7, seed)
		draw := func() float64 { u, _ := p.Next(); return 2*u - 1 }
		rows, b := make([][]float64, 9), make([]float64, 9)
		for k := range rows {
			rows[k] = []float64{draw(), draw(), draw(), draw()}
			b[k] = draw()
		}
		low, high := []float64{0, 0, 0, -0.2}, []float64{0.3, 1, 0.1, 0.2}
		at := func(u []float64) []float64 {
			x := make([]float64, len(u))
			for i := range u {
				x[i] = low[i] + (high[i]-low[i])*(1+math.Sin(u[i]))/2
			}
			return x
		}
		least := inf
		for _, start := range []float64{-0.9, 0.1, 0.9} {
			r, err := optimize.Minimize(optimize.Problem{Func: func(u []float64) float64 { return residual(rows, b, at(u)) }},
				[]float64{start, start, start, start}, &optimize.Settings{MajorIterations: 3000}, &optimize.NelderMead{})
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, r.F)
		}
		x := mustBeMinimum(t, rows, b, low, high)
		if got := residual(rows, b, x); got > least+1e-9 || got < least-1e-3 {
			t.Errorf("problem %d: residual %.9f, the optimiser's %.9f", seed, got, least)
		}
	}
}

func TestBoundedAllocatesNothing(t *testing.T) {
	g, h := normal([][]float64{{1, 2}, {3, 4}, {5, 7}}, []float64{1, 2, 3})
	x, low, high := make([]float64, 2), []float64{0, 0}, []float64{1, 1}
	w := NewBounded(2)
	if n := testing.AllocsPerRun(10, func() { w.Minimise(x, g, h, low, high) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
