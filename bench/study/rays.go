package study

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/ray"
	"gloam/internal/scene"
)

// PlainRays returns the processor time, in seconds, of 10⁶ rays through a scene with the kernel that any machine can run: what
// other times are divided by, so that they stand beside those of other machines.
func PlainRays(s *scene.Scene) float64 {
	mesh := geometry.Mesh{}
	for _, f := range s.Surfaces {
		mesh.Append(f.Mesh)
	}
	tree := ray.Build(mesh.Packed()).Plain()
	var scratch ray.Scratch
	var hit ray.Hit
	start := CPU()
	for i := range 1_000_000 {
		// The golden angle spreads the ways evenly; the order leaves no two neighbours alike.
		z := 1 - 2*float64(i*7919%1_000_000)/1e6
		sin, cos := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		r := math.Sqrt(1 - z*z)
		tree.Nearest(&ray.Ray{Origin: [3]float32{3, 2.5, 1.4}, Direction: [3]float32{float32(r * cos), float32(r * sin), float32(z)}, Far: math.MaxFloat32}, &hit, &scratch)
	}
	return CPU() - start
}
