package transport

import (
	"math"
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// add books a contribution: beta·f·share·k, from an emitter.
func (t *tracer) add(c *cargo, emitter int, f *spectrum.Band, a *passage, k float64) {
	opening, cloths := c.opening, c.cloths
	if a != nil {
		if a.opening >= 0 {
			opening = a.opening
		}
		cloths |= a.cloths
	}
	to := t.tally.at(t.scene.Column(emitter, opening))
	var value spectrum.Band
	for b := range value {
		value[b] = c.beta[b] * k
		if f != nil {
			value[b] *= f[b]
		}
		if a != nil && !a.clear {
			value[b] *= a.share[b]
		}
		to.response[b] += value[b]
	}
	if c.turns == 0 && (a == nil || !a.turned) {
		for b := range value {
			to.direct[b] += value[b]
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

// addFrom is add for a lamp, or for every sky that a skylight shows in a direction.
func (t *tracer) addFrom(c *cargo, l *lamp, sky geometry.Vector, f *spectrum.Band, a *passage, k float64) {
	if l.dome == nil {
		t.add(c, l.number, f, a, k)
		return
	}
	for _, part := range t.toward(l.dome, sky) {
		t.add(c, part.emitter, f, a, k*part.luminance)
	}
}

// look weighs one sample toward a lamp and books it if nothing stands between. A skylight's counts only where the outermost
// opening on the way is its own.
func (t *tracer) look(s *stop, l *lamp, to *sample) {
	f, pdf := s.value(to.direction)
	if f == (spectrum.Band{}) {
		return
	}
	a, ok := t.sight(&s.vertex, to)
	if !ok || (l.opening >= 0 && a.opening != l.opening) {
		return
	}
	k := to.radiance / to.pdf / (1 + square(pdf/to.pdf) + t.joined(&s.vertex, to))
	t.addFrom(&s.cargo, l, to.direction, &f, &a, k)
}

// lookAtSun is look for a sun.
func (t *tracer) lookAtSun(s *stop, emitter int, direction geometry.Vector) {
	f, pdf := s.value(direction)
	if f == (spectrum.Band{}) {
		return
	}
	to := sample{direction: direction, distance: math.Inf(1), pdf: sunPDF, cos: 1}
	a, ok := t.sight(&s.vertex, &to)
	if !ok {
		return
	}
	if l := t.sunlightBy(emitter, a.opening); l != nil {
		to.cos, to.emission = -direction.Dot(l.Basis.Z), sunPDF/l.area
	}
	t.add(&s.cargo, emitter, &f, &a, 1/(1+square(pdf/sunPDF)+t.joined(&s.vertex, &to)))
}

// sight looks from a vertex along a sample toward where its light leaves.
func (t *tracer) sight(v *vertex, to *sample) (passage, bool) {
	from, near := t.start(v, to.direction)
	direction, distance := to.direction, to.distance
	if !math.IsInf(distance, 1) && v.kind == surfaceVertex {
		// From off the surface to the same place of the lamp, or what the lamp is flush with would stop a slanting ray.
		way := v.place.AddMul(distance, direction).Sub(from)
		distance = way.Length()
		direction = way.Mul(1 / distance)
	}
	return t.shadow(from, direction, near, distance, &t.scratch)
}

// joined is the chance, relative to a sample toward a lamp, that a light path joined at the vertex or before would have
// found the same light ([Georgiev2012] eq. 45).
func (t *tracer) joined(v *vertex, s *sample) float64 {
	if t.cache == nil || v.kind != surfaceVertex || s.emission == 0 {
		return 0
	}
	return square(s.emission*s.direction.Dot(v.normal)/(s.pdf*s.cos)) * (v.here + v.before*square(v.reverse(s.direction)))
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

// passLamps lets a path fly by the lamps between two distances: a receptor's flight is kept for gather, an eye's ends at the
// nearest lamp, which it sees alone and not through. A lamp flush with the surface where the flight ends is seen, as shadow
// sees it.
func (t *tracer) passLamps(p *path, near, far float64) (ended bool) {
	if !t.close && !p.seen {
		return false
	}
	f := flight{p.cargo, p.origin, p.direction, near, far + t.offset, p.here, p.before, p.seen}
	t.visits.flights = append(t.visits.flights, f)
	if !p.seen {
		return false
	}
	first := -1
	var nearest sample
	for i := range t.lamps[:t.near] {
		s, ok := t.lamps[i].meet(p.origin, p.direction)
		if ok && s.distance > f.near && s.distance <= f.far && (first < 0 || s.distance < nearest.distance) {
			first, nearest = i, s
		}
	}
	t.disturbed = t.disturbed || t.disturbs(&f, first)
	if first >= 0 && t.close {
		t.meetLamp(&f, &t.lamps[first], &nearest)
	}
	return first >= 0
}

// disturbs reports whether a lamp that is late ends an eye's flight, or did where it stood before.
func (t *tracer) disturbs(f *flight, first int) bool {
	if t.late == nil {
		return false
	}
	if first >= 0 && t.late[t.lamps[first].number] {
		return true
	}
	for i := range t.before {
		if s, ok := t.before[i].meet(f.origin, f.direction); ok && s.distance > f.near && s.distance <= f.far {
			return true
		}
	}
	return false
}

// alone is the weight of what a path met by its own way, beside a sample toward it from the last turn and light paths.
func (t *tracer) alone(here, before float64, s *sample) float64 {
	other := here * square(s.pdf)
	if t.cache != nil {
		other += before * square(s.emission/s.cos)
	}
	return 1 / (1 + other)
}

// gatherOutside books what the path sees where it leaves the scene, as far as the pass is for it.
func (t *tracer) gatherOutside(p *path) {
	if t.far {
		t.gatherFar(p)
	}
	if t.close && p.seen {
		t.gatherSeen(p)
	}
}

// gatherSeen books how bright untraced ambient looks where an eye looks out at it.
func (t *tracer) gatherSeen(p *path) {
	fade := t.fade(p.origin, p.direction, p.near, math.Inf(1))
	for i := range t.scene.Emitters {
		e := &t.scene.Emitters[i]
		if e.Kind == scene.Everywhere && e.Seen > 0 && (e.Through == nil || slices.Contains(e.Through, p.opening)) {
			t.add(&p.cargo, i, nil, nil, fade*e.Seen)
		}
	}
}

// gatherEverywhere books untraced ambient: each emitter of that kind gives 1 lx, of which f is handed on.
func (t *tracer) gatherEverywhere(c *cargo, f *spectrum.Band, k float64) {
	for e := range t.scene.Emitters {
		if t.scene.Emitters[e].Kind == scene.Everywhere {
			open := *c
			open.opening = -1
			t.add(&open, e, f, nil, k)
		}
	}
}
