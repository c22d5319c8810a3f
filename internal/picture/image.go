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

	"gloam/internal/transport"
)

// check panics when the slices do not fit the image's size.
func check(img *transport.Image) {
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
