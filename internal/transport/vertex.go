package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// vertex is a place where a path may turn: a receptor or a surface. It knows how much of the light from a direction it
// hands on (value, cosine included) and how it would pick a direction itself (pick, with its density in value).
type vertex struct {
	place   geometry.Vector
	normal  geometry.Vector // of the side the path came to; a receptor's own
	kind    vertexKind
	reflect *spectrum.Band // matt, back to the side the path came to
	through *spectrum.Band // matt, to the other side
	ahead   *spectrum.Band // within a narrow lobe about onward, or nil
	onward  geometry.Vector
	kappa   float64    // of the narrow lobe
	shares  [3]float64 // chance of picking reflect, through, ahead; they sum to 1
	beyond  [3]float64 // the same for a path that comes to the other side
	cosIn   float64    // of the way the path came

	// What multiple importance sampling needs of the path so far ([Georgiev2012] eqs. 31 to 36, without merging): the
	// chances, relative to this path's, that light paths joined here and further back would have found it.
	here, before float64
}

type vertexKind int

const (
	surfaceVertex vertexKind = iota
	flatVertex
	domeVertex
)

// receptorVertex is the start of a path.
func receptorVertex(r *scene.Receiver) vertex {
	v := vertex{place: r.Position, normal: r.Normal, kind: flatVertex}
	if r.Kind == scene.Dome {
		v.kind = domeVertex
	}
	return v
}

// surface makes the vertex of a matt or narrowly spreading surface; ok is false when it does neither.
func surfaceAt(o *scene.Optics, place, direction geometry.Vector, h *hit) (v vertex, ok bool) {
	v = vertex{place: place, normal: h.normal, reflect: &o.ReflectFront, through: &o.Transmit}
	if !h.front {
		v.normal, v.reflect = h.normal.Neg(), &o.ReflectBack
	}
	v.cosIn = math.Abs(direction.Dot(h.normal))
	ahead := 0.0
	if o.Spread > 0 {
		v.ahead, v.onward = &o.Straight, direction
		v.kappa = math.Ln2 / (1 - math.Cos(o.Spread/2))
		ahead = mean(v.ahead)
	}
	front, back := chances(mean(&o.ReflectFront), mean(v.through), ahead), chances(mean(&o.ReflectBack), mean(v.through), ahead)
	v.shares, v.beyond = front, back
	if !h.front {
		v.shares, v.beyond = back, front
	}
	return v, v.shares != [3]float64{}
}

// chances are shares made to sum to 1; all zero where there is nothing.
func chances(reflect, through, ahead float64) [3]float64 {
	sum := reflect + through + ahead
	if sum == 0 {
		return [3]float64{}
	}
	return [3]float64{reflect / sum, through / sum, ahead / sum}
}

// reverse is the density with which a path that comes from a direction would pick the way this one came.
func (v *vertex) reverse(direction geometry.Vector) float64 {
	if v.kind != surfaceVertex {
		return 0
	}
	pick, which := v.beyond, 1
	if direction.Dot(v.normal) > 0 {
		pick, which = v.shares, 0
	}
	pdf := pick[which] * v.cosIn / math.Pi
	if v.ahead != nil {
		pdf += pick[2] * v.lobe(direction)
	}
	return pdf
}

// value returns the share by band of radiance from a direction that the vertex hands on, cosine included, and the
// density with which pick gives that direction, per sr.
func (v *vertex) value(direction geometry.Vector) (f spectrum.Band, pdf float64) {
	cos := direction.Dot(v.normal)
	switch v.kind {
	case flatVertex:
		cos = math.Max(0, cos)
		return flat(cos), cos / math.Pi
	case domeVertex:
		w := math.Max(0, (1+cos)/2)
		return flat(w), w / (2 * math.Pi)
	}
	var lobe float64
	if v.ahead != nil {
		lobe = v.lobe(direction)
		pdf = v.shares[2] * lobe // also where a wide lobe reaches back through the surface, and nothing comes of it
	}
	if cos > 0 {
		for b := range f {
			f[b] = v.reflect[b] * cos / math.Pi
		}
		return f, pdf + v.shares[0]*cos/math.Pi
	}
	for b := range f {
		f[b] = v.through[b] * -cos / math.Pi
	}
	if v.ahead != nil {
		// The larger of the two cosines keeps the lobe reciprocal and never hands on more than it got.
		k := lobe * -cos / math.Max(-cos, -v.onward.Dot(v.normal))
		for b := range f {
			f[b] += v.ahead[b] * k
		}
	}
	pdf += v.shares[1] * -cos / math.Pi
	return f, pdf
}

// lobe is the von Mises-Fisher density about onward [Fisher1953].
func (v *vertex) lobe(direction geometry.Vector) float64 {
	return v.kappa / (2 * math.Pi * -math.Expm1(-2*v.kappa)) * math.Exp(v.kappa*(direction.Dot(v.onward)-1))
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
	which, _ := points.Next()
	switch {
	case which < v.shares[0]:
		return cosineAbout(v.normal, a, b)
	case which < v.shares[0]+v.shares[1]:
		return cosineAbout(v.normal.Neg(), a, b)
	}
	cos := 1 + math.Log(a+(1-a)*math.Exp(-2*v.kappa))/v.kappa
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
		m = math.Max(m, x)
	}
	return m
}
