package picture

import "gloam/internal/spectrum"

// spline is the least binomial of the transform, a quarter of it ([Dammertz2010], section 2.2, takes the B3 spline of five taps).
var spline = [3]float32{1.0 / 4, 1.0 / 2, 1.0 / 4}

const taps = len(spline) * len(spline)

// kernel holds one iteration's weights: for each pixel those of its taps, row by row, which sum to 1.
type kernel struct {
	width, height, step int
	weights             [][taps]float32
}

// offset returns how far a tap is away.
func (k *kernel) offset(tap int) (dx, dy int) {
	return (tap%len(spline) - 1) * k.step, (tap/len(spline) - 1) * k.step
}

// offsets returns how far each tap is away in a slice of pixels.
func (k *kernel) offsets() (all [taps]int) {
	for t := range all {
		dx, dy := k.offset(t)
		all[t] = dy*k.width + dx
	}
	return all
}

func (k *kernel) inside(x, y int) bool { return x >= 0 && x < k.width && y >= 0 && y < k.height }

// normalise makes weights sum to 1.
func normalise(w *[taps]float32) {
	var sum float32
	for _, v := range w {
		sum += v
	}
	for t := range w {
		w[t] /= sum
	}
}

// nothing is where decay ends.
const nothing = 16

// decay stands for exp(-x) of x from 0: (1 - x/16)^16, which costs five products.
func decay(x float32) float32 {
	d := max(0, 1-x/nothing)
	d *= d
	d *= d
	d *= d
	return d * d
}

// filter writes the weighted means of a layer's pixels. A tap outside the picture has no weight.
func (k *kernel) filter(out, in [][spectrum.Bands]float32) {
	offsets := k.offsets()
	rows(k.height, func(y int) {
		for i := y * k.width; i < (y+1)*k.width; i++ {
			var a, b, c, d, e, f, g, h float32
			for t, w := range &k.weights[i] {
				if w == 0 {
					continue
				}
				p := &in[i+offsets[t]]
				a += w * p[0]
				b += w * p[1]
				c += w * p[2]
				d += w * p[3]
				e += w * p[4]
				f += w * p[5]
				g += w * p[6]
				h += w * p[7]
			}
			out[i] = [spectrum.Bands]float32{a, b, c, d, e, f, g, h}
		}
	})
}
