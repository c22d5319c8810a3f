package transport

import (
	"context"

	"gloam/internal/geometry"
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

// ImageRequest says what is looked at and how long. After each round, which doubles the samples, Shown hears of it.
type ImageRequest struct {
	Seed          uint32
	View          *scene.View
	Width, Height int
	Samples       int // paths a pixel, at least 2
	Shown         func(samples int)
}

// TraceImage returns what the camera sees, layer by layer. The only error is the context's.
func TraceImage(ctx context.Context, s *scene.Scene, q ImageRequest) (*Image, error) {
	f := NewFilm(s, q, nil)
	for f.Samples() < q.Samples {
		if _, err := f.Step(ctx, q.Samples); err != nil {
			return nil, err
		}
		if q.Shown != nil {
			q.Shown(f.Samples())
		}
	}
	return f.Develop(), nil
}

// seen is the first matt surface a camera path met.
type seen struct {
	albedo spectrum.Band
	normal geometry.Vector
	depth  float64
}
