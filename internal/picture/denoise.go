package picture

import (
	"context"

	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// iterations of the transform, each with its taps twice as far apart: 5 reach 31 pixels each way. A sixth, or five taps
// across in place of three, gained nothing on traced pictures (go run ./bench/picture) and cost more.
const iterations = 5

// leastAlbedo bounds what a pixel is divided by, so that black surfaces stay finite.
const leastAlbedo = 0.02

// Denoise returns the image with the grain of sampling taken off its layers, by the edge-avoiding à-trous wavelet transform
// [Dammertz2010] with edges found in depth, normal, albedo and, against what the variance explains, in the light
// [Schied2017]. It works on light before the first surface's albedo, so texture stays sharp. The weights are found once,
// from all layers at full output, and serve every layer and band: the denoised layers still add up and take any dial. Pixels
// that see a light or the sky directly lend nothing to surfaces; among themselves only what a pane mirrors into them is
// evened out. No light is thrown away: what chance made far too bright is shared out, and a flat field keeps its mean
// within 1 %. The same
// image gives the same digits on any number of cores. The error is the context's.
func Denoise(ctx context.Context, img *transport.Image) (*transport.Image, error) {
	check(img)
	out := *img
	out.Layers = make([]transport.ImageLayer, len(img.Layers))
	for i := range img.Layers {
		out.Layers[i] = img.Layers[i]
		out.Layers[i].Pixels = lit(img, img.Layers[i].Pixels)
		out.Layers[i].Variance = nil
	}
	g := newGuide(img, out.Layers)
	spare := make([][spectrum.Bands]float32, len(img.Albedo))
	for i := range iterations {
		k := g.kernel(1 << i)
		for l := range out.Layers {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			layer := &out.Layers[l]
			k.filter(spare, layer.Pixels)
			spare, layer.Pixels = layer.Pixels, spare
		}
		g.filtered(k, out.Layers)
	}
	for i := range out.Layers {
		remodulate(img, out.Layers[i].Pixels)
	}
	return &out, nil
}

// lit returns a layer's pixels as the light on the first surface: divided by its albedo.
func lit(img *transport.Image, pixels [][spectrum.Bands]float32) [][spectrum.Bands]float32 {
	out := make([][spectrum.Bands]float32, len(pixels))
	rows(img.Height, func(y int) {
		for i := y * img.Width; i < (y+1)*img.Width; i++ {
			for b, v := range pixels[i] {
				out[i][b] = v / max(img.Albedo[i][b], leastAlbedo)
			}
		}
	})
	return out
}

// remodulate undoes lit in place.
func remodulate(img *transport.Image, pixels [][spectrum.Bands]float32) {
	rows(img.Height, func(y int) {
		for i := y * img.Width; i < (y+1)*img.Width; i++ {
			for b := range pixels[i] {
				pixels[i][b] *= max(img.Albedo[i][b], leastAlbedo)
			}
		}
	})
}

// direct reports whether a pixel of the albedo sees a light or the sky: no matt surface reflects all.
func direct(albedo *[spectrum.Bands]float32) bool {
	for _, v := range albedo {
		if v != 1 {
			return false
		}
	}
	return true
}
