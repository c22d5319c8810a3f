// Package ray finds where rays meet triangles: the nearest hit, or whether anything is in the way.
//
// Everything here is float32 and made for speed; positions are metres, but no length has a meaning. The answer to a ray is
// a function of the ray and the triangles alone: the hit with the smallest T, and of equal ones that of the lowest triangle
// number, whatever the hierarchy, the machine or the number of workers. Intersection is watertight [WOOP2013]: where
// triangles share an edge or a corner, no ray passes between them.
package ray

import "math"

// Ray asks for hits at Origin + T·Direction with Near ≤ T ≤ Far. Direction needs no unit length. A ray with a NaN or
// an infinity in it (but for Far), or with no direction, hits nothing; neither does anything below T = 0.
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

// Scratch is the working memory of one worker; it must not be shared between goroutines that trace at once. The zero
// Scratch is ready.
type Scratch struct {
	stack [128]entry
}

type entry struct {
	node int32
	near float32
}

// finite reports whether x is neither NaN nor infinite.
func finite(x float32) bool { return x-x == 0 }

// usable reports whether the ray can hit anything at all.
func (r *Ray) usable() bool {
	o, d := &r.Origin, &r.Direction
	return finite(o[0]) && finite(o[1]) && finite(o[2]) && finite(d[0]) && finite(d[1]) && finite(d[2]) &&
		(d[0] != 0 || d[1] != 0 || d[2] != 0) && finite(r.Near) && r.Near <= r.Far
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }
