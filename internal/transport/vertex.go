package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// vertex is a place where a path may turn: a receptor, a surface or haze. It knows how much of the light from a direction
// it hands on (value, cosine included) and how it would pick a direction itself (pick, with its density in value).
type vertex struct {
	place  geometry.Vector
	normal geometry.Vector // of the side the path came to; a receptor's own
	onward geometry.Vector // the way the path came
	kind   vertexKind
	skin   *skin // of the side the path came to, where it is a surface
	beyond *skin // of the other side
	haze   *scene.Haze
	cosIn  float64 // of the way the path came

	// What multiple importance sampling needs of the path so far ([Georgiev2012] eqs. 31 to 36, without merging): the
	// chances, relative to this path's, that light paths joined here and further back would have found it.
	here, before float64
}

type vertexKind int

const (
	surfaceVertex vertexKind = iota
	flatVertex
	domeVertex
	hazeVertex
)

// skin is how one side of a surface hands on light that came to it, but for what passes unbent or is mirrored.
type skin struct {
	reflect *spectrum.Band // matt, back to the same side
	through *spectrum.Band // matt, to the other side
	ahead   *spectrum.Band // within a narrow lobe about onward, or nil
	kappa   float64        // of the narrow lobe
	peak    float64        // its density ahead, per sr
	shares  [3]float64     // chance of picking reflect, through, ahead; they sum to 1, or are 0 where nothing is handed on
	whole   float64        // mean of what is handed on
}

// skinsOf returns the front and the back of a surface.
func skinsOf(o *scene.Optics) (sides [2]skin) {
	for i, reflect := range [2]*spectrum.Band{&o.ReflectFront, &o.ReflectBack} {
		s := skin{reflect: reflect, through: &o.Transmit}
		parts := [3]float64{mean(s.reflect), mean(s.through)}
		if o.Spread > 0 {
			s.ahead = &o.Straight
			s.kappa = math.Ln2 / (1 - math.Cos(o.Spread/2))
			s.peak = s.kappa / (2 * math.Pi * -math.Expm1(-2*s.kappa))
			parts[2] = mean(s.ahead)
		}
		s.whole = parts[0] + parts[1] + parts[2]
		for k := range parts {
			if s.whole > 0 {
				s.shares[k] = parts[k] / s.whole
			}
		}
		sides[i] = s
	}
	return sides
}

// receptorVertex is the start of a path.
func receptorVertex(r *scene.Receiver) vertex {
	v := vertex{place: r.Position, normal: r.Normal, kind: flatVertex}
	if r.Kind == scene.Dome {
		v.kind = domeVertex
	}
	return v
}

// surfaceAt makes the vertex of a surface; ok is false where it hands nothing on.
func surfaceAt(sides *[2]skin, place, direction geometry.Vector, h *hit) (v vertex, ok bool) {
	v = vertex{place: place, normal: h.normal, onward: direction, skin: &sides[0], beyond: &sides[1]}
	if !h.front {
		v.normal, v.skin, v.beyond = h.normal.Neg(), &sides[1], &sides[0]
	}
	v.cosIn = math.Abs(direction.Dot(h.normal))
	return v, v.skin.whole > 0
}

// reverse is the density with which a path that comes from a direction would pick the way this one came.
func (v *vertex) reverse(direction geometry.Vector) float64 {
	if v.kind != surfaceVertex {
		return 0
	}
	side, which := v.beyond, 1
	if direction.Dot(v.normal) > 0 {
		side, which = v.skin, 0
	}
	pdf := side.shares[which] * v.cosIn / math.Pi
	if side.ahead != nil {
		pdf += side.shares[2] * v.lobe(direction)
	}
	return pdf
}

// value returns the share by band of radiance from a direction that the vertex hands on, cosine included, and the
// density with which pick gives that direction, per sr; haze is never asked to pick.
func (v *vertex) value(direction geometry.Vector) (f spectrum.Band, pdf float64) {
	cos := direction.Dot(v.normal)
	switch v.kind {
	case flatVertex:
		cos = math.Max(0, cos)
		return flat(cos), cos / math.Pi
	case domeVertex:
		w := math.Max(0, (1+cos)/2)
		return flat(w), w / (2 * math.Pi)
	case hazeVertex:
		return flat(HenyeyGreenstein(direction.Dot(v.onward), v.haze.Forward)), 0
	}
	s := v.skin
	if s.ahead != nil {
		return v.spread(direction, cos)
	}
	if cos > 0 {
		k := cos / math.Pi
		for b := range f {
			f[b] = s.reflect[b] * k
		}
		return f, s.shares[0] * k
	}
	k := -cos / math.Pi
	for b := range f {
		f[b] = s.through[b] * k
	}
	return f, s.shares[1] * k
}

// spread is value of a surface with a narrow lobe.
func (v *vertex) spread(direction geometry.Vector, cos float64) (f spectrum.Band, pdf float64) {
	s := v.skin
	lobe := v.lobe(direction)
	pdf = s.shares[2] * lobe // also where a wide lobe reaches back through the surface, and nothing comes of it
	if cos > 0 {
		for b := range f {
			f[b] = s.reflect[b] * cos / math.Pi
		}
		return f, pdf + s.shares[0]*cos/math.Pi
	}
	// The larger of the two cosines keeps the lobe reciprocal and never hands on more than it got.
	k := lobe * -cos / math.Max(-cos, v.cosIn)
	for b := range f {
		f[b] = s.through[b]*-cos/math.Pi + s.ahead[b]*k
	}
	return f, pdf + s.shares[1]*-cos/math.Pi
}

// lobe is the von Mises-Fisher density about onward [Fisher1953].
func (v *vertex) lobe(direction geometry.Vector) float64 {
	return v.skin.peak * math.Exp(v.skin.kappa*(direction.Dot(v.onward)-1))
}

// pick returns a direction with the density that value states.
func (v *vertex) pick(points *numeric.Points) geometry.Vector {
	a, b := points.Next()
	switch v.kind {
	case flatVertex:
		return cosineAbout(v.normal, a, b)
	case domeVertex: // the density of c = cos is (1+c)/2: c = 2√a − 1
		return about(v.normal, 2*math.Sqrt(a)-1, 2*math.Pi*b)
	}
	s := v.skin
	which, _ := points.Next()
	switch {
	case which < s.shares[0]:
		return cosineAbout(v.normal, a, b)
	case which < s.shares[0]+s.shares[1]:
		return cosineAbout(v.normal.Neg(), a, b)
	}
	cos := 1 + math.Log(a+(1-a)*math.Exp(-2*s.kappa))/s.kappa
	return about(v.onward, math.Max(-1, cos), 2*math.Pi*b)
}

// cosineAbout picks a direction by the cosine about a normal.
func cosineAbout(normal geometry.Vector, u, v float64) geometry.Vector {
	x, y := concentric(u, v)
	return geometry.About(normal).Out(geometry.Vector{X: x, Y: y, Z: math.Sqrt(math.Max(0, 1-x*x-y*y))})
}

func flat(x float64) (f spectrum.Band) {
	for b := range f {
		f[b] = x
	}
	return f
}

func mean(f *spectrum.Band) (m float64) {
	for _, x := range f {
		m += x
	}
	return m / spectrum.Bands
}

func largest(f *spectrum.Band) (m float64) {
	for _, x := range f {
		if x > m {
			m = x
		}
	}
	return m
}
