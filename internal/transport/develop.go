package transport

import (
	"math"

	"gloam/internal/spectrum"
)

// Develop returns the picture so far: sums turned into means. Columns without any light are left out. The film's first step
// must have been made.
func (f *Film) Develop() *Image {
	q, s := &f.request, f.world.scene
	if f.Samples() == 0 {
		panic("transport: film without a sample developed")
	}
	n := q.Width * q.Height
	img := &Image{Width: q.Width, Height: q.Height, Samples: f.Samples(), Albedo: make([][spectrum.Bands]float32, n),
		Normal: make([][3]float32, n), Depth: make([]float32, n)}
	for y := range f.rows {
		for x := range q.Width {
			f.rows[y].develop(img, x, y*q.Width+x, float32(f.samples))
		}
	}
	for e := range s.Emitters {
		for o := -1; o < len(s.Openings); o++ {
			name := s.Emitters[e].Name
			if o >= 0 {
				name += " by " + s.Openings[o].Name
			}
			samples := f.samples
			if f.Late(e) {
				samples = f.behind
			}
			if layer, lit := f.develop(s.Column(e, o), float32(samples)); lit {
				layer.Name = name
				img.Layers = append(img.Layers, layer)
			}
		}
	}
	return img
}

// develop averages over the samples that met a surface; where fewer than half did, the pixel shows sky or lamp.
func (r *filmRow) develop(img *Image, x, p int, samples float32) {
	met := r.met[x]
	if met < samples/2 {
		img.Depth[p] = float32(math.Inf(1))
		for k := range img.Albedo[p] {
			img.Albedo[p][k] = 1
		}
		return
	}
	img.Depth[p] = r.depth[x] / met
	for k := range img.Albedo[p] {
		img.Albedo[p][k] = r.albedo[x][k] / met
	}
	n := r.normal[x]
	if l := float32(math.Sqrt(float64(n[0]*n[0] + n[1]*n[1] + n[2]*n[2]))); l > 0 {
		img.Normal[p] = [3]float32{n[0] / l, n[1] / l, n[2] / l}
	}
}

// develop returns a column's means and the variance of those means.
func (f *Film) develop(column int, samples float32) (layer ImageLayer, lit bool) {
	for y := range f.rows {
		lit = lit || f.rows[y].columns[column].sum != nil
	}
	if !lit {
		return layer, false
	}
	n := f.request.Width * f.request.Height
	layer = ImageLayer{Column: column, Pixels: make([][spectrum.Bands]float32, n), Variance: make([]float32, n)}
	for y := range f.rows {
		c := &f.rows[y].columns[column]
		for x := range c.sum {
			p := y*f.request.Width + x
			var m float32
			for k, sum := range c.sum[x] {
				layer.Pixels[p][k] = sum / samples
				m += sum / samples / spectrum.Bands
			}
			// One sample knows nothing of its variance: it is taken as the square of what it found.
			spread := c.square[x] / samples
			if samples > 1 {
				spread = max(0, spread-m*m) / (samples - 1)
			}
			layer.Variance[p] = spread
		}
	}
	return layer, true
}
