//go:build linux

package main

import (
	"math"
	"math/rand"

	"gloam/internal/geometry"
	"gloam/internal/ray"
)

// rays returns the rays of so many light paths: for each the ray of the second bounce (closest) and, from where that
// lands, one to a random place on one of four lamps (any). Paths start at random, so that rays in sequence have nothing
// in common.
func rays(m geometry.Mesh, tree *ray.Tree, paths int) (closest, shadow []ray.Ray) {
	rnd := rand.New(rand.NewSource(1))
	cameras := []geometry.Vector{{X: 0.5, Y: 0.5, Z: 1.5}, {X: 5.5, Y: 4.2, Z: 1.2}, {X: 1.2, Y: 3.5, Z: 1.8}, {X: 3, Y: 3.4, Z: 1.3}}
	lamps := []geometry.Vector{{X: 1.5, Y: 2.5, Z: 2.7}, {X: 4.5, Y: 2.5, Z: 2.7}, {X: 0.4, Y: 4.2, Z: 1.2}, {X: 5.8, Y: 1, Z: 1.4}}
	var s ray.Scratch
	for len(closest) < paths {
		r := toward(cameras[rnd.Intn(len(cameras))], sphere(rnd), float32(math.Inf(1)))
		p, n, ok := landing(m, tree, &r, &s)
		if !ok {
			continue
		}
		bounce := toward(p, n.Add(sphere(rnd)).Unit(), float32(math.Inf(1)))
		closest = append(closest, bounce)
		if p, _, ok = landing(m, tree, &bounce, &s); ok {
			spot := lamps[rnd.Intn(len(lamps))].Add(geometry.Vector{X: rnd.Float64() - 0.5, Y: rnd.Float64() - 0.5}.Mul(0.4))
			shadow = append(shadow, toward(p, spot.Sub(p), 0.999))
		}
	}
	return closest, shadow
}

func toward(o, d geometry.Vector, far float32) ray.Ray {
	return ray.Ray{Origin: [3]float32{float32(o.X), float32(o.Y), float32(o.Z)}, Direction: [3]float32{float32(d.X), float32(d.Y), float32(d.Z)}, Far: far}
}

// sphere returns a uniform direction.
func sphere(rnd *rand.Rand) geometry.Vector {
	return geometry.Vector{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
}

// landing returns a point a little above the surface the ray lands on, and the normal there on the ray's side.
func landing(m geometry.Mesh, tree *ray.Tree, r *ray.Ray, s *ray.Scratch) (p, n geometry.Vector, ok bool) {
	var h ray.Hit
	if !tree.Nearest(r, &h, s) {
		return p, n, false
	}
	a, b, c := m.Corners(int(h.Triangle))
	n = b.Sub(a).Cross(c.Sub(a)).Unit()
	if n.Dot(vector(r.Direction)) > 0 {
		n = n.Neg()
	}
	return vector(r.Origin).AddMul(float64(h.T), vector(r.Direction)).AddMul(2e-4, n), n, true
}

func vector(v [3]float32) geometry.Vector {
	return geometry.Vector{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])}
}
