package geometry

import (
	"math"
	"slices"
	"sync"
)

// profile is one level outline of head and neck, without the face's relief: half a superellipse of exponent n before the
// place y = middle where it is widest, half an ellipse behind.
type profile struct{ z, a, front, back, n float64 }

const middle = -0.010 // y where outlines are widest

var head = []profile{
	{-0.125, 0.0380, 0.018, -0.056, 2.0},
	{-0.105, 0.0330, 0.019, -0.053, 2.0},
	{-0.090, 0.0308, 0.020, -0.050, 2.0},
	{-0.078, 0.0302, 0.0225, -0.047, 2.0},
	{-0.067, 0.0305, 0.0260, -0.045, 2.0},
	{-0.061, 0.0315, 0.0310, -0.044, 1.9},
	{-0.056, 0.0332, 0.0425, -0.0445, 1.8},
	{-0.052, 0.0350, 0.0480, -0.046, 1.75},
	{-0.046, 0.0364, 0.0498, -0.048, 1.75},
	{-0.038, 0.0376, 0.0495, -0.051, 1.8},
	{-0.028, 0.0388, 0.0505, -0.055, 1.9},
	{-0.016, 0.0402, 0.0508, -0.059, 2.05},
	{0.000, 0.0413, 0.0508, -0.0615, 2.2},
	{0.012, 0.0420, 0.0505, -0.0630, 2.25},
	{0.024, 0.0425, 0.0518, -0.0628, 2.25},
	{0.036, 0.0422, 0.0505, -0.0612, 2.2},
	{0.048, 0.0398, 0.0460, -0.0570, 2.15},
	{0.058, 0.0352, 0.0388, -0.0490, 2.1},
	{0.066, 0.0285, 0.0300, -0.0395, 2.0},
	{0.0715, 0.0195, 0.0190, -0.0285, 2.0},
	{0.0742, 0.0095, 0.0075, -0.0175, 2.0},
	{0.0750, 0.0030, 0.0000, -0.0110, 2.0},
}

// relief is a bump (or hollow) of the face: its centre, its spread and its depth outward along y. Those off the middle are
// on both sides.
type relief struct{ x, z, sx, sz, depth float64 }

var face = []relief{
	{0.0140, 0.0215, 0.0100, 0.0046, 0.0032},  // brows
	{0.0168, 0.0118, 0.0082, 0.0056, -0.0095}, // hollows of the eyes
	{0.0168, 0.0100, 0.0052, 0.0032, 0.0036},  // lids over the eyeballs
	{0.0168, 0.0094, 0.0050, 0.0008, -0.0010}, // where the lids meet
	{0.0295, -0.002, 0.0075, 0.0060, 0.0036},  // cheekbones
	{0.0250, -0.026, 0.0080, 0.0090, -0.0032}, // hollows of the cheeks
	{0.0076, -0.0142, 0.0028, 0.0030, 0.0050}, // wings of the nose
	{0, -0.0265, 0.0085, 0.0020, 0.0032},      // upper lip
	{0, -0.0297, 0.0105, 0.0012, -0.0024},     // where the lips meet
	{0, -0.0332, 0.0072, 0.0023, 0.0036},      // lower lip
	{0, -0.0395, 0.0100, 0.0026, -0.0026},     // the furrow under it
	{0, -0.0480, 0.0092, 0.0050, 0.0034},      // chin
}

// The nose is a ridge from its root at noseRoot to its tip, and ends under it.
const (
	noseRoot, noseTip, noseEnd = 0.0170, -0.0115, -0.0185
	noseDepth                  = 0.0142
)

const (
	headSlices = 48
	headRings  = 46
)

// headMesh returns head and neck. It is the same for everybody, and is asked for at every point of every person: it is made
// once, and whoever takes it copies it before changing it.
var headMesh = sync.OnceValue(func() Mesh {
	m := lathe(headRings+2, headSlices, func(ring, slice int) Vector {
		s := profileAt(ringHeight(ring - 1))
		switch ring {
		case 0:
			return Vector{0, middle, s.z}
		case headRings + 1:
			return Vector{0, -0.0055, 0.075}
		}
		return s.at(slice)
	})
	m.Positions, m.Triangles = slices.Clip(m.Positions), slices.Clip(m.Triangles)
	return m
})

// ringHeight returns the level of a ring: the neck's few, the face's close together, and on to the crown.
func ringHeight(ring int) float64 {
	const neck, chin, brow = 3, 6, 37 // rings where the levels' steps change
	levels := [...]struct {
		ring int
		z    float64
	}{{0, -0.125}, {neck, -0.090}, {chin, -0.066}, {brow, 0.026}, {headRings - 4, 0.066}, {headRings - 1, 0.0750}}
	ring = max(0, min(ring, headRings-1))
	i := 0
	for ring > levels[i+1].ring {
		i++
	}
	a, b := levels[i], levels[i+1]
	t := float64(ring-a.ring) / float64(b.ring-a.ring)
	if b.ring == headRings-1 { // the crown is flat: rings stand closer the higher they are
		t = math.Sqrt(t * (2 - t))
	}
	return a.z + t*(b.z-a.z)
}

func profileAt(z float64) profile {
	i := 0
	for i < len(head)-2 && z > head[i+1].z {
		i++
	}
	mix := cubic((z - head[i].z) / (head[i+1].z - head[i].z))
	p, q, r, s := &head[max(i-1, 0)], &head[i], &head[i+1], &head[min(i+2, len(head)-1)]
	return profile{z, mix(p.a, q.a, r.a, s.a), mix(p.front, q.front, r.front, s.front), mix(p.back, q.back, r.back, s.back), mix(p.n, q.n, r.n, s.n)}
}

// at returns point i of the outline. Points stand closer together in front, where the face is.
func (s *profile) at(i int) Vector {
	turn := 2*math.Pi*float64(i)/headSlices - math.Pi
	turn -= 0.58*math.Sin(turn) + 0.08*math.Sin(2*turn) // 0 is straight ahead
	if math.Abs(turn) > math.Pi/2 {
		u, v := superellipse(turn, 2)
		return Vector{-s.a * v, middle + (middle-s.back)*u, s.z + jaw(s.z, middle)}
	}
	u, v := superellipse(turn, s.n)
	p := Vector{-s.a * v, middle + (s.front-middle)*u, s.z}
	p.Z += jaw(s.z, p.Y)
	p.Y += u * (reliefAt(math.Abs(p.X), p.Z) + noseAt(p.X, p.Z))
	return p
}

// jaw returns how much higher an outline is at y than at the chin: the jaw rises toward the ears, and less so what is
// above and below it.
func jaw(z, y float64) float64 {
	const low, edge, high = -0.088, -0.055, 0.022
	rise := math.Min((z-low)/(edge-low), (high-z)/(high-edge))
	if rise <= 0 {
		return 0
	}
	return 0.36 * rise * math.Max(0, 0.048-math.Max(y, middle))
}

// reliefAt returns how far the face stands out at x to either side and z.
func reliefAt(x, z float64) float64 {
	sum := 0.0
	for _, r := range face {
		u, v := (x-r.x)/r.sx, (z-r.z)/r.sz
		sum += r.depth * math.Exp(-(u*u+v*v)/2)
	}
	return sum
}

// noseAt returns how far the nose stands out.
func noseAt(x, z float64) float64 {
	if z >= noseRoot || z <= noseEnd {
		return 0
	}
	down := (noseRoot - z) / (noseRoot - noseTip)
	out := 1.25*down - 0.25*math.Pow(down, 5)
	if z < noseTip {
		t := (z - noseEnd) / (noseTip - noseEnd)
		out = t * t * (3 - 2*t)
	}
	u := x / (0.0046 + 0.0034*math.Min(down, 1))
	return noseDepth * out * math.Exp(-math.Pow(math.Abs(u), 2.4)/1.6)
}

// earMesh returns the ear of the side at ±x: a shell with a rim, its back edge standing off the head.
func earMesh(side float64) Mesh {
	shell := [...]struct{ r, h float64 }{{0, -0.006}, {0.75, -0.005}, {1, 0.0005}, {0.97, 0.0026}, {0.80, 0.0022}, {0.55, -0.0008}, {0, -0.0015}}
	out := Vector{side, 0.42, 0}.Unit()
	up := Vector{0, -0.22, 1}
	up = up.AddMul(-up.Dot(out), out).Unit()
	basis := Basis{up.Cross(out), up, out}
	at := Vector{side * 0.0425, -0.0135, 0.0035}
	return lathe(len(shell), 16, func(ring, slice int) Vector {
		x, y := circle(slice, 16)
		x *= 0.0085 * (1 + 0.25*y) // narrower at the lobe
		return at.Add(basis.Out(Vector{shell[ring].r * x, shell[ring].r * 0.0165 * y, shell[ring].h}))
	})
}
