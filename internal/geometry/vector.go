// Package geometry holds points, directions, frames and meshes of triangles.
//
// Metres, right-handed, z up. Directions are unit vectors unless a name says otherwise.
package geometry

import "math"

// Vector is a point in metres or a direction.
type Vector struct{ X, Y, Z float64 }

// Up is the direction away from the ground.
var Up = Vector{0, 0, 1}

// Add returns v + w.
func (v Vector) Add(w Vector) Vector { return Vector{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v − w, the vector from w to v.
func (v Vector) Sub(w Vector) Vector { return Vector{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Mul returns v scaled by k.
func (v Vector) Mul(k float64) Vector { return Vector{v.X * k, v.Y * k, v.Z * k} }

// AddMul returns v + k·w.
func (v Vector) AddMul(k float64, w Vector) Vector {
	return Vector{v.X + k*w.X, v.Y + k*w.Y, v.Z + k*w.Z}
}

// Neg returns −v.
func (v Vector) Neg() Vector { return Vector{-v.X, -v.Y, -v.Z} }

// Dot returns the scalar product.
func (v Vector) Dot(w Vector) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product, right-handed.
func (v Vector) Cross(w Vector) Vector {
	return Vector{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Length returns |v|.
func (v Vector) Length() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v divided by its length. The zero vector stays zero.
func (v Vector) Unit() Vector {
	if l := v.Length(); l > 0 {
		return v.Mul(1 / l)
	}
	return v
}

// Lerp returns the point a share t of the way from v to w.
func (v Vector) Lerp(w Vector, t float64) Vector { return v.AddMul(t, w.Sub(v)) }

// Finite reports whether no coordinate is infinite or NaN.
func (v Vector) Finite() bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s-s) && !math.IsInf(v.X, 0) && !math.IsInf(v.Y, 0) && !math.IsInf(v.Z, 0)
}

// Basis is a right-handed set of three unit directions; Z is the one that leads (a normal, a lamp's axis).
type Basis struct{ X, Y, Z Vector }

// About returns the basis whose Z is the unit vector z and whose X is level: X points to the right of someone who
// looks along z with the head up, Y points down (straight down for a level z). For a vertical z, X is the world's X;
// within 1e-12 of vertical is vertical, since the rest of a sine or cosine must not decide where X goes.
func About(z Vector) Basis {
	x := Vector{1, 0, 0}
	if level := math.Hypot(z.X, z.Y); level > 1e-12 {
		x = Vector{z.Y / level, -z.X / level, 0}
	}
	return Basis{x, z.Cross(x), z}
}

// Out returns the world direction (or offset) of local v.
func (b Basis) Out(v Vector) Vector {
	return b.X.Mul(v.X).AddMul(v.Y, b.Y).AddMul(v.Z, b.Z)
}

// In returns the local direction of world v.
func (b Basis) In(v Vector) Vector { return Vector{v.Dot(b.X), v.Dot(b.Y), v.Dot(b.Z)} }

// Roll returns the basis turned about its Z by the angle, counter-clockwise as seen against Z (X toward Y).
func (b Basis) Roll(radians float64) Basis {
	s, c := math.Sincos(radians)
	return Basis{b.X.Mul(c).AddMul(s, b.Y), b.Y.Mul(c).AddMul(-s, b.X), b.Z}
}
