package picture

import (
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// strange is the weight of a coarse pixel that shows another surface, so that a fine one without kin has some light.
const strange = 1e-4

// Lay returns a coarse picture's layers on the surfaces of a fine one of the same view: what is shown of a lamp that is still being
// moved. Between the four coarse pixels around it a fine pixel takes most from those of its own surface, before the albedo,
// so that outlines and texture stay as sharp as they are ([Kopf2007], section 3, with the weights of Denoise).
func Lay(coarse, fine *transport.Image) *transport.Image {
	check(coarse)
	check(fine)
	out := *fine
	out.Samples, out.Layers = coarse.Samples, nil
	from, to := surfaces(coarse), surfaces(fine)
	wide, high := float32(fine.Width)/float32(coarse.Width), float32(fine.Height)/float32(coarse.Height)
	for i := range coarse.Layers {
		c := &coarse.Layers[i]
		l := laying{coarse, from, lit(coarse, c.Pixels), wide, high}
		out.Layers = append(out.Layers, transport.ImageLayer{Name: c.Name, Column: c.Column, Pixels: l.on(fine, to)})
	}
	return &out
}

// laying is a coarse picture's light, and how many fine pixels one of it is wide and high.
type laying struct {
	*transport.Image
	surfaces   []surface
	light      [][spectrum.Bands]float32
	wide, high float32
}

// on returns the layer's pixels on the surfaces of a fine picture.
func (l *laying) on(fine *transport.Image, to []surface) [][spectrum.Bands]float32 {
	pixels := make([][spectrum.Bands]float32, len(to))
	rows(fine.Height, func(y int) {
		for x := range fine.Width {
			i := y*fine.Width + x
			p := &pixels[i]
			sum := l.gather(p, &to[i], x, y, 1)
			if sum == 0 {
				sum = l.gather(p, &to[i], x, y, 2) // at an outline that the coarse pixels all lie beyond
			}
			for b := range p {
				if sum > 0 {
					p[b] *= max(fine.Albedo[i][b], leastAlbedo) / sum
				}
			}
		}
	})
	return pixels
}

// gather adds up the light of the coarse pixels around a fine one, and returns the sum of their weights: a tent over so many
// coarse pixels each way, times kinship.
func (l *laying) gather(p *[spectrum.Bands]float32, s *surface, x, y, reach int) (sum float32) {
	u, v := (float32(x)+0.5)/l.wide-0.5, (float32(y)+0.5)/l.high-0.5
	left, top := floor(u), floor(v)
	for cy := top + 1 - reach; cy <= top+reach; cy++ {
		for cx := left + 1 - reach; cx <= left+reach; cx++ {
			q := min(max(cy, 0), l.Height-1)*l.Width + min(max(cx, 0), l.Width-1)
			dx, dy := float32(cx)-u, float32(cy)-v
			w := (float32(reach) - abs(dx)) * (float32(reach) - abs(dy)) * kinship(s, &l.surfaces[q], dx*l.wide, dy*l.high)
			sum += w
			for b := range p {
				p[b] += w * l.light[q][b]
			}
		}
	}
	return sum
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
