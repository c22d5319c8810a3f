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
func (w *world) comesBy(emitter, opening int) bool {
	e := &w.scene.Emitters[emitter]
	if e.Kind != scene.Sky || e.Through == nil {
		return true
	}
	return slices.Contains(e.Through, opening)
}

// connect adds, from a turn of the path, a sample toward every lamp and skylight and every sun that the pass is for.
func (t *tracer) connect(p *path, v *vertex, points *numeric.Points) {
	for i := t.first; i < t.last; i++ {
		a, b := points.Next()
		if s, ok := t.lamps[i].sample(v.place, a, b); ok {
			t.look(p, v, t.lampID[i], t.lamps[i].opening, &s)
		}
	}
	if !t.far {
		return
	}
	for _, e := range t.suns {
		a, b := points.Next()
		s := sample{direction: sunDirection(t.scene.Emitters[e].Toward, a, b), distance: math.Inf(1), radiance: sunPDF, pdf: sunPDF}
		t.look(p, v, e, -1, &s)
	}
}

// look weighs one sample toward an emitter and books it if nothing stands between. A skylight's counts only where the
// outermost opening on the way is its own.
func (t *tracer) look(p *path, v *vertex, emitter, opening int, s *sample) {
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
	if !ok || (opening >= 0 && a.opening != opening) {
		return
	}
	t.add(p, emitter, &f, &a, s.radiance/s.pdf/(1+square(pdf/s.pdf)+t.joined(v, s)))
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

// gatherLamps books the lamps that the path sees between two distances along its flight, and reports whether one of them
// ends an eye's: it sees the nearest alone and not through it. A lamp flush with the surface where the flight ends is
// seen, as shadow sees it.
func (t *tracer) gatherLamps(p *path, near, far float64) (ended bool) {
	if !t.close && !p.seen {
		return false
	}
	first := -1
	var nearest sample
	for i := range t.lamps[:t.near] {
		s, ok := t.lamps[i].meet(p.origin, p.direction)
		switch {
		case !ok || s.distance <= near || s.distance > far+t.offset:
		case !p.seen:
			t.gatherLamp(p, i, &s)
		case first < 0 || s.distance < nearest.distance:
			first, nearest = i, s
		}
	}
	if first >= 0 && t.close {
		t.gatherLamp(p, first, &nearest)
	}
	return first >= 0
}

func (t *tracer) gatherLamp(p *path, i int, s *sample) {
	t.add(p, t.lampID[i], nil, nil, s.radiance*t.alone(p, s))
}

// alone is the weight of what a path met by its own way, beside a sample toward it from the last turn and light paths.
func (t *tracer) alone(p *path, s *sample) float64 {
	other := p.here * square(s.pdf)
	if t.cache != nil {
		other += p.before * square(s.emission/s.cos)
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

// gatherFar books what the path sees of the sky and the sun.
func (t *tracer) gatherFar(p *path) {
	for _, e := range t.skies {
		l := skyRadiance(&t.scene.Emitters[e], p.direction)
		if seen := t.scene.Emitters[e].Seen; p.seen && seen > 0 {
			l = seen
		}
		if l > 0 {
			t.add(p, e, nil, nil, l*t.aloneBySky(p, e))
		}
	}
	for _, e := range t.suns {
		if p.direction.Dot(t.scene.Emitters[e].Toward) >= 1-sunGap {
			t.add(p, e, nil, nil, sunPDF/(1+p.here*square(sunPDF)))
		}
	}
}

// aloneBySky is alone for a sky that was met through the opening the path passed last.
func (t *tracer) aloneBySky(p *path, sky int) float64 {
	if i, ok := t.skylight[[2]int{sky, p.opening}]; ok {
		if s, ok := t.lamps[i].meet(p.origin, p.direction); ok {
			return t.alone(p, &s)
		}
	}
	return 1
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
