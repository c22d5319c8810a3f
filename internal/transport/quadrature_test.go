package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// Answers that need an integral are computed here by Gauss's rule, apart from all sampling.

// nodes returns places in (0, 1) and weights, which sum to 1, of Gauss-Legendre quadrature of n points.
func nodes(n int) (x, w []float64) {
	x, w = make([]float64, n), make([]float64, n)
	for i := range x {
		z := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		for range 20 { // Newton on the Legendre polynomial
			a, b := 1.0, 0.0
			for j := range n {
				a, b = (float64(2*j+1)*z*a-float64(j)*b)/float64(j+1), a
			}
			slope := float64(n) * (z*a - b) / (z*z - 1)
			z -= a / slope
			x[i], w[i] = (1-z)/2, 1/((1-z*z)*slope*slope)
		}
	}
	return x, w
}

func TestNodes(t *testing.T) {
	for _, n := range []int{1, 2, 5, 32} {
		x, w := nodes(n)
		for power := range 2 * n { // exact up to the power 2n−1
			sum := 0.0
			for i := range x {
				sum += w[i] * math.Pow(x[i], float64(power))
			}
			if want := 1 / float64(power+1); math.Abs(sum-want) > 1e-13 {
				t.Errorf("%d nodes, power %d: %v, want %v", n, power, sum, want)
			}
		}
	}
}

// sheet is a flat rectangle, w along its basis' X and h along Y, facing Z.
type sheet struct {
	centre vec
	basis  geometry.Basis
	w, h   float64
}

func sheetFacing(centre, z vec, w, h float64) sheet {
	return sheet{centre, geometry.About(z.Unit()), w, h}
}

func (s sheet) area() float64 { return s.w * s.h }

// at returns the place at shares u and v of the sides.
func (s sheet) at(u, v float64) vec {
	return s.centre.AddMul((u-0.5)*s.w, s.basis.X).AddMul((v-0.5)*s.h, s.basis.Y)
}

func (s sheet) surface(o scene.Optics) scene.Surface {
	return surface(geometry.Rectangle(s.centre, s.basis, s.w, s.h), o)
}

// over returns the integral of f over the sheet by n × n nodes.
func (s sheet) over(n int, f func(at vec) float64) float64 {
	x, w := nodes(n)
	sum := 0.0
	for i := range x {
		for j := range x {
			sum += w[i] * w[j] * f(s.at(x[i], x[j]))
		}
	}
	return sum * s.area()
}

// receivers returns flat receptors at n × n nodes, lifted off the sheet's face by lift, and their weights.
func (s sheet) receivers(n int, lift float64) (r []scene.Receiver, weights []float64) {
	x, w := nodes(n)
	for i := range x {
		for j := range x {
			r = append(r, flatAt(s.at(x[i], x[j]).AddMul(lift, s.basis.Z), s.basis.Z))
			weights = append(weights, w[i]*w[j])
		}
	}
	return r, weights
}

// lights returns the level at a flat receptor from the sheet, whose luminance toward the receptor is l at each place.
func (s sheet) lights(at, normal vec, n int, l func(from, toward vec) float64) float64 {
	normal = normal.Unit()
	return s.over(n, func(from vec) float64 {
		d := from.Sub(at)
		r := d.Length()
		d = d.Mul(1 / r)
		return l(from, d.Neg()) * math.Max(0, d.Dot(normal)) * math.Abs(d.Dot(s.basis.Z)) / (r * r)
	})
}

// levelFrom is the level that an intensity of cd at a place gives on a sheet's face, at a place of it; either side.
func (s sheet) levelFrom(place, on vec, cd float64) float64 {
	d := place.Sub(on)
	r := d.Length()
	return cd * math.Abs(d.Dot(s.basis.Z)) / (r * r * r)
}
