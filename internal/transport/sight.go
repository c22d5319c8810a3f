package transport

import (
	"gloam/internal/geometry"
	"gloam/internal/ray"
)

// Sight looks from place to place past what stands in the way, straight and by mirrors. It serves one call at a time.
type Sight struct {
	world   *world
	scratch ray.Scratch
}

// Sight returns sight in the film's scene as it stands.
func (f *Film) Sight() *Sight { return &Sight{world: f.world} }

// Clear reports whether light gets unbent from one place to another.
func (s *Sight) Clear(from, to geometry.Vector) bool {
	way := to.Sub(from)
	distance := way.Length()
	if distance == 0 {
		return true
	}
	_, ok := s.world.shadow(from, way.Mul(1/distance), s.world.offset, distance, &s.scratch)
	return ok
}

// leastMirror is the share of light that a mirror gives back at the least, to be looked into.
const leastMirror = 0.2

// Mirrored returns, for each flat mirror or pane in which an eye sees a place, the number of its surface and where the place
// seems to be, behind it.
func (s *Sight) Mirrored(eye, place geometry.Vector) (surfaces []int, images []geometry.Vector) {
	for i := range s.world.scene.Surfaces {
		f := &s.world.scene.Surfaces[i]
		if mean(&f.Optics.Mirror) < leastMirror && f.Optics.Panes == 0 {
			continue
		}
		for t := range f.Mesh.Triangles {
			if image, ok := s.mirroredBy(f.Mesh, t, eye, place); ok {
				surfaces, images = append(surfaces, i), append(images, image)
				break
			}
		}
	}
	return surfaces, images
}

// mirroredBy looks into one triangle of a mirror.
func (s *Sight) mirroredBy(m geometry.Mesh, triangle int, eye, place geometry.Vector) (image geometry.Vector, ok bool) {
	a, b, c := m.Corners(triangle)
	n := b.Sub(a).Cross(c.Sub(a)).Unit()
	height, eyes := place.Sub(a).Dot(n), eye.Sub(a).Dot(n)
	if height*eyes <= 0 { // one of them is behind it
		return image, false
	}
	image = place.AddMul(-2*height, n)
	on := eye.AddMul(eyes/(eyes+height), image.Sub(eye))
	for _, side := range [3][2]geometry.Vector{{a, b}, {b, c}, {c, a}} {
		if side[1].Sub(side[0]).Cross(on.Sub(side[0])).Dot(n) < 0 {
			return image, false
		}
	}
	return image, s.Clear(eye, on) && s.Clear(on, place)
}
