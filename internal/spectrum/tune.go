package spectrum

import (
	"math"

	"gloam/internal/fault"
)

// tristimuli are X, Y, Z in any common unit.
type tristimuli [3]float64

// knot is the spacing (nm) of the samples of a tuned factor: the CIE tables' own, so that products with them are summed
// where the tables are.
const knot = 5

// tuned returns the smooth factor, between 0 and 1, that turns a source into given tristimulus values (in units where the
// source's own Y is 1): a filter or a surface of which only the colour and the level are known.
//
// Its logit is a + b·(1/λ) + c·green(λ). The middle term shifts reciprocal colour temperature, as exp(c2·Δ/λ) would shift
// a black body's by Δ (Wien's law); the logistic form keeps the factor under 1 where the exponential would pass it, and
// the green bump keeps the shift off the green-pink side. The three numbers are found by Newton's method; an error says
// that no such factor was found.
func tuned(source Curve, target tristimuli) (Curve, error) {
	kernel := knots(source)
	p := tristimuli{math.Log(target[1] / max(1e-3, 1-target[1]))}
	residual := miss(kernel, p, target)
	for range 60 {
		if norm(residual) < 1e-10 {
			return sampled(knot, func(nm float64) float64 { return logistic(nm, p) }), nil
		}
		step := solve3(slope(kernel, p, target), residual)
		// A full step may overshoot where the logistic is flat: halve it until it helps.
		for damp := 1.0; ; damp /= 2 {
			if damp < 1e-4 {
				return Curve{}, errNoFactor
			}
			q := tristimuli{p[0] - damp*step[0], p[1] - damp*step[1], p[2] - damp*step[2]}
			if r := miss(kernel, q, target); norm(r) < norm(residual) {
				p, residual = q, r
				break
			}
		}
	}
	return Curve{}, errNoFactor
}

var errNoFactor = fault.Fault{Text: "no filter gives that colour at that transmittance", Hint: "try a lower transmittance"}

// shapes returns the three functions of wavelength (nm) whose weighted sum is the logit of a tuned factor.
func shapes(nm float64) tristimuli {
	green := (nm - 545) / 45
	return tristimuli{1, 560/nm - 1, math.Exp(-green * green)}
}

func logistic(nm float64, p tristimuli) float64 {
	s := shapes(nm)
	return 1 / (1 + math.Exp(-(p[0]*s[0] + p[1]*s[1] + p[2]*s[2])))
}

// knots returns X, Y, Z that a source gives through a factor that is 1 at one knot and falls linearly to 0 at its
// neighbours, for every knot, with the source's own Y as 1. X, Y, Z through any factor sampled at the knots are sums of these.
func knots(source Curve) []tristimuli {
	kernel := make([]tristimuli, (Last-First)/knot+1)
	total := 0.0
	source.cells(func(nm, value, width float64, _ int) {
		x, y, z := observer(nm)
		at := (nm - First) / knot
		i := min(int(at), len(kernel)-2)
		t, power := at-float64(i), value*width
		for k, m := range [3]float64{x, y, z} {
			kernel[i][k] += (1 - t) * power * m
			kernel[i+1][k] += t * power * m
		}
		total += power * y
	})
	for i := range kernel {
		for k := range kernel[i] {
			kernel[i][k] /= total
		}
	}
	return kernel
}

// miss returns the relative error of each tristimulus value.
func miss(kernel []tristimuli, p, target tristimuli) tristimuli {
	sum := tristimuli{}
	for i, weight := range kernel {
		t := logistic(float64(First+i*knot), p)
		for k := range sum {
			sum[k] += weight[k] * t
		}
	}
	for k := range sum {
		sum[k] = sum[k]/target[k] - 1
	}
	return sum
}

// slope returns the derivatives of miss: row k, column j holds that of value k by parameter j.
func slope(kernel []tristimuli, p, target tristimuli) [3]tristimuli {
	var d [3]tristimuli
	for i, weight := range kernel {
		nm := float64(First + i*knot)
		t := logistic(nm, p)
		s := shapes(nm)
		for k := range d {
			for j := range s {
				d[k][j] += weight[k] / target[k] * t * (1 - t) * s[j]
			}
		}
	}
	return d
}

func norm(r tristimuli) float64 { return math.Abs(r[0]) + math.Abs(r[1]) + math.Abs(r[2]) }

// solve3 returns the solution of a 3×3 system by Cramer's rule; a singular system gives values that are not finite.
func solve3(m [3]tristimuli, r tristimuli) tristimuli {
	det := func(a [3]tristimuli) float64 {
		return a[0][0]*(a[1][1]*a[2][2]-a[1][2]*a[2][1]) -
			a[0][1]*(a[1][0]*a[2][2]-a[1][2]*a[2][0]) +
			a[0][2]*(a[1][0]*a[2][1]-a[1][1]*a[2][0])
	}
	var out tristimuli
	whole := det(m)
	for j := range out {
		n := m
		for k := range n {
			n[k][j] = r[k]
		}
		out[j] = det(n) / whole
	}
	return out
}
