package transport

import (
	"context"
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// lensRay returns the ray of a view through a place of the picture, 0 to 1 from left and from top, and a place of the
// lens: a thin lens, sharp at its focus.
func lensRay(c *scene.View, x, y, u, v float64) (origin, direction geometry.Vector) {
	way := geometry.Vector{X: (x - 0.5) * c.Width / c.Focal, Y: (y - 0.5) * c.Height / c.Focal, Z: 1}
	if c.Aperture == 0 {
		return c.At, c.Basis.Out(way).Unit()
	}
	lensX, lensY := concentric(u, v)
	lens := geometry.Vector{X: lensX * c.Aperture / 2, Y: lensY * c.Aperture / 2}
	return c.At.Add(c.Basis.Out(lens)), c.Basis.Out(way.Mul(c.Focus).Sub(lens)).Unit()
}

// Image is what a camera sees, emitter by emitter at full output, before any dial. Pixels run row by row from the top
// left; each slice of pixels is Width·Height long.
type Image struct {
	Width, Height int
	Layers        []ImageLayer              // by scene column that has light, in the scene's order
	Albedo        [][spectrum.Bands]float32 // first matt surface seen; 1 where a light or sky is seen directly
	Normal        [][3]float32              // of that surface, unit length; 0 where there is none
	Depth         []float32                 // m; +Inf where nothing is met
	Samples       int                       // paths a pixel
}

// ImageLayer is one emitter's light, or the part of it that came in by one opening.
type ImageLayer struct {
	Name     string                    // emitter's name, and the opening's where it came in by one
	Column   int                       // of scene.Scene
	Pixels   [][spectrum.Bands]float32 // cd/m² at full output were all light in that band
	Variance []float32                 // of the mean over bands of one pixel's estimate; nil once denoised
}

// ImageRequest says what is looked at and how long. After each round, which doubles the samples, Shown gets the picture
// so far; it must not keep it.
type ImageRequest struct {
	Seed          uint32
	View          *scene.View
	Width, Height int
	Samples       int // paths a pixel, at least 2
	Shown         func(*Image)
}

// imageLightPaths is how many light paths of each lamp a round of a picture shares. Pixels share them, so that what they
// miss shows as a tint over all and not as grain.
const imageLightPaths = 4096

// TraceImage returns what the camera sees, layer by layer. The only error is the context's.
func TraceImage(ctx context.Context, s *scene.Scene, q ImageRequest) (*Image, error) {
	w := newWorld(s, nil)
	f := newFilm(s, &q)
	for from, to := 0, 1; from < q.Samples; from, to = to, min(2*to, q.Samples) {
		c, err := w.imageLight(ctx, q.Seed, from)
		if err != nil {
			return nil, err
		}
		err = parallel(ctx, q.Height, func(y int) {
			t := &tracer{world: w, pass: w.all(), cache: c, tally: newTally(s)}
			for x := range q.Width {
				for i := from; i < to; i++ {
					t.expose(f, x, y, i)
				}
			}
		})
		if err != nil {
			return nil, err
		}
		if q.Shown != nil || to == q.Samples {
			img := f.develop(to)
			if q.Shown != nil {
				q.Shown(img)
			}
			if to == q.Samples {
				return img, nil
			}
		}
	}
	return f.develop(q.Samples), nil
}

// imageLight sends a round's light paths.
func (w *world) imageLight(ctx context.Context, seed uint32, round int) (*cache, error) {
	c := &cache{vertices: make([][]lightVertex, len(w.lamps)), paths: imageLightPaths}
	err := parallel(ctx, len(w.lamps), func(l int) {
		t := &tracer{world: w, pass: w.all(), cache: c}
		stream := numeric.Hash(numeric.HashText(seed, w.lamps[l].Name), uint32(round)+lightStream)
		for i := range imageLightPaths {
			t.shine(l, numeric.Path(stream, uint32(i)))
		}
	})
	return c, err
}

// film gathers sums over samples.
type film struct {
	scene   *scene.Scene
	request *ImageRequest
	columns []filmColumn
	albedo  [][spectrum.Bands]float32
	normal  [][3]float32
	depth   []float32
	met     []float32 // samples that met a surface
}

type filmColumn struct {
	sum    [][spectrum.Bands]float32
	square []float32 // of the mean over bands
}

func newFilm(s *scene.Scene, q *ImageRequest) *film {
	n := q.Width * q.Height
	f := &film{scene: s, request: q, columns: make([]filmColumn, s.Columns()),
		albedo: make([][spectrum.Bands]float32, n), normal: make([][3]float32, n), depth: make([]float32, n), met: make([]float32, n)}
	for c := range f.columns {
		f.columns[c] = filmColumn{make([][spectrum.Bands]float32, n), make([]float32, n)}
	}
	return f
}

// expose traces one sample of one pixel and adds it to the film. A pixel belongs to one worker, so that the order of
// work leaves no trace.
func (t *tracer) expose(f *film, x, y, sample int) {
	q := f.request
	pixel := y*q.Width + x
	points := numeric.Path(numeric.Hash(q.Seed, uint32(pixel)), uint32(sample))
	a, b := points.Next()
	u, v := points.Next()
	origin, direction := lensRay(q.View, (float64(x)+a)/float64(q.Width), (float64(y)+b)/float64(q.Height), u, v)
	for _, l := range t.tally.lit {
		if l != nil {
			*l = lit{}
		}
	}
	t.seen = seen{depth: math.Inf(1)}
	t.trace(&scene.Receiver{Kind: scene.Spot, Position: origin, Normal: direction}, points)
	for c, l := range t.tally.lit {
		if l == nil || l.response == (spectrum.Band{}) {
			continue
		}
		r := &l.response
		to := &f.columns[c]
		for k, value := range r {
			to.sum[pixel][k] += float32(value)
		}
		m := float32(mean(r))
		to.square[pixel] += m * m
	}
	if !math.IsInf(t.seen.depth, 1) {
		f.met[pixel]++
		f.depth[pixel] += float32(t.seen.depth)
		for k := range t.seen.albedo {
			f.albedo[pixel][k] += float32(t.seen.albedo[k])
		}
		n := t.seen.normal
		f.normal[pixel] = [3]float32{f.normal[pixel][0] + float32(n.X), f.normal[pixel][1] + float32(n.Y), f.normal[pixel][2] + float32(n.Z)}
	}
}

// seen is the first matt surface a camera path met.
type seen struct {
	albedo spectrum.Band
	normal geometry.Vector
	depth  float64
}

// develop turns sums into means. Columns without any light are left out.
func (f *film) develop(samples int) *Image {
	q := f.request
	n := q.Width * q.Height
	img := &Image{Width: q.Width, Height: q.Height, Samples: samples, Albedo: make([][spectrum.Bands]float32, n),
		Normal: make([][3]float32, n), Depth: make([]float32, n)}
	for p := range n {
		f.developSurface(img, p, float32(samples))
	}
	for e := range f.scene.Emitters {
		for o := -1; o < len(f.scene.Openings); o++ {
			name := f.scene.Emitters[e].Name
			if o >= 0 {
				name += " by " + f.scene.Openings[o].Name
			}
			column := f.scene.Column(e, o)
			if layer, lit := f.columns[column].develop(float32(samples)); lit {
				layer.Name, layer.Column = name, column
				img.Layers = append(img.Layers, layer)
			}
		}
	}
	return img
}

// developSurface averages over the samples that met a surface; where fewer than half did, the pixel shows sky or lamp.
func (f *film) developSurface(img *Image, p int, samples float32) {
	met := f.met[p]
	if met < samples/2 {
		img.Depth[p] = float32(math.Inf(1))
		for k := range img.Albedo[p] {
			img.Albedo[p][k] = 1
		}
		return
	}
	img.Depth[p] = f.depth[p] / met
	for k := range img.Albedo[p] {
		img.Albedo[p][k] = f.albedo[p][k] / met
	}
	n := f.normal[p]
	if l := float32(math.Sqrt(float64(n[0]*n[0] + n[1]*n[1] + n[2]*n[2]))); l > 0 {
		img.Normal[p] = [3]float32{n[0] / l, n[1] / l, n[2] / l}
	}
}

// develop returns a column's means and the variance of those means.
func (c *filmColumn) develop(samples float32) (layer ImageLayer, lit bool) {
	layer.Pixels = make([][spectrum.Bands]float32, len(c.sum))
	layer.Variance = make([]float32, len(c.sum))
	for p := range c.sum {
		var m float32
		for k, sum := range c.sum[p] {
			layer.Pixels[p][k] = sum / samples
			m += sum / samples / spectrum.Bands
		}
		lit = lit || m > 0
		// One sample knows nothing of its variance: it is taken as the square of what it found.
		spread := c.square[p] / samples
		if samples > 1 {
			spread = max(0, spread-m*m) / (samples - 1)
		}
		layer.Variance[p] = spread
	}
	return layer, lit
}
