package colour

import "math"

// lab returns CIELAB under a white [CIE15], clause 8.2.1.1.
func lab(c, white XYZ) [3]float64 {
	f := func(t float64) float64 {
		if t > 216./24389 {
			return math.Cbrt(t)
		}
		return (24389./27*t + 16) / 116
	}
	x, y, z := f(c.X/white.X), f(c.Y/white.Y), f(c.Z/white.Z)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// ciede2000 returns the colour difference of two CIELAB colours, with all parametric factors 1, by the steps of [Sharma2005].
func ciede2000(p, q [3]float64) float64 {
	const deg = math.Pi / 180
	g := 0.5 * (1 - seventh((math.Hypot(p[1], p[2])+math.Hypot(q[1], q[2]))/2))
	a1, a2 := (1+g)*p[1], (1+g)*q[1]
	c1, c2 := math.Hypot(a1, p[2]), math.Hypot(a2, q[2])
	h1, h2 := hue(a1, p[2]), hue(a2, q[2])

	const half = math.Pi + 1e-9 // opposite hues are at most half a turn apart, whatever the rounding
	dh, h := h2-h1, h1+h2
	switch {
	case c1*c2 == 0:
		dh = 0
	case math.Abs(dh) <= half:
		h /= 2
	default:
		dh -= math.Copysign(2*math.Pi, dh)
		h = math.Mod(h/2+math.Pi, 2*math.Pi)
	}
	dl, dc, dH := q[0]-p[0], c2-c1, 2*math.Sqrt(c1*c2)*math.Sin(dh/2)
	l, c := (p[0]+q[0])/2, (c1+c2)/2

	t := 1 - 0.17*math.Cos(h-30*deg) + 0.24*math.Cos(2*h) + 0.32*math.Cos(3*h+6*deg) - 0.20*math.Cos(4*h-63*deg)
	l50 := (l - 50) * (l - 50)
	sl, sc, sh := 1+0.015*l50/math.Sqrt(20+l50), 1+0.045*c, 1+0.015*c*t
	turn := (h/deg - 275) / 25
	rt := -2 * seventh(c) * math.Sin(60*deg*math.Exp(-turn*turn))
	x, y, z := dl/sl, dc/sc, dH/sh
	return math.Sqrt(x*x + y*y + z*z + rt*y*z)
}

// seventh returns √(c⁷/(c⁷+25⁷)).
func seventh(c float64) float64 {
	c7 := math.Pow(c, 7)
	return math.Sqrt(c7 / (c7 + 6103515625))
}

// hue returns an angle from 0 to 2π, 0 for grey.
func hue(a, b float64) float64 {
	h := math.Atan2(b, a)
	if h < 0 {
		h += 2 * math.Pi
	}
	return h
}
