package transport

import (
	"math"
	"slices"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// dome is the sky emitters that come in by the same openings. Paths look for them as one: a direction found toward the sky
// serves each with its own luminance, so that 145 patches cost hardly more than one sky.
type dome struct {
	through []int
	whole   []int                          // emitters that fill it by a formula
	patched [daylight.PatchCount][]skyPart // and by patches
}

// skyPart is the luminance of an emitter in one direction, cd/m² for a unit.
type skyPart struct {
	emitter   int
	luminance float64
}

// domesOf groups the sky emitters.
func domesOf(s *scene.Scene) (domes []*dome) {
	for i := range s.Emitters {
		e := &s.Emitters[i]
		if e.Kind != scene.Sky {
			continue
		}
		var d *dome
		for _, other := range domes {
			if slices.Equal(other.through, e.Through) && (other.through == nil) == (e.Through == nil) {
				d = other
			}
		}
		if d == nil {
			d = &dome{through: e.Through}
			domes = append(domes, d)
		}
		d.take(i, e)
	}
	return domes
}

// take adds an emitter to the dome.
func (d *dome) take(number int, e *scene.Emitter) {
	if e.Patches == nil {
		d.whole = append(d.whole, number)
		return
	}
	for k, luminance := range e.Patches {
		if luminance > 0 {
			d.patched[k] = append(d.patched[k], skyPart{number, luminance})
		}
	}
}

// comesBy reports whether the dome's light may come in by an opening, or by none (-1).
func (d *dome) comesBy(opening int) bool {
	return d.through == nil || slices.Contains(d.through, opening)
}

// toward returns each emitter's luminance in a direction above the horizon; below it there is none. The answer holds until
// the next call.
func (t *tracer) toward(d *dome, direction geometry.Vector) []skyPart {
	t.parts = t.parts[:0]
	if direction.Z <= 0 {
		return nil
	}
	for _, e := range d.whole {
		t.parts = append(t.parts, skyPart{e, wholeSky(&t.scene.Emitters[e], direction)})
	}
	patched := d.patched[daylight.PatchOf(direction)]
	if len(t.parts) == 0 {
		return patched
	}
	return append(t.parts, patched...)
}

// wholeSky returns the luminance toward a direction above the horizon at a zenith luminance of 1: uniform, or the
// traditional overcast sky (1+2 sin γ)/3 of [CIES011] (type 16).
func wholeSky(e *scene.Emitter, direction geometry.Vector) float64 {
	if e.Overcast {
		return (1 + 2*direction.Z) / 3
	}
	return 1
}

// newSkylight makes the sky seen through an opening a lamp of its own: a panel that shines into the room, with a luminance of
// 1 from above the horizon for each emitter of the dome to scale. It shines only where nothing stands outside; what things
// outside send in, the receivers' own paths find.
func newSkylight(d *dome, name string, opening int, o *scene.Opening) lamp {
	l := newPanel(o)
	l.dome, l.opening, l.seed = d, opening, seedOf(name)
	return l
}

// newSunlight makes a sun's light by an opening a lamp of its own, so that light paths carry it to the patch it makes inside.
func newSunlight(number int, sun *scene.Emitter, opening int, o *scene.Opening) lamp {
	l := newPanel(o)
	l.Toward = sun.Toward
	l.number, l.opening, l.sun, l.seed = number, opening, true, seedOf(sun.Name+" by "+o.Name)
	return l
}

// newPanel makes an opening a panel of luminance 1 that faces along its U × V.
func newPanel(o *scene.Opening) lamp {
	in := o.U.Cross(o.V).Unit()
	return newLamp(-1, &scene.Emitter{
		Name: o.Name, Luminance: 1, Centre: o.Centre,
		Basis: geometry.Basis{X: o.U.Unit(), Y: in.Cross(o.U.Unit()), Z: in},
		Form:  scene.Form{Shape: scene.Panel, Width: 2 * o.U.Length(), Height: 2 * o.V.Length()},
	})
}

// gatherFar books what the path sees of the sky and the sun.
func (t *tracer) gatherFar(p *path) {
	fade := t.fade(p.origin, p.direction, p.near, math.Inf(1))
	for i, d := range t.domes {
		if !d.comesBy(p.opening) {
			continue
		}
		parts := t.toward(d, p.direction)
		if len(parts) == 0 && !p.seen {
			continue
		}
		k := fade * t.aloneBySky(p, i)
		for _, part := range parts {
			if seen := t.scene.Emitters[part.emitter].Seen; !p.seen || seen == 0 {
				t.add(&p.cargo, part.emitter, nil, nil, k*part.luminance)
			}
		}
		if p.seen {
			t.gatherTone(p, d, fade)
		}
	}
	for _, e := range t.suns {
		if p.direction.Dot(t.scene.Emitters[e].Toward) >= 1-sunGap {
			s := sample{pdf: sunPDF, cos: 1}
			if l := t.sunlightBy(e, p.opening); l != nil {
				s.cos, s.emission = -p.direction.Dot(l.Basis.Z), sunPDF/l.area
			}
			t.add(&p.cargo, e, nil, nil, fade*sunPDF*t.alone(p.here, p.before, &s))
		}
	}
}

// sunlightBy returns the lamp that is a sun's light by an opening, or nil.
func (w *world) sunlightBy(sun, opening int) *lamp {
	if i, ok := w.sunlight[[2]int{sun, opening}]; ok {
		return &w.lamps[i]
	}
	return nil
}

// gatherTone books the skies of a dome whose look to an eye is stated.
func (t *tracer) gatherTone(p *path, d *dome, fade float64) {
	for _, e := range d.whole {
		if seen := t.scene.Emitters[e].Seen; seen > 0 {
			t.add(&p.cargo, e, nil, nil, fade*seen)
		}
	}
}

// aloneBySky is alone for a sky that was met through the opening the path passed last.
func (t *tracer) aloneBySky(p *path, dome int) float64 {
	if i, ok := t.skylight[[2]int{dome, p.opening}]; ok {
		if s, ok := t.lamps[i].meet(p.origin, p.direction); ok {
			return t.alone(p.here, p.before, &s)
		}
	}
	return 1
}
