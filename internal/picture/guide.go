package picture

import (
	"gloam/internal/spectrum"

	"gloam/internal/transport"
)

const (
	// Standard deviations of a pixel by which the blurred light of two pixels of one surface may differ: where the variance
	// is that of the pixels' own samples, and where it is taken from their neighbours, which misses rare bright ones. Found
	// by trial on the scene of the tests: less leaves grain, more blurs the shadows of single layers.
	sampledSlack   = 4
	scatteredSlack = 7

	// The same of two pixels that shine, whose outlines are to stay sharp; without samples enough they are left alone.
	shiningSlack = 1.4

	smooth = 0.01 // share of a layer's light that is taken for a gradient even where the variance explains nothing

	fewSamples = 4 // paths a pixel below which the variance is taken from the neighbours [Schied2017], section 4.2
)

// guide is what the weights are found from: the surfaces, which stay, and for each layer the light, as the mean over
// bands, and its variance, which are filtered along. Values run by pixel, then by layer.
type guide struct {
	width, height, layers int
	surfaces              []surface
	kin                   []kin
	known                 bool // the variance is of pixels' own samples

	light, variance         []float32
	softLight, softVariance []float32 // blurred over the kin
	spare                   []float32
	weights                 [][taps]float32
}

// newGuide takes the image and its layers' light before the first albedo.
func newGuide(img *transport.Image, lit []transport.ImageLayer) *guide {
	n := len(img.Albedo) * len(lit)
	g := &guide{width: img.Width, height: img.Height, layers: len(lit), surfaces: surfaces(img), known: img.Samples >= fewSamples}
	g.kin = allKin(g.surfaces, g.width, g.height)
	for _, values := range []*[]float32{&g.light, &g.variance, &g.softLight, &g.softVariance, &g.spare} {
		*values = make([]float32, n)
	}
	g.weights = make([][taps]float32, len(img.Albedo))
	for l := range lit {
		g.see(l, lit[l].Pixels)
		g.known = g.known && img.Layers[l].Variance != nil
		for i, v := range img.Layers[l].Variance {
			a := max(mean(&img.Albedo[i]), leastAlbedo)
			g.variance[i*g.layers+l] = v / (a * a)
		}
	}
	if !g.known {
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
		k := g.weigh(distance, false)
		mean, g.spare = g.spread(k, mean, false), mean
		square, g.spare = g.spread(k, square, false), square
	}
	for i, m := range mean {
		g.variance[i] = max(0, square[i]-m*m)
	}
}

// kernel returns the weights of an iteration.
func (g *guide) kernel(distance int) *kernel {
	g.soften()
	return g.weigh(distance, true)
}

// filtered takes in what an iteration made of the layers, and of their variance.
func (g *guide) filtered(k *kernel, lit []transport.ImageLayer) {
	for l := range lit {
		g.see(l, lit[l].Pixels)
	}
	g.variance, g.spare = g.spread(k, g.variance, true), g.variance
}

// weigh returns weights by the surfaces and, if wanted, by the light too. They hold until the next call.
func (g *guide) weigh(distance int, byLight bool) *kernel {
	k := &kernel{g.width, g.height, distance, g.weights}
	offsets := k.offsets()
	rows(g.height, func(y int) {
		for x := range g.width {
			i := y*g.width + x
			w := &k.weights[i]
			*w = [taps]float32{taps / 2: spline[1] * spline[1]}
			for t := range w {
				dx, dy := k.offset(t)
				if t == taps/2 || g.surfaces[i].shines && !g.known || !k.inside(x+dx, y+dy) {
					continue
				}
				far, facing := g.surfaces[i].apart(&g.surfaces[i+offsets[t]], float32(dx), float32(dy))
				if byLight && facing > 0 && far < nothing {
					far += g.contrast(i, i+offsets[t])
				}
				w[t] = spline[t%len(spline)] * spline[t/len(spline)] * facing * decay(far)
			}
			normalise(w)
		}
	})
	return k
}

// contrast returns how surely two pixels differ in the light of some layer by more than noise, as minus the logarithm of a
// weight: the greatest, over layers, of the squared difference over what both variances explain. [Schied2017], equation 5,
// takes the difference of one light over one pixel's deviation. Of many layers the greatest keeps every shadow's edge, also
// of a layer that the others outshine; and what is compared is blurred and of both pixels, so that a pixel that chance made
// bright is let in and its light stays in the picture.
func (g *guide) contrast(i, q int) (far float32) {
	slack := float32(sampledSlack)
	switch {
	case !g.known:
		slack = scatteredSlack
	case g.surfaces[i].shines || g.surfaces[i].outline || g.surfaces[q].outline:
		slack = shiningSlack
	}
	i, q = i*g.layers, q*g.layers
	a, b := g.softLight[i:i+g.layers], g.softLight[q:q+g.layers]
	va, vb := g.softVariance[i:i+g.layers], g.softVariance[q:q+g.layers]
	most := slack * slack / 2
	for l := range a {
		d := a[l] - b[l]
		d *= d
		if bound := most * (va[l] + vb[l]); d > far*bound {
			far = d / bound
		}
	}
	return far
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
