package picture

import (
	"math"
	"math/rand/v2"

	"gloam/internal/exposure"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// The synthetic scene: a floor, a wall with a chequered half, three balls and a globe of light, under four lamps, each
// a square of light sampled finely, and an even sky. Its truth is known without tracing, so that noise put on it can be
// measured after it was taken off.

type vector [3]float64

func (a vector) plus(b vector, k float64) vector {
	return vector{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
}
func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vector) unit() vector {
	return vector{}.plus(a, 1/math.Sqrt(a.dot(a)))
}

type ball struct {
	centre vector
	radius float64
	albedo spectrum.Band
}

var (
	skin   = spectrum.Band{0.25, 0.3, 0.33, 0.35, 0.38, 0.5, 0.58, 0.6}
	cobalt = spectrum.Band{0.3, 0.35, 0.3, 0.2, 0.12, 0.1, 0.1, 0.12}
	balls  = []ball{
		{vector{-1.1, 3.6, 0.7}, 0.7, skin},
		{vector{0.6, 4.4, 0.9}, 0.9, grey(0.5)},
		{vector{1.7, 3.2, 0.4}, 0.4, cobalt},
		globe,
	}
	globe = ball{centre: vector{-2.2, 4.6, 1.9}, radius: 0.22}
	lamps = []struct {
		at        vector
		side      float64 // m, of the square it sends from
		intensity float64 // cd
	}{
		{vector{-3, 1, 3}, 0.9, 4000},
		{vector{3, 0.5, 1.6}, 1.6, 900},
		{vector{1.5, 5.2, 3.2}, 0.2, 2500},
		{globe.centre, 0.2, 300},
	}
)

func grey(rho float64) (b spectrum.Band) {
	for i := range b {
		b[i] = rho
	}
	return b
}

// meet returns what a ray meets: distance, normal, albedo; globe is -1, -1 …
func meet(from, way vector) (t float64, normal vector, albedo spectrum.Band, lit bool) {
	t = math.Inf(1)
	for _, b := range balls {
		off := from.plus(b.centre, -1)
		half := off.dot(way)
		if d := half*half - off.dot(off) + b.radius*b.radius; d > 0 {
			if near := -half - math.Sqrt(d); near > 1e-6 && near < t {
				t, normal, albedo = near, from.plus(way, near).plus(b.centre, -1).unit(), b.albedo
				lit = b.radius == globe.radius
			}
		}
	}
	if d := -from[2] / way[2]; d > 1e-6 && d < t && from.plus(way, d)[1] < 6 {
		t, normal, albedo, lit = d, vector{0, 0, 1}, grey(0.2), false
	}
	if d := (6 - from[1]) / way[1]; d > 1e-6 && d < t && from.plus(way, d)[2] < 2.6 {
		t, normal, albedo, lit = d, vector{0, -1, 0}, grey(0.55), false
		if p := from.plus(way, d); p[0] > 0 && (int(math.Floor(p[0]*2))+int(math.Floor(p[2]*2)))%2 == 0 {
			albedo = skin
		}
	}
	return t, normal, albedo, lit
}

// seen reports whether a point sees another.
func seen(from, to vector) bool {
	way := to.plus(from, -1)
	far := math.Sqrt(way.dot(way))
	t, _, _, lit := meet(from, way.unit())
	return t > far-1e-6 || lit
}

// shine returns the illuminance (lx) of a lamp at a surface.
func shine(lamp int, p, n vector) (lux float64) {
	const fine = 4
	l := lamps[lamp]
	for i := range fine * fine {
		q := l.at.plus(vector{float64(i%fine)/(fine-1) - 0.5, 0, float64(i/fine)/(fine-1) - 0.5}, l.side)
		way := q.plus(p, -1)
		if cosine := n.dot(way.unit()); cosine > 0 && seen(p.plus(n, 1e-4), q) {
			lux += l.intensity * cosine / way.dot(way) / (fine * fine)
		}
	}
	return lux
}

// synthetic returns the scene without noise: column 0 to 3 the lamps, 4 the sky.
func synthetic(width, height int) *transport.Image {
	n := width * height
	img := &transport.Image{Width: width, Height: height, Albedo: make([][spectrum.Bands]float32, n),
		Normal: make([][3]float32, n), Depth: make([]float32, n), Samples: 1}
	for i, name := range []string{"key lamp", "fill 1.2 m", "back light", "practical", "sky (window)"} {
		img.Layers = append(img.Layers, transport.ImageLayer{Name: name, Column: i, Pixels: make([][spectrum.Bands]float32, n), Variance: make([]float32, n)})
	}
	rows(height, func(y int) {
		for x := range width {
			look(img, x, y)
		}
	})
	return img
}

func look(img *transport.Image, x, y int) {
	from := vector{0, -1, 1.3}
	way := vector{(float64(x) + 0.5 - float64(img.Width)/2) / float64(img.Width), 1,
		(float64(img.Height)/2 - float64(y) - 0.5) / float64(img.Width)}.unit()
	t, normal, albedo, lit := meet(from, way)
	i := y*img.Width + x
	img.Depth[i] = float32(t)
	set := func(to *[spectrum.Bands]float32, b spectrum.Band, k float64) {
		for j := range to {
			to[j] = float32(k * b[j])
		}
	}
	switch {
	case math.IsInf(t, 1):
		set(&img.Albedo[i], grey(1), 1)
		set(&img.Layers[4].Pixels[i], grey(1), 300)
		return
	case lit:
		set(&img.Albedo[i], grey(1), 1)
		set(&img.Layers[3].Pixels[i], grey(1), lamps[3].intensity/(math.Pi*globe.radius*globe.radius))
	default:
		set(&img.Albedo[i], albedo, 1)
		for l := range lamps {
			set(&img.Layers[l].Pixels[i], albedo, shine(l, from.plus(way, t), normal)/math.Pi)
		}
		set(&img.Layers[4].Pixels[i], albedo, 40*(1.2+normal[2])/math.Pi)
	}
	for k := range normal {
		img.Normal[i][k] = float32(normal[k])
	}
}

// noisy returns the image as so many paths a pixel would give it. A path's worth has mean 1, half of it certain and half
// of it rare and large, as light is that is found by chance; the variance is estimated from the same few paths. What is seen
// directly has none.
func noisy(truth *transport.Image, paths int, seed uint64) *transport.Image {
	out := *truth
	out.Samples = paths
	out.Layers = nil
	for l := range truth.Layers {
		t := &truth.Layers[l]
		r := rand.New(rand.NewPCG(seed, uint64(l)))
		n := transport.ImageLayer{Name: t.Name, Column: t.Column, Pixels: make([][spectrum.Bands]float32, len(t.Pixels)), Variance: make([]float32, len(t.Pixels))}
		for i := range t.Pixels {
			if direct(&truth.Albedo[i]) {
				n.Pixels[i] = t.Pixels[i]
				continue
			}
			mean, variance := worth(r, paths)
			level := 0.0
			for b, v := range t.Pixels[i] {
				n.Pixels[i][b] = v * float32(mean)
				level += float64(v) / spectrum.Bands
			}
			n.Variance[i] = float32(level * level * variance)
		}
		out.Layers = append(out.Layers, n)
	}
	return &out
}

// worth returns the mean of some paths' worths and the variance of that mean.
func worth(r *rand.Rand, paths int) (mean, variance float64) {
	const rare = 0.15
	var sum, squares float64
	for range paths {
		w := 0.5
		if r.Float64() < rare {
			w += 0.5 * r.ExpFloat64() / rare
		}
		sum += w
		squares += w * w
	}
	n := float64(paths)
	mean = sum / n
	if paths > 1 {
		variance = max(0, squares/n-mean*mean) / (n - 1)
	}
	return mean, variance
}

// dials returns weights for the synthetic scene: tungsten lamps but for a daylight fill, a blue sky.
func dials(levels ...float64) Weights {
	var w Weights
	for i, level := range levels {
		kelvin := []unit.Kelvin{3200, 5600, 3200, 2700, 9000}[i]
		light := spectrum.LightOf(spectrum.Planck(kelvin))
		w.X = append(w.X, light.X.Scale(level))
		w.Y = append(w.Y, light.Y.Scale(level))
		w.Z = append(w.Z, light.Z.Scale(level))
	}
	return w
}

// testCamera has a key of 250·4²/(800/50) = 250 lx.
var testCamera = Camera{exposure.Camera{EI: 800, FPS: 25, Shutter: unit.Shutter{Angle: 180}, Stop: 4}, 3200, 0}
