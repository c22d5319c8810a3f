package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/spectrum"
)

// lightVertex is a place that a lamp's light reached, kept so that paths from receivers can join it.
type lightVertex struct {
	vertex
	flux    spectrum.Band // lm that came here, for one light path
	opening int           // the first the light passed, -1 for none
	cloths  uint64
	sky     geometry.Vector // of a skylight: where in the sky the light came from
}

// cache is what a round's light paths of one batch left: the vertices of each lamp.
type cache struct {
	vertices [][]lightVertex // by lamp
	paths    int             // light paths of each lamp
}

// receptorPicks is how many light vertices of each lamp are joined to a receptor itself: these joins are the surest way
// by which light over cloths and walls is found, and cost but a shadow ray.
const receptorPicks = 4

// shine sends light path i of a lamp and keeps every place where it can be joined. The walk is the receivers' own, the
// other way round: every behaviour of a surface is the same in both directions.
func (t *tracer) shine(lampNumber int, points numeric.Points) {
	l := &t.lamps[lampNumber]
	u, v := points.Next()
	a, b := points.Next()
	place, direction, flux, emission, cos, ok := l.emit(u, v, a, b)
	if !ok {
		return
	}
	beta := flat(flux)
	near := t.offset  // what the lamp is flush with does not stop it
	if l.Offset > 0 { // it leaves at the front
		near += l.Centre.Sub(place).Dot(l.Basis.Z) / direction.Dot(l.Basis.Z)
	}
	if l.opening >= 0 {
		from, ok := t.shadow(place, direction.Neg(), t.offset, math.Inf(1), &t.scratch)
		if !ok || from.opening >= 0 { // something stands outside, or another opening does and this is its light
			return
		}
		if !from.clear {
			beta = beta.Mul(from.share)
		}
		place, near = place.AddMul(-2*t.offset, direction), 0 // it passes its own opening
	}
	p := path{cargo: cargo{beta: beta, opening: -1}, origin: place, direction: direction, scale: flux, near: near,
		light: &t.cache.vertices[lampNumber], lamp: l, emission: emission, sky: direction.Neg(), here: 1, before: square(cos / emission)}
	for t.fly(&p, &points) && p.survives(&points) {
	}
}

// arrive gives a vertex what the path has learnt so far, measured at the vertex.
func (p *path) arrive(v *vertex, distance float64) {
	if p.lamp != nil && p.turns == 0 {
		// The lamp itself: how a receiver's sample toward it would have picked this place of it.
		if s, ok := p.lamp.meet(v.place, p.direction.Neg()); ok {
			v.here = square(s.pdf * s.cos / (p.emission * v.cosIn))
		}
		v.before = p.before / square(v.cosIn)
		return
	}
	v.here = p.here * square(distance*distance/v.cosIn)
	v.before = p.before / square(v.cosIn)
}

// keep stores a place where the light path may be joined.
func (p *path) keep(v *vertex) {
	*p.light = append(*p.light, lightVertex{*v, p.beta, p.opening, p.cloths, p.sky})
}

// join connects a stop of a receiver's path with light vertices of a lamp, picked evenly.
func (t *tracer) join(s *stop, l int, lots *numeric.Points) {
	all := t.cache.vertices[l]
	first, _ := lots.Next()
	if len(all) == 0 {
		return
	}
	each := float64(len(all)) / float64(t.cache.paths*s.picks)
	for k := range s.picks {
		pick := (first + float64(k)) / float64(s.picks)
		t.bridge(s, &all[min(int(pick*float64(len(all))), len(all)-1)], &t.lamps[l], each)
	}
}

// bridge books what one light vertex sends to a vertex, if nothing stands between.
func (t *tracer) bridge(s *stop, y *lightVertex, l *lamp, k float64) {
	v := &s.vertex
	d := y.place.Sub(v.place)
	apart := d.Dot(d) // m²
	if apart < smallest {
		return
	}
	r := math.Sqrt(apart)
	way := d.Mul(1 / r)
	back := way.Neg()
	f, pdf := v.value(way)
	g, lightPDF := y.value(back)
	value := f.Mul(g)
	if value == (spectrum.Band{}) {
		return
	}
	// Densities of the two ends picking each other, per area ([Georgiev2012] eqs. 35, 36).
	cosY, cosV := math.Abs(back.Dot(y.normal)), 1.0
	if v.kind == surfaceVertex {
		cosV = math.Abs(way.Dot(v.normal))
	}
	light := square(pdf*cosY/apart) * (y.here + y.before*square(y.reverse(back)))
	receiver := square(lightPDF*cosV/apart) * (v.here + v.before*square(v.reverse(way)))
	weight := 1 / (1 + light + receiver)

	from, near := t.start(v, way)
	to, _ := t.start(&y.vertex, back)
	d = to.Sub(from)
	length := d.Length()
	a, ok := t.shadow(from, d.Mul(1/length), near, length+t.offset, &t.scratch) // both ends are off their surfaces
	if !ok {
		return
	}
	a.turned = true
	a.cloths |= y.cloths
	if y.opening >= 0 {
		a.opening = y.opening
	}
	value = value.Mul(y.flux)
	t.addFrom(&s.cargo, l, y.sky, &value, &a, k*weight/apart)
}
