// Package picture makes pictures of layers: what the camera sees under the present dials, exposed and balanced, as it
// would show on a screen, as a map of stops, or kept layer by layer for a compositor; and it takes the grain of sampling
// off the layers.
//
// It traces nothing. A picture shows level and direction, not beauty: there is no lens flare, no film, no grade. Light is
// carried as float up to the last step, and whoever wants a number probes the float pixels, never the printed ones.
package picture

import (
	"runtime"
	"sync"
	"sync/atomic"

	"gloam/internal/spectrum"
)

// Image is what a camera sees, emitter by emitter at full output, before any dial. Pixels run row by row from the top
// left; each slice of pixels is Width·Height long.
type Image struct {
	Width, Height int
	Layers        []Layer                   // by scene column that has light, in the scene's order
	Albedo        [][spectrum.Bands]float32 // first matt surface seen (1 where a light or sky is seen directly)
	Normal        [][3]float32              // of that surface, unit length; 0 where there is none
	Depth         []float32                 // m; +Inf where nothing is met
	Samples       int                       // paths a pixel
}

// Layer is one emitter's light, or the part of it that came in by one opening.
type Layer struct {
	Name     string                    // emitter's name (and opening's where it came in by one)
	Column   int                       // of scene.Scene
	Pixels   [][spectrum.Bands]float32 // cd/m² at full output were all light in that band
	Variance []float32                 // of the mean over bands of one pixel's estimate; nil once denoised
}

// check panics when the slices do not fit the image's size.
func (img *Image) check() {
	n := img.Width * img.Height
	if n <= 0 || len(img.Albedo) != n || len(img.Normal) != n || len(img.Depth) != n {
		panic("picture: image without its pixels")
	}
	for i := range img.Layers {
		if l := &img.Layers[i]; len(l.Pixels) != n || l.Variance != nil && len(l.Variance) != n {
			panic("picture: layer without its pixels")
		}
	}
}

// rows calls f for each of n rows on all cores. A call writes its own row only, so the order of work leaves no trace.
func rows(n int, f func(y int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			for y := int(next.Add(1)) - 1; y < n; y = int(next.Add(1)) - 1 {
				f(y)
			}
		})
	}
	group.Wait()
}
