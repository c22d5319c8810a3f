package picture

import (
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// strange is the weight of a coarse pixel that shows another surface, so that a fine one without kin has some light.
const strange = 1e-4

// Lay returns the light of a coarse picture's layer on the surfaces of a fine one of the same view: what a picture shows of a
// lamp that is still being moved. Between the four coarse pixels around it a fine pixel takes most from those of its own
// surface, before the albedo, so that outlines and texture stay as sharp as they are ([Kopf2007], section 3, with the
// weights of Denoise).
func Lay(layer *transport.ImageLayer, coarse, fine *transport.Image) transport.ImageLayer {
	check(coarse)
	check(fine)
	out := transport.ImageLayer{Name: layer.Name, Column: layer.Column, Pixels: make([][spectrum.Bands]float32, len(fine.Albedo))}
	from, to := surfaces(coarse), surfaces(fine)
	light := lit(coarse, layer.Pixels)
	wide, high := float32(fine.Width)/float32(coarse.Width), float32(fine.Height)/float32(coarse.Height)
	rows(fine.Height, func(y int) {
		v := (float32(y)+0.5)/high - 0.5
		for x := range fine.Width {
			u := (float32(x)+0.5)/wide - 0.5
			i := y*fine.Width + x
			var sum float32
			p := &out.Pixels[i]
			for k := range 4 {
				cx, cy := floor(u)+k%2, floor(v)+k/2
				share := (1 - abs(u-float32(cx))) * (1 - abs(v-float32(cy)))
				q := min(max(cy, 0), coarse.Height-1)*coarse.Width + min(max(cx, 0), coarse.Width-1)
				w := share * kinship(&to[i], &from[q], (float32(cx)-u)*wide, (float32(cy)-v)*high)
				sum += w
				for b := range p {
					p[b] += w * light[q][b]
				}
			}
			for b := range p {
				if sum > 0 {
					p[b] *= max(fine.Albedo[i][b], leastAlbedo) / sum
				}
			}
		}
	})
	return out
}

// kinship is the weight of a coarse pixel dx, dy fine ones away. What shines takes from nothing that does not, and the other way
// round: a lamp is far brighter than what it lights.
func kinship(fine, coarse *surface, dx, dy float32) float32 {
	switch {
	case fine.shines != coarse.shines:
		return 0
	case fine.shines:
		return 1
	}
	far, facing := fine.apart(coarse, dx, dy)
	return facing*decay(far) + strange
}

func floor(x float32) int {
	if n := int(x); float32(n) <= x {
		return n
	}
	return int(x) - 1
}
