package geometry

import "math"

// Person is a grown person, feet at the origin, facing +y, the right hand toward +x. Height is from floor to crown.
// Face is the height of the middle of the face, 0 for standing upright. A face below 0.8 of the height sits.
//
// What is modelled: a head with skull, jaw, nose, brow, eye hollows, lids, lips, cheeks and ears, a neck, shoulders, a
// trunk, arms held close or laid on the thighs, and legs bent as the height asks. No fingers, no hair, no clothes but a
// collar: it stands for how a head and shoulders take light and how a body blocks it, and for nobody in particular.
//
// Lengths below are shares of the height, z from the middle of the face. Those of the body follow the segment lengths that
// are common in biomechanics, the head's the proportions of drawing books (both from memory).
type Person struct{ Height, Face float64 }

const (
	standingFace = 0.925 // the middle of the face of who stands upright

	hipDown     = 0.395 // from the face to the joints of the hips
	thighLength = 0.245
	shinLength  = 0.246
	ankleHeight = 0.039
)

// Mesh returns the person as closed smooth surfaces, facing outward; they reach into one another.
func (p Person) Mesh() Mesh {
	m := headMesh()
	for _, side := range [2]float64{-1, 1} {
		leg, foot := p.leg(side)
		m.Append(earMesh(side))
		m.Append(loft(p.arm(side), 2, 8))
		m.Append(loft(leg, 2, 10))
		m.Append(loft(foot, 1, 10))
	}
	m.Append(loft(trunk, 1, 28))
	floor := -p.face() / p.Height
	for i := range m.Positions { // soles are flat, and so is what sits on the floor
		m.Positions[i].Z = math.Max(floor, m.Positions[i].Z)
	}
	return p.placed(m.Smoothed())
}

var world = Basis{Vector{1, 0, 0}, Vector{0, 1, 0}, Up}

// placed returns a mesh in shares of the height, from the middle of the face, where the person is.
func (p Person) placed(m Mesh) Mesh {
	return m.Transform(world, Vector{0, 0, p.face()}, p.Height)
}

func (p Person) face() float64 {
	if p.Face == 0 {
		return standingFace * p.Height
	}
	return p.Face
}

func (p Person) seated() bool { return p.face() < 0.8*p.Height }

// Front returns the skin straight ahead of the head's middle, at the height of the face.
func (p Person) Front() Vector { return p.skin(Vector{0, 1, 0}) }

// Left returns the skin of the face 45° to the person's left.
func (p Person) Left() Vector { return p.skin(Vector{-math.Sqrt2 / 2, math.Sqrt2 / 2, 0}) }

// Right returns the skin of the face 45° to the person's right.
func (p Person) Right() Vector { return p.skin(Vector{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}) }

// Hair returns the crown of the head.
func (p Person) Hair() Vector { return p.skin(Up) }

// skin returns where the head ends in the direction from its middle.
func (p Person) skin(direction Vector) Vector {
	middle := Vector{0, -0.005 * p.Height, p.face()}
	m := p.placed(headMesh())
	far := 0.0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		far = math.Max(far, reach(middle, direction, a, b, c))
	}
	return middle.AddMul(far, direction)
}

// reach returns how far from the origin o the triangle lies in direction d, 0 where it is missed.
func reach(o, d, a, b, c Vector) float64 {
	u, v := b.Sub(a), c.Sub(a)
	n := u.Cross(v)
	den := n.Dot(d)
	if den <= 0 { // seen from within, the skin faces away
		return 0
	}
	t := n.Dot(a.Sub(o)) / den
	hit := o.AddMul(t, d)
	const slack = -1e-12
	if b.Sub(a).Cross(hit.Sub(a)).Dot(n) < slack || c.Sub(b).Cross(hit.Sub(b)).Dot(n) < slack || a.Sub(c).Cross(hit.Sub(c)).Dot(n) < slack {
		return 0
	}
	return t
}
