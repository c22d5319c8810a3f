package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// sample is one direction from a place toward an emitter.
type sample struct {
	direction geometry.Vector
	distance  float64 // to where the light leaves: nothing beyond shadows it
	radiance  float64 // cd/m² along the direction
	pdf       float64 // per sr
	cos       float64 // at the opening, of the direction with its normal
	emission  float64 // density with which emit sends this ray, per m² and sr
}

// lamp is an emitter with an opening, prepared for sampling.
type lamp struct {
	*scene.Emitter
	number   int             // of the emitter; -1 for a skylight
	seed     uint32          // of its lots
	apparent geometry.Vector // centre of the apparent opening, Offset behind the front
	area     float64         // m² of the apparent opening (Globe, Tube: of the whole surface)
	dome     *dome           // what a skylight shows; nil for a lamp
	opening  int             // of a skylight or sunlight; -1 for a lamp
	sun      bool            // it is a sun's light by an opening: sent as light paths alone, since samples look straight at the sun
}

// density is that with which sample picks a direction from a place; 0 where it never does.
func (l *lamp) density(p, direction geometry.Vector) float64 {
	s, _ := l.meet(p, direction)
	return s.pdf
}

func newLamp(number int, e *scene.Emitter) lamp {
	sized := *e // one of no size is taken as one too small to matter
	sized.Form.Radius = math.Max(smallest, e.Form.Radius)
	sized.Form.Width, sized.Form.Height = math.Max(smallest, e.Form.Width), math.Max(smallest, e.Form.Height)
	e = &sized
	l := lamp{Emitter: e, number: number, seed: seedOf(e.Name), opening: -1, apparent: e.Centre.AddMul(-e.Offset, e.Basis.Z)}
	f := e.Form
	switch f.Shape {
	case scene.Disc:
		l.area = math.Pi * f.Radius * f.Radius
	case scene.Panel:
		l.area = f.Width * f.Height
	case scene.Globe:
		l.area = 4 * math.Pi * f.Radius * f.Radius
	case scene.Tube:
		l.area = 2 * math.Pi * f.Radius * f.Height
	}
	return l
}

// smallest keeps a receiver inside an emitter, and an emitter of no size, from dividing by nothing; m.
const smallest = 1e-6

// sample picks a place of the lamp as seen from p, by two numbers in [0, 1).
func (l *lamp) sample(p geometry.Vector, u, v float64) (s sample, ok bool) {
	if l.sun {
		return s, false
	}
	switch l.Form.Shape {
	case scene.Globe:
		return l.sampleGlobe(p, u, v)
	case scene.Tube:
		q, n := l.mantle(u, v)
		return l.toward(p, q, n)
	}
	return l.toward(p, l.face(u, v), l.Basis.Z)
}

// toward finishes a sample at place q of the lamp whose surface faces n there.
func (l *lamp) toward(p, q, n geometry.Vector) (s sample, ok bool) {
	d := q.Sub(p)
	r := d.Length()
	if r < smallest {
		return s, false
	}
	s.direction = d.Mul(1 / r)
	cos := -s.direction.Dot(n)
	if cos <= 0 {
		return s, false
	}
	s.distance, ok = l.toFront(p, s.direction, r)
	if !ok {
		return s, false
	}
	if l.opening >= 0 {
		s.distance = math.Inf(1)
	}
	l.finish(&s, r, cos)
	return s, s.radiance > 0
}

// finish fills in what follows from a ray of length r that meets the opening under a cosine.
func (l *lamp) finish(s *sample, r, cos float64) {
	s.cos = cos
	if l.sun {
		s.radiance, s.pdf, s.emission = sunPDF, sunPDF, sunPDF/l.area
		return
	}
	s.radiance = l.radianceAt(s.direction, cos)
	s.pdf = r * r / (l.area * cos)
	s.emission = l.sends(s.direction.Neg(), cos) / l.area
}

// sends is the density of emit's direction from one place of the opening, per sr.
func (l *lamp) sends(direction geometry.Vector, cos float64) float64 {
	if l.Beam == nil {
		return cos / math.Pi
	}
	return l.Beam.PDF(l.Basis.In(direction))
}

// emit sends a ray from the lamp: from where, which way, and what it carries, in lm, were it the only one.
func (l *lamp) emit(u, v, a, b float64) (place, direction geometry.Vector, flux, emission, cos float64, ok bool) {
	var n geometry.Vector
	switch l.Form.Shape {
	case scene.Globe:
		z := 1 - 2*u
		sin, c := math.Sincos(2 * math.Pi * v)
		r := math.Sqrt(math.Max(0, 1-z*z))
		n = geometry.Vector{X: r * c, Y: r * sin, Z: z}
		place = l.Centre.AddMul(l.Form.Radius, n)
	case scene.Tube:
		place, n = l.mantle(u, v)
	default:
		place, n = l.face(u, v), l.Basis.Z
	}
	if l.sun {
		direction = sunDirection(l.Toward, a, b).Neg()
		cos = direction.Dot(n)
		return place, direction, cos * l.area, sunPDF / l.area, cos, cos > 0
	}
	if l.Beam == nil {
		direction = cosineAbout(n, a, b)
		cos = direction.Dot(n)
		flux = l.radianceAt(direction.Neg(), cos) * math.Pi * l.area
		return place, direction, flux, cos / (math.Pi * l.area), cos, cos > 0 && flux > 0
	}
	local, pdf := l.Beam.Sample(a, b)
	direction = l.Basis.Out(local)
	if l.Form.Shape == scene.Globe {
		return l.emitAround(direction, local, pdf, u, v)
	}
	cos = direction.Dot(n)
	if cos <= 0 || pdf <= 0 {
		return place, direction, 0, 0, 0, false
	}
	return place, direction, l.Beam.At(local) / pdf, pdf / l.area, cos, true
}

// emitAround sends a ray of a globe with a beam from an even place of the disc as which it is seen that way.
func (l *lamp) emitAround(direction, local geometry.Vector, pdf, u, v float64) (place, way geometry.Vector, flux, emission, cos float64, ok bool) {
	x, y := concentric(u, v)
	cos = math.Sqrt(math.Max(0, 1-x*x-y*y))
	r := l.Form.Radius
	place = l.Centre.Add(geometry.About(direction).Out(geometry.Vector{X: r * x, Y: r * y, Z: r * cos}))
	if pdf <= 0 || cos <= 0 {
		return place, direction, 0, 0, 0, false
	}
	return place, direction, l.Beam.At(local) / pdf, pdf * cos / (math.Pi * r * r), cos, true
}

// face is a place of a flat opening, mantle one of a tube with its normal.
func (l *lamp) face(u, v float64) geometry.Vector {
	x, y := (u-0.5)*l.Form.Width, (v-0.5)*l.Form.Height
	if l.Form.Shape == scene.Disc {
		x, y = concentric(u, v)
		x, y = x*l.Form.Radius, y*l.Form.Radius
	}
	return l.apparent.AddMul(x, l.Basis.X).AddMul(y, l.Basis.Y)
}

func (l *lamp) mantle(u, v float64) (place, normal geometry.Vector) {
	sin, cos := math.Sincos(2 * math.Pi * u)
	normal = l.Basis.Y.Mul(cos).AddMul(sin, l.Basis.Z)
	return l.apparent.AddMul(l.Form.Radius, normal).AddMul((v-0.5)*l.Form.Height, l.Basis.X), normal
}

// toFront shortens a ray of length r to an apparent opening to where it leaves the lamp's front.
func (l *lamp) toFront(p, direction geometry.Vector, r float64) (float64, bool) {
	if l.Offset == 0 {
		return r, true
	}
	t := l.Centre.Sub(p).Dot(l.Basis.Z) / direction.Dot(l.Basis.Z)
	return t, t > 0
}

// radianceAt returns the luminance seen along a direction that meets the opening under the given cosine: every part of
// the opening sends the same far field, so that the whole has it too.
func (l *lamp) radianceAt(direction geometry.Vector, cos float64) float64 {
	switch {
	case l.dome != nil && direction.Z <= 0:
		return 0
	case l.Beam == nil:
		return l.Luminance
	}
	return l.Beam.At(l.Basis.In(direction.Neg())) / (l.area * cos)
}

// sampleGlobe picks a direction inside the cone under which a sphere is seen.
func (l *lamp) sampleGlobe(p geometry.Vector, u, v float64) (s sample, ok bool) {
	d := l.Centre.Sub(p)
	r := d.Length()
	if r <= l.Form.Radius {
		return s, false
	}
	sin2 := l.Form.Radius * l.Form.Radius / (r * r)
	gap := sin2 / (1 + math.Sqrt(1-sin2)) // 1 − cos of the cone, exact for a far globe
	cos := 1 - u*gap
	s.direction = about(d.Mul(1/r), cos, 2*math.Pi*v)
	s.pdf = 1 / (2 * math.Pi * gap)
	l.touch(&s, d)
	return s, true
}

// touch finds where a ray toward a globe, d away, meets it, what it brings, and the density with which emit sends it back.
// A globe with a beam is seen as a disc from everywhere, as bright as its far field that way.
func (l *lamp) touch(s *sample, d geometry.Vector) {
	along, r := d.Dot(s.direction), l.Form.Radius
	depth := math.Sqrt(math.Max(0, along*along-d.Dot(d)+r*r))
	s.distance = along - depth
	s.cos = depth / r
	s.radiance, s.emission = l.Luminance, s.cos/(math.Pi*l.area)
	if l.Beam != nil {
		back, disc := l.Basis.In(s.direction.Neg()), math.Pi*r*r
		s.radiance, s.emission = l.Beam.At(back)/disc, l.Beam.PDF(back)*s.cos/disc
	}
}

// meet returns what a ray that was sampled otherwise sees of the lamp, and the density sample would have had for it.
// s.distance is where the light leaves the front; the pdf belongs to the ray's origin.
func (l *lamp) meet(p, direction geometry.Vector) (s sample, ok bool) {
	s.direction = direction
	switch l.Form.Shape {
	case scene.Globe:
		return l.meetGlobe(p, direction)
	case scene.Tube:
		return l.meetTube(p, direction)
	}
	cos := -direction.Dot(l.Basis.Z)
	if cos <= 0 {
		return s, false
	}
	r := l.apparent.Sub(p).Dot(l.Basis.Z) / -cos
	if r < smallest {
		return s, false
	}
	at := p.AddMul(r, direction).Sub(l.apparent)
	x, y := at.Dot(l.Basis.X), at.Dot(l.Basis.Y)
	if l.Form.Shape == scene.Disc {
		if x*x+y*y > l.Form.Radius*l.Form.Radius {
			return s, false
		}
	} else if math.Abs(x) > l.Form.Width/2 || math.Abs(y) > l.Form.Height/2 {
		return s, false
	}
	if s.distance, ok = l.toFront(p, direction, r); !ok {
		return s, false
	}
	l.finish(&s, r, cos)
	return s, s.radiance > 0
}

func (l *lamp) meetGlobe(p, direction geometry.Vector) (s sample, ok bool) {
	d := l.Centre.Sub(p)
	r2, along := d.Dot(d), d.Dot(direction)
	rr := l.Form.Radius * l.Form.Radius
	off := r2 - along*along
	if along <= 0 || off > rr || r2 <= rr {
		return s, false
	}
	sin2 := rr / r2
	gap := sin2 / (1 + math.Sqrt(1-sin2))
	s = sample{direction: direction, pdf: 1 / (2 * math.Pi * gap)}
	l.touch(&s, d)
	return s, s.radiance > 0
}

func (l *lamp) meetTube(p, direction geometry.Vector) (s sample, ok bool) {
	local, o := l.Basis.In(direction), l.Basis.In(p.Sub(l.Centre))
	a := local.Y*local.Y + local.Z*local.Z
	b := o.Y*local.Y + o.Z*local.Z
	c := o.Y*o.Y + o.Z*o.Z - l.Form.Radius*l.Form.Radius
	root := b*b - a*c
	if a == 0 || root <= 0 || c <= 0 {
		return s, false
	}
	t := (-b - math.Sqrt(root)) / a
	if t < smallest || math.Abs(o.X+t*local.X) > l.Form.Height/2 {
		return s, false
	}
	s = sample{direction: direction, distance: t}
	l.finish(&s, t, math.Sqrt(root)/l.Form.Radius)
	return s, true
}

// concentric maps the unit square to the unit disc, keeping areas [ShirleyChiu1997].
func concentric(u, v float64) (x, y float64) {
	a, b := 2*u-1, 2*v-1
	if a == 0 && b == 0 {
		return 0, 0
	}
	r, phi := a, math.Pi/4*(b/a)
	if math.Abs(b) > math.Abs(a) {
		r, phi = b, math.Pi/2-math.Pi/4*(a/b)
	}
	sin, cos := math.Sincos(phi)
	return r * cos, r * sin
}

// about returns the direction at the given cosine and azimuth (radians) about a unit axis.
func about(axis geometry.Vector, cos, azimuth float64) geometry.Vector {
	b := geometry.About(axis)
	sin := math.Sqrt(math.Max(0, 1-cos*cos))
	s, c := math.Sincos(azimuth)
	return b.Out(geometry.Vector{X: sin * c, Y: sin * s, Z: cos})
}

// sunGap is 1 − cos of the sun's angular radius.
var sunGap = func() float64 {
	s := math.Sin(float64(scene.SunRadius) * math.Pi / 360)
	return 2 * s * s
}()

// sunPDF is the density of sunDirection, and the radiance of a sun that gives 1 lx square-on.
var sunPDF = 1 / (2 * math.Pi * sunGap)

// sunDirection picks a direction inside the sun's disc.
func sunDirection(toward geometry.Vector, u, v float64) geometry.Vector {
	return about(toward, 1-u*sunGap, 2*math.Pi*v)
}
