package photometry

import (
	"math"

	"gloam/internal/unit"
)

// Form factors (configuration factors) of matt, evenly lit surfaces in clear air. F is the share of the light leaving
// the first surface that arrives at the second; by reciprocity E = π·L·F is also the illuminance at the first from the
// second of luminance L. Lengths must be above zero unless said otherwise; anything else gives NaN.
//
// Source: [HOWELL], under the catalogue number given at each function.

// DiscIlluminance returns E = π·L·F at distance in front of a matt disc's centre, facing it.
func DiscIlluminance(luminance unit.Nit, radius, distance unit.Metre) unit.Lux {
	return unit.Lux(math.Pi * float64(luminance) * float64(ElementDisc(distance, radius, 0)))
}

// RectangleIlluminance returns E = π·L·F at distance in front of a matt rectangle's centre, facing it.
func RectangleIlluminance(luminance unit.Nit, width, height, distance unit.Metre) unit.Lux {
	return unit.Lux(math.Pi * float64(luminance) * float64(ElementRectangle(width, height, distance)))
}

// ElementDisc returns F from an element to a parallel disc at a distance along their common normal; offset is how far
// beside the disc's centre the element stands, 0 or more. [HOWELL] B-13, on the axis r²/(r²+h²).
func ElementDisc(distance, radius, offset unit.Metre) unit.Fraction {
	h, r, a := float64(distance), float64(radius), float64(offset)
	// The catalogue's ½[1 − (Z−2R²)/√(Z²−4R²)] times a²; b/s nears 1 far away, so the difference is taken by hand.
	z := h*h + a*a + r*r
	s := math.Sqrt(z*z - 4*a*a*r*r)
	b := z - 2*r*r
	if b < 0 {
		return unit.Fraction((1 - b/s) / 2)
	}
	return unit.Fraction(2 * r * r * h * h / (s * (s + b)))
}

// ElementRectangleCorner returns F from an element to a parallel rectangle width × height whose corner stands straight
// in front of it at distance. [HOWELL] B-4. Rectangles that lie otherwise are sums and differences of four such.
func ElementRectangleCorner(width, height, distance unit.Metre) unit.Fraction {
	x, y := float64(width/distance), float64(height/distance)
	p, q := math.Hypot(1, x), math.Hypot(1, y)
	return unit.Fraction((x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi))
}

// ElementRectangle returns F from an element to a parallel rectangle whose centre stands straight in front of it.
func ElementRectangle(width, height, distance unit.Metre) unit.Fraction {
	return 4 * ElementRectangleCorner(width/2, height/2, distance)
}

// ElementRectanglePerpendicular returns F from an element to an upright rectangle at distance, its lower edge of the
// given width on the element's plane and beginning straight in front of the element, as high as height. [HOWELL] B-5.
func ElementRectanglePerpendicular(width, height, distance unit.Metre) unit.Fraction {
	w, h, d := float64(width), float64(height), float64(distance)
	slant := math.Hypot(d, h)
	return unit.Fraction((math.Atan(w/d) - d/slant*math.Atan(w/slant)) / (2 * math.Pi))
}

// RectanglesParallel returns F between two equal rectangles width × height that face each other at distance.
// [HOWELL] C-11. Sides under a thousandth of the distance lose digits: use the inverse square there.
func RectanglesParallel(width, height, distance unit.Metre) unit.Fraction {
	x, y := float64(width/distance), float64(height/distance)
	xx, yy := 1+x*x, 1+y*y
	p, q := math.Sqrt(xx), math.Sqrt(yy)
	sum := math.Log(xx*yy/(xx+yy-1))/2 +
		x*q*math.Atan(x/q) + y*p*math.Atan(y/p) - x*math.Atan(x) - y*math.Atan(y)
	return unit.Fraction(2 * sum / (math.Pi * x * y))
}

// RectanglesPerpendicular returns F from a rectangle width deep to one height tall that meet at a right angle along a
// common edge of the given length. [HOWELL] C-14.
func RectanglesPerpendicular(width, height, length unit.Metre) unit.Fraction {
	w, h := float64(width/length), float64(height/length)
	w2, h2 := w*w, h*h
	s := math.Sqrt(w2 + h2)
	logs := math.Log((1+w2)*(1+h2)/(1+w2+h2)) +
		w2*math.Log(w2*(1+w2+h2)/((1+w2)*(w2+h2))) +
		h2*math.Log(h2*(1+w2+h2)/((1+h2)*(w2+h2)))
	sum := w*math.Atan(1/w) + h*math.Atan(1/h) - s*math.Atan(1/s) + logs/4
	return unit.Fraction(sum / (math.Pi * w))
}

// DiscsParallel returns F from a disc of the first radius to a coaxial parallel one of the second. [HOWELL] C-41.
func DiscsParallel(first, second, distance unit.Metre) unit.Fraction {
	r1, r2 := float64(first/distance), float64(second/distance)
	x := 1 + (1+r2*r2)/(r1*r1)
	ratio := 4 * (r2 / r1) * (r2 / r1)
	return unit.Fraction(ratio / 2 / (x + math.Sqrt(x*x-ratio)))
}
