package picture

// kin says which of the nine pixels around and at a pixel are of one surface with it: bit 3·(dy+1) + dx+1.
type kin uint16

// kinFar and kinFacing bound what is still one surface to the eye, without regard to light.
const (
	kinFar    = 1
	kinFacing = 0.3
)

func allKin(surfaces []surface, width, height int) []kin {
	all := make([]kin, len(surfaces))
	rows(height, func(y int) {
		for x := range width {
			i := y*width + x
			around(x, y, width, height, func(dx, dy int) {
				if surfaces[i].shines && (dx != 0 || dy != 0) {
					return // the outline of a light is sharp
				}
				far, facing := surfaces[i].apart(&surfaces[i+dy*width+dx], float32(dx), float32(dy))
				if dx == 0 && dy == 0 || facing > kinFacing && far < kinFar {
					all[i] |= 1 << (3*(dy+1) + dx + 1)
				}
			})
		}
	})
	return all
}

// around calls f for each of the nine pixels at and around x, y that are in the picture.
func around(x, y, width, height int, f func(dx, dy int)) {
	for dy := max(-1, -y); dy <= min(1, height-1-y); dy++ {
		for dx := max(-1, -x); dx <= min(1, width-1-x); dx++ {
			f(dx, dy)
		}
	}
}

// soften blurs light and variance over 3x3 pixels of one surface, so that neither hangs on one pixel's luck, as
// [Schied2017], section 4.2, does with the variance; and adds to the variance the share of smooth gradients.
func (g *guide) soften() {
	rows(g.height, func(y int) {
		for x := range g.width {
			i := y*g.width + x
			light, variance := g.softLight[i*g.layers:(i+1)*g.layers], g.softVariance[i*g.layers:(i+1)*g.layers]
			clear(light)
			clear(variance)
			var sum float32
			around(x, y, g.width, g.height, func(dx, dy int) {
				if g.kin[i]>>(3*(dy+1)+dx+1)&1 == 0 {
					return
				}
				w := float32((2 - dx*dx) * (2 - dy*dy))
				sum += w
				q := (i + dy*g.width + dx) * g.layers
				for l := range light {
					light[l] += w * g.light[q+l]
					variance[l] += w * g.variance[q+l]
				}
			})
			for l := range light {
				light[l] /= sum
				gradient := smooth * light[l]
				variance[l] = variance[l]/sum + gradient*gradient
			}
		}
	})
}
