// Package ray finds where rays meet triangles: the nearest hit, or whether anything is in the way.
//
// Everything here is float32 and made for speed; positions are metres, but no length has a meaning. The answer to a ray is
// a function of the ray and the triangles alone: the hit with the smallest T, and of equal ones that of the lowest triangle
// number, whatever the hierarchy, the machine or the number of workers. Intersection is watertight [WOOP2013]: where
// triangles share an edge or a corner, no ray passes between them.
//
// A Tree has eight children a node and up to eight triangles a leaf. Two kernels walk it, one in AVX2 assembly and one in
// plain Go, with the same float32 operations in the same order and none of them fused, so that every digit is the same.
package ray

import "math"

// Ray asks for hits at Origin + T·Direction with Near ≤ T ≤ Far. Direction needs no unit length. A ray with a NaN or
// an infinity in it (but for Far), with no direction, or from farther out than 2⁶⁰ along an axis hits nothing; neither does
// anything below T = 0.
type Ray struct {
	Origin, Direction [3]float32
	Near, Far         float32
}

// Hit is where a ray met a triangle: at T along the ray, at the point (1−U−V)·a + U·b + V·c of the triangle's corners
// a, b, c.
type Hit struct {
	T, U, V  float32
	Triangle int32
}

// farthest bounds coordinates, so that no product of two of them overflows, nor a sum with the slack.
const farthest = 1 << 60

// usable reports whether the ray can hit anything at all.
func (r *Ray) usable() bool {
	o, d := &r.Origin, &r.Direction
	// A sum of products with 0 is 0 unless one of them is NaN or infinite.
	zero := d[0]*0 + d[1]*0 + d[2]*0 + r.Near*0
	return zero == 0 && abs(o[0]) <= farthest && abs(o[1]) <= farthest && abs(o[2]) <= farthest &&
		(d[0] != 0 || d[1] != 0 || d[2] != 0) && r.Near <= r.Far && r.Far >= 0
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }
