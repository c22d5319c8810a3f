package transport

import (
	"math"
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// add books a contribution: beta·f·share·k, from an emitter.
func (t *tracer) add(p *path, emitter int, f *spectrum.Band, a *passage, k float64) {
	opening, cloths := p.opening, p.cloths
	if a != nil {
		if a.opening >= 0 {
			opening = a.opening
		}
		cloths |= a.cloths
	}
	if !t.comesBy(emitter, opening) {
		return
	}
	column := t.scene.Column(emitter, opening)
	r := &t.tally.response[column]
	var value spectrum.Band
	for b := range value {
		value[b] = p.beta[b] * k
		if f != nil {
			value[b] *= f[b]
		}
		if a != nil && !a.clear {
			value[b] *= a.share[b]
		}
		r[b] += value[b]
	}
	if p.turns == 0 && (a == nil || !a.turned) {
		d := &t.tally.direct[column]
		for b := range d {
			d[b] += value[b]
		}
	}
	if cloths != 0 {
		m := mean(&value)
		for i := range t.scene.Cloths {
			if cloths>>(uint(i)&63)&1 != 0 {
				t.tally.via[emitter*len(t.scene.Cloths)+i] += m
			}
		}
	}
}

// comesBy reports whether an emitter's light may come in by an opening.
func (t *tracer) comesBy(emitter, opening int) bool {
	e := &t.scene.Emitters[emitter]
	if e.Kind != scene.Sky || e.Through == nil {
		return true
	}
	return slices.Contains(e.Through, opening)
}

// balance is the weight of a strategy of density a beside one of density b, balance heuristic ([Veach1997] eq. 9.8).
func balance(a, b float64) float64 { return a / (a + b) }

// connect adds, from a turn of the path, a sample toward every lamp, every sun and the openings to the sky.
func (t *tracer) connect(p *path, v *vertex, points *numeric.Points) {
	for i := range t.lamps {
		a, b := points.Next()
		if s, ok := t.lamps[i].sample(v.place, a, b); ok {
			t.look(p, v, t.lampID[i], &s)
		}
	}
	for _, e := range t.suns {
		a, b := points.Next()
		s := sample{direction: sunDirection(t.scene.Emitters[e].Toward, a, b), distance: math.Inf(1), radiance: sunPDF, pdf: sunPDF}
		t.look(p, v, e, &s)
	}
	if len(t.skies) > 0 && len(t.scene.Openings) > 0 {
		t.connectSky(p, v, points)
	}
}

// look weighs one sample toward an emitter and books it if nothing stands between.
func (t *tracer) look(p *path, v *vertex, emitter int, s *sample) {
	f, pdf := v.value(s.direction)
	if f == (spectrum.Band{}) {
		return
	}
	from, near := t.start(v, s.direction)
	direction, distance := s.direction, s.distance
	if !math.IsInf(distance, 1) {
		// From off the surface to the same place of the lamp, or what the lamp is flush with would stop a slanting ray.
		to := v.place.AddMul(distance, direction).Sub(from)
		distance = to.Length()
		direction = to.Mul(1 / distance)
	}
	a, ok := t.shadow(from, direction, near, distance, &t.scratch)
	if !ok {
		return
	}
	t.add(p, emitter, &f, &a, s.radiance/s.pdf/(1+pdf/s.pdf+t.joined(v, s)))
}

// joined is the chance, relative to a sample toward a lamp, that a light path joined at the vertex or before would have
// found the same light ([Georgiev2012] eq. 45).
func (t *tracer) joined(v *vertex, s *sample) float64 {
	if t.cache == nil || v.kind != surfaceVertex || s.emission == 0 {
		return 0
	}
	return s.emission * math.Abs(s.direction.Dot(v.normal)) / (s.pdf * s.cos) * (v.here + v.before*v.reverse(s.direction))
}

// start returns where a ray from a vertex begins: a surface is stepped off; a receptor is not moved, but may lie on a
// surface, which then must not stop the ray.
func (t *tracer) start(v *vertex, direction geometry.Vector) (from geometry.Vector, near float64) {
	if v.kind != surfaceVertex {
		return v.place, t.offset
	}
	if direction.Dot(v.normal) > 0 {
		return v.place.AddMul(t.offset, v.normal), 0
	}
	return v.place.AddMul(-t.offset, v.normal), 0
}

// connectSky looks through one of the openings, picked evenly, at the sky beyond.
func (t *tracer) connectSky(p *path, v *vertex, points *numeric.Points) {
	which, _ := points.Next()
	a, b := points.Next()
	n := len(t.scene.Openings)
	o := &t.scene.Openings[min(int(which*float64(n)), n-1)]
	d := o.Centre.AddMul(2*a-1, o.U).AddMul(2*b-1, o.V).Sub(v.place)
	if d.Dot(d) < smallest*smallest {
		return
	}
	s := sample{direction: d.Unit()}
	f, pdf := v.value(s.direction)
	if s.direction.Z <= 0 || f == (spectrum.Band{}) {
		return
	}
	from, near := t.start(v, s.direction)
	pass, ok := t.shadow(from, s.direction, near, math.Inf(1), &t.scratch)
	if !ok {
		return
	}
	s.pdf = t.openingPDF(v.place, s.direction)
	for _, e := range t.skies {
		t.add(p, e, &f, &pass, skyRadiance(&t.scene.Emitters[e], s.direction)/s.pdf*balance(s.pdf, pdf))
	}
}

// openingPDF is the density with which connectSky picks a direction from a place.
func (t *tracer) openingPDF(place, direction geometry.Vector) (pdf float64) {
	for i := range t.scene.Openings {
		o := &t.scene.Openings[i]
		n := o.U.Cross(o.V)
		quarter := n.Length()
		cos := direction.Dot(n) / quarter
		if cos == 0 {
			continue
		}
		r := o.Centre.Sub(place).Dot(n) / quarter / cos
		if r <= 0 {
			continue
		}
		at := place.AddMul(r, direction).Sub(o.Centre)
		if math.Abs(at.Dot(o.U)) <= o.U.Dot(o.U) && math.Abs(at.Dot(o.V)) <= o.V.Dot(o.V) {
			pdf += r * r / (4 * quarter * math.Abs(cos))
		}
	}
	return pdf / float64(len(t.scene.Openings))
}

// gatherLamps books the lamps that the path sees between two distances along its flight, and reports whether one of them
// ends an eye's: it sees the nearest alone and not through it. A lamp flush with the surface where the flight ends is
// seen, as shadow sees it.
func (t *tracer) gatherLamps(p *path, near, far float64) (ended bool) {
	first := -1
	var nearest sample
	for i := range t.lamps {
		s, ok := t.lamps[i].meet(p.origin, p.direction)
		switch {
		case !ok || s.distance <= near || s.distance > far+t.offset:
		case !p.seen:
			t.gatherLamp(p, i, &s)
		case first < 0 || s.distance < nearest.distance:
			first, nearest = i, s
		}
	}
	if first >= 0 {
		t.gatherLamp(p, first, &nearest)
	}
	return first >= 0
}

func (t *tracer) gatherLamp(p *path, i int, s *sample) {
	other := p.here * s.pdf // a sample toward the lamp from the last turn
	if t.cache != nil {
		other += p.before * s.emission / s.cos // light paths
	}
	t.add(p, t.lampID[i], nil, nil, s.radiance/(1+other))
}

// gatherFar books what the path sees where it leaves the scene: the sky and the sun.
func (t *tracer) gatherFar(p *path) {
	w := 1.0
	if !p.certain && len(t.skies) > 0 && len(t.scene.Openings) > 0 {
		w = 1 / (1 + p.here*t.openingPDF(p.origin, p.direction))
	}
	for _, e := range t.skies {
		l := skyRadiance(&t.scene.Emitters[e], p.direction)
		if seen := t.scene.Emitters[e].Seen; p.seen && seen > 0 {
			l = seen
		}
		if l > 0 {
			t.add(p, e, nil, nil, l*w)
		}
	}
	if p.seen {
		t.gatherSeen(p)
	}
	for _, e := range t.suns {
		if p.direction.Dot(t.scene.Emitters[e].Toward) >= 1-sunGap {
			w := 1.0
			if !p.certain {
				w = 1 / (1 + p.here*sunPDF)
			}
			t.add(p, e, nil, nil, sunPDF*w)
		}
	}
}

// gatherSeen books how bright untraced ambient looks where an eye looks out at it.
func (t *tracer) gatherSeen(p *path) {
	for i := range t.scene.Emitters {
		e := &t.scene.Emitters[i]
		if e.Kind == scene.Everywhere && e.Seen > 0 && (e.Through == nil || slices.Contains(e.Through, p.opening)) {
			t.add(p, i, nil, nil, e.Seen)
		}
	}
}

// gatherEverywhere books untraced ambient: each emitter of that kind gives 1 lx, of which f is handed on.
func (t *tracer) gatherEverywhere(p *path, f *spectrum.Band, k float64) {
	for e := range t.scene.Emitters {
		if t.scene.Emitters[e].Kind == scene.Everywhere {
			open := *p
			open.opening = -1
			t.add(&open, e, f, nil, k)
		}
	}
}
