package geometry

import "math"

// Person is a grown person, feet at the origin, facing +y, the right hand toward +x. Height is from floor to crown.
// Face is the height of the middle of the face, 0 for standing upright. A face below 0.8 of the height sits.
//
// What is modelled: a head with nose, brow, eye hollows, lips and ears, neck, shoulders, and a trunk with the arms held
// close. Legs are one column, or a lap and a column for who sits. No hands, no hair, no clothes: it stands for how a
// head and shoulders take light and how a body blocks it, and for nobody in particular.
type Person struct{ Height, Face float64 }

// standingFace is the middle of the face of who stands upright, as a share of the height (from memory, as are the
// profiles below: a head of about 0.13 of the height, shoulders of about 0.26).
const standingFace = 0.925

// section is one level outline of the body, a superellipse |x/a|^n + |(y−shift)/b|^n = 1; lengths as shares of the
// height, z from the middle of the face.
type section struct{ z, a, b, shift, n float64 }

// upper is the body from below the hips to the crown.
var upper = []section{
	{-0.490, 0.088, 0.056, -0.012, 2.4},
	{-0.450, 0.099, 0.062, -0.012, 2.4},
	{-0.360, 0.104, 0.058, -0.010, 2.5},
	{-0.260, 0.117, 0.062, -0.010, 2.6},
	{-0.180, 0.129, 0.066, -0.014, 2.6},
	{-0.142, 0.124, 0.058, -0.016, 2.4},
	{-0.122, 0.096, 0.048, -0.018, 2.2},
	{-0.108, 0.058, 0.040, -0.018, 2.0},
	{-0.092, 0.040, 0.037, -0.014, 2.0},
	{-0.076, 0.036, 0.036, -0.011, 2.0},
	{-0.064, 0.0345, 0.039, -0.005, 2.0},
	{-0.052, 0.032, 0.045, 0.001, 2.0},
	{-0.036, 0.035, 0.050, 0.001, 2.1},
	{-0.012, 0.040, 0.054, -0.002, 2.2},
	{0.014, 0.043, 0.056, -0.005, 2.2},
	{0.038, 0.042, 0.055, -0.007, 2.1},
	{0.056, 0.0357, 0.046, -0.008, 2.0},
	{0.067, 0.0252, 0.033, -0.008, 2.0},
	{0.0725, 0.0146, 0.019, -0.008, 2.0},
	{0.0745, 0.0066, 0.009, -0.008, 2.0},
	{0.075, 0, 0, -0.008, 2.0},
}

// relief is a bump (or hollow) of the face: its centre, its spread and its depth outward along y.
type relief struct{ x, z, sx, sz, depth float64 }

var face = []relief{
	{0, -0.012, 0.0075, 0.010, 0.013},      // nose
	{0, 0.004, 0.0060, 0.010, 0.004},       // its bridge
	{0, 0.019, 0.022, 0.0045, 0.0025},      // brow
	{-0.018, 0.006, 0.009, 0.006, -0.0045}, // hollow of the right eye and the left
	{0.018, 0.006, 0.009, 0.006, -0.0045},  //
	{0, -0.034, 0.011, 0.0035, 0.003},      // lips
	{0, -0.052, 0.012, 0.006, 0.003},       // chin
}

const (
	personSlices  = 44
	personSubdivs = 3
)

// Mesh returns the person as closed smooth surfaces, facing outward.
func (p Person) Mesh() Mesh {
	m := p.upperBody()
	middle := p.face()
	hip := middle - 0.45*p.Height
	if p.seated() {
		m.Append(p.lap(hip))
		m.Append(p.column(Vector{0, 0.24 * p.Height, 0}, hip, 0.075, 0.05))
	} else {
		m.Append(p.column(Vector{0, -0.012 * p.Height, 0}, hip, 0.094, 0.058))
	}
	return m
}

var world = Basis{Vector{1, 0, 0}, Vector{0, 1, 0}, Up}

func (p Person) face() float64 {
	if p.Face == 0 {
		return standingFace * p.Height
	}
	return p.Face
}

func (p Person) seated() bool { return p.face() < 0.8*p.Height }

// upperBody returns head and trunk.
func (p Person) upperBody() Mesh {
	rings := (len(upper)-1)*personSubdivs + 2
	m := lathe(rings, personSlices, func(ring, slice int) Vector {
		if ring == 0 { // the trunk's underside
			return Vector{0, upper[0].shift, upper[0].z - 0.02}.Mul(p.Height).Add(Vector{0, 0, p.face()})
		}
		s := between(upper, float64(ring-1)/personSubdivs)
		v := s.at(slice)
		if v.Y > s.shift {
			v.Y += reliefAt(v.X, s.z)
		}
		v.X *= 1 + ear(s, v)
		return v.Mul(p.Height).Add(Vector{0, 0, p.face()})
	})
	return m.Smoothed()
}

// at returns point i of the outline. Points stand closer together in front, where the face is.
func (s section) at(i int) Vector {
	turn := 2*math.Pi*float64(i)/personSlices - math.Pi
	sin, cos := math.Sincos(turn - 0.45*math.Sin(turn)) // 0 is straight ahead
	scale := math.Pow(math.Pow(math.Abs(sin), s.n)+math.Pow(math.Abs(cos), s.n), -1/s.n)
	return Vector{-s.a * scale * sin, s.shift + s.b*scale*cos, s.z}
}

// reliefAt returns how far the face stands out at x, z.
func reliefAt(x, z float64) float64 {
	sum := 0.0
	for _, r := range face {
		u, v := (x-r.x)/r.sx, (z-r.z)/r.sz
		sum += r.depth * math.Exp(-(u*u+v*v)/2)
	}
	return sum
}

// ear returns the share by which the side of the head widens at v.
func ear(s section, v Vector) float64 {
	if s.a == 0 {
		return 0
	}
	u, w := (v.Y-s.shift+0.004)/0.010, v.Z/0.014
	return 0.16 * math.Exp(-(u*u+w*w)/2)
}

// between returns the section at a fraction of the way along the rows, by Catmull and Rom's cubic.
func between(rows []section, at float64) section {
	i := min(int(at), len(rows)-2)
	t := at - float64(i)
	p, q, r, s := rows[max(i-1, 0)], rows[i], rows[i+1], rows[min(i+2, len(rows)-1)]
	mix := func(a, b, c, d float64) float64 {
		return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
	}
	return section{
		mix(p.z, q.z, r.z, s.z), max(0, mix(p.a, q.a, r.a, s.a)), max(0, mix(p.b, q.b, r.b, s.b)),
		mix(p.shift, q.shift, r.shift, s.shift), mix(p.n, q.n, r.n, s.n),
	}
}

// column returns a leg-like column from the floor under at to the given height, with half-width a and half-depth b at
// the top as shares of the person's height.
func (p Person) column(at Vector, height, a, b float64) Mesh {
	const rings = 8
	m := lathe(rings, personSlices, func(ring, slice int) Vector {
		t := math.Max(0, math.Min(1, float64(ring-1)/(rings-3)))
		s := section{a: a * (0.6 + 0.4*t), b: b * (0.8 + 0.2*t), n: 2.6}
		if ring == 0 || ring == rings-1 {
			s.a, s.b = 0, 0
		}
		return s.at(slice).Mul(p.Height).Add(Vector{at.X, at.Y, height * t})
	})
	return m.Smoothed()
}

// lap returns the thighs of who sits, forward from the hip.
func (p Person) lap(hip float64) Mesh {
	lying := p.column(Vector{}, 0.30*p.Height, 0.095, 0.05)
	// What stood along z lies along −y, then is moved forward.
	return lying.Transform(Basis{Vector{1, 0, 0}, Vector{0, 0, 1}, Vector{0, -1, 0}}, Vector{0, 0.27 * p.Height, hip}, 1)
}

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
	m := p.upperBody()
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
