package picture

import "gloam/internal/spectrum"

const (
	// Standard deviations by which two pixels of one surface may differ in a layer's light: where the variance is that of
	// the pixels' own samples, and where it is taken from their neighbours, which misses rare bright ones. Found by trial on
	// the scene of the tests, as the least error in stops.
	sampledSlack   = 5
	scatteredSlack = 10

	smooth = 0.01 // share of a layer's light that is taken for a gradient even where the variance explains nothing

	fewSamples = 4 // paths a pixel below which the variance is taken from the neighbours instead [Schied2017], section 4.2
)

// guide is what the weights are found from: the surfaces, which stay, and for each layer the light, as the mean over
// bands, and its variance, which are filtered along. Values run by pixel, then by layer.
type guide struct {
	width, height, layers int
	surfaces              []surface
	slack                 float32
	light                 []float32
	variance              []float32
	spare                 []float32
}

// newGuide takes the image and its layers' light before the first albedo.
func newGuide(img *Image, lit []Layer) *guide {
	n := len(img.Albedo) * len(lit)
	g := &guide{img.Width, img.Height, len(lit), surfaces(img), sampledSlack,
		make([]float32, n), make([]float32, n), make([]float32, n)}
	known := img.Samples >= fewSamples
	for l := range lit {
		g.see(l, lit[l].Pixels)
		known = known && img.Layers[l].Variance != nil
		for i, v := range img.Layers[l].Variance {
			a := max(mean(&img.Albedo[i]), leastAlbedo)
			g.variance[i*g.layers+l] = v / (a * a)
		}
	}
	if !known {
		g.slack = scatteredSlack
		g.scatter()
	}
	return g
}

func mean(p *[spectrum.Bands]float32) float32 {
	return (p[0] + p[1] + p[2] + p[3] + p[4] + p[5] + p[6] + p[7]) / spectrum.Bands
}

// see takes a layer's light in.
func (g *guide) see(layer int, pixels [][spectrum.Bands]float32) {
	for i := range pixels {
		g.light[i*g.layers+layer] = mean(&pixels[i])
	}
}

// scatter takes the variance from how the light scatters around each pixel on its surface.
func (g *guide) scatter() {
	mean, square := make([]float32, len(g.light)), make([]float32, len(g.light))
	for i, v := range g.light {
		mean[i], square[i] = v, v*v
	}
	for distance := 1; distance <= 4; distance *= 2 {
		k := g.weigh(distance, nil)
		mean, g.spare = g.spread(k, mean, false), mean
		square, g.spare = g.spread(k, square, false), square
	}
	for i, m := range mean {
		g.variance[i] = max(0, square[i]-m*m)
	}
}

// kernel returns the weights of an iteration.
func (g *guide) kernel(distance int) *kernel { return g.weigh(distance, g.blurred()) }

// filtered takes in what an iteration made of the layers, and of their variance.
func (g *guide) filtered(k *kernel, lit []Layer) {
	for l := range lit {
		g.see(l, lit[l].Pixels)
	}
	g.variance, g.spare = g.spread(k, g.variance, true), g.variance
}

// weigh returns weights by the surfaces and, where a variance is given, by the light too.
func (g *guide) weigh(distance int, variance []float32) *kernel {
	k := &kernel{g.width, g.height, distance, make([][taps]float32, len(g.surfaces))}
	offsets := k.offsets()
	rows(g.height, func(y int) {
		for x := range g.width {
			i := y*g.width + x
			w := &k.weights[i]
			w[taps/2] = spline[2] * spline[2]
			if s := &g.surfaces[i]; !s.fixed {
				for t := range w {
					if dx, dy := k.offset(t); t != taps/2 && k.inside(x+dx, y+dy) {
						far, facing := s.apart(&g.surfaces[i+offsets[t]], float32(dx), float32(dy))
						if variance != nil && facing > 0 && far < nothing {
							far += g.contrast(variance, i, i+offsets[t])
						}
						w[t] = spline[t%len(spline)] * spline[t/len(spline)] * facing * decay(far)
					}
				}
			}
			normalise(w)
		}
	})
	return k
}

// contrast returns how surely two pixels differ in the light of some layer by more than noise, as minus the logarithm of a
// weight: the greatest, over layers, of the squared difference over what the variances explain. Schied and others take
// the absolute difference over one deviation, of one layer; of many layers the greatest keeps every shadow's edge, and
// taking both pixels' variance keeps a bright outlier's light in the picture.
func (g *guide) contrast(variance []float32, i, q int) (far float32) {
	i, q = i*g.layers, q*g.layers
	a, b := g.light[i:i+g.layers], g.light[q:q+g.layers]
	most := g.slack * g.slack / 2
	va, vb := variance[i:i+g.layers], variance[q:q+g.layers]
	for l := range a {
		d := a[l] - b[l]
		d *= d
		if bound := most * (va[l] + vb[l]); d > far*bound {
			far = d / bound
		}
	}
	return far
}

// blurred returns the variance in a steadier form, blurred over 3x3 pixels [Schied2017], section 4.2, with the share of
// smooth gradients added.
func (g *guide) blurred() []float32 {
	out := g.spare
	stride := g.width * g.layers
	rows(g.height, func(y int) {
		for x := range g.width {
			i := (y*g.width + x) * g.layers
			to := out[i : i+g.layers]
			clear(to)
			var sum float32
			for dy := max(-1, -y); dy <= min(1, g.height-1-y); dy++ {
				for dx := max(-1, -x); dx <= min(1, g.width-1-x); dx++ {
					w := float32((2 - dx*dx) * (2 - dy*dy))
					sum += w
					for l := range to {
						to[l] += w * g.variance[i+dy*stride+dx*g.layers+l]
					}
				}
			}
			for l := range to {
				gradient := smooth * g.light[i+l]
				to[l] = to[l]/sum + gradient*gradient
			}
		}
	})
	return out
}

// spread returns values filtered, by the weights or, for variances, by their squares. It writes into spare.
func (g *guide) spread(k *kernel, in []float32, squared bool) []float32 {
	out := g.spare
	offsets := k.offsets()
	rows(g.height, func(y int) {
		for i := y * g.width; i < (y+1)*g.width; i++ {
			to := out[i*g.layers : (i+1)*g.layers]
			clear(to)
			for t, w := range &k.weights[i] {
				if w == 0 {
					continue
				}
				if squared {
					w *= w
				}
				q := (i + offsets[t]) * g.layers
				for l, v := range in[q : q+g.layers] {
					to[l] += w * v
				}
			}
		}
	})
	return out
}
