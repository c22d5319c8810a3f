package transport

import (
	"fmt"
	"math"

	"gloam/internal/geometry"
	"gloam/internal/ray"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// world is a scene made ready for rays: what stops them in one hierarchy, what they pass unbent in another, so that a
// shadow ray first asks whether it is blocked at all and only then by how much it is weakened.
type world struct {
	scene    *scene.Scene
	blocking side
	passing  side
	lamps    []lamp // lamps, then skylights: each sky through each opening it may come in by
	near     int    // how many of them are lamps
	domes    []*dome
	skylight map[[2]int]int     // by dome and opening: which of lamps
	sunlight map[[2]int]int     // by sun emitter and opening
	out, in  []lamp             // the openings, as a place for receivers' paths to go out by and for light paths to come in by
	suns     []int              // emitters
	skins    [][2]skin          // by surface, front and back
	panes    map[int]*paneTable // by surface
	trees    map[mark]*ray.Tree // of single things
	offset   float64            // how far a new ray starts off its surface, m
}

// side is one of the two hierarchies.
type side struct {
	tree    *ray.Tree
	surface []int32           // of each triangle
	normal  []geometry.Vector // unit, out of the front
}

// newWorld makes a scene ready. Things that stand as they did in a world made before (nil: none) keep their trees.
func newWorld(s *scene.Scene, before *world) *world {
	w := &world{scene: s, panes: map[int]*paneTable{}, skylight: map[[2]int]int{}, sunlight: map[[2]int]int{}, trees: map[mark]*ray.Tree{}}
	extent := 1.0
	for i := range s.Surfaces {
		o := &s.Surfaces[i].Optics
		w.skins = append(w.skins, skinsOf(o))
		if o.Panes > 0 {
			w.panes[i] = newPaneTable(o.Panes, o.PaneClarity)
		}
	}
	for _, passes := range [2]bool{false, true} {
		d := &w.blocking
		if passes {
			d = &w.passing
		}
		extent = math.Max(extent, w.build(d, passes, before))
	}
	// Rays are float32: a step of a few units in the last place of the largest coordinate leaves the surface for good.
	w.offset = math.Max(1e-4, extent*4e-7)
	w.lights()
	return w
}

// lights makes the emitters ready: lamps, then the sky by each opening that it may come in by.
func (w *world) lights() {
	s := w.scene
	for i := range s.Emitters {
		switch s.Emitters[i].Kind {
		case scene.Lamp:
			w.lamps = append(w.lamps, newLamp(i, &s.Emitters[i]))
		case scene.Sun:
			w.suns = append(w.suns, i)
		}
	}
	w.near = len(w.lamps)
	for _, o := range s.Openings {
		w.out = append(w.out, newPanel(&o))
		o.U = o.U.Neg() // seen from outside
		w.in = append(w.in, newPanel(&o))
	}
	w.domes = domesOf(s)
	for i, d := range w.domes {
		for o := range s.Openings {
			if d.comesBy(o) {
				w.skylight[[2]int{i, o}] = len(w.lamps)
				w.lamps = append(w.lamps, newSkylight(d, fmt.Sprint("sky ", i, " by ", s.Openings[o].Name), o, &s.Openings[o]))
			}
		}
	}
	for _, e := range w.suns {
		for o := range s.Openings {
			l := newSunlight(e, &s.Emitters[e], o, &s.Openings[o])
			if l.Toward.Dot(l.Basis.Z) < 0 {
				w.sunlight[[2]int{e, o}] = len(w.lamps)
				w.lamps = append(w.lamps, l)
			}
		}
	}
}

// hit is where a ray met a surface.
type hit struct {
	distance float64
	surface  int
	normal   geometry.Vector // out of the front
	front    bool            // the ray came to the front
}

// nearest returns the first surface of one side along a ray between two distances.
func (d *side) nearest(p, direction geometry.Vector, near, far float64, s *ray.Scratch) (h hit, ok bool) {
	if len(d.surface) == 0 {
		return h, false
	}
	r := toRay(p, direction, near, far)
	var rh ray.Hit
	if !d.tree.Nearest(&r, &rh, s) {
		return h, false
	}
	n := d.normal[rh.Triangle]
	return hit{float64(rh.T), int(d.surface[rh.Triangle]), n, direction.Dot(n) < 0}, true
}

func toRay(p, direction geometry.Vector, near, far float64) ray.Ray {
	return ray.Ray{
		Origin:    [3]float32{float32(p.X), float32(p.Y), float32(p.Z)},
		Direction: [3]float32{float32(direction.X), float32(direction.Y), float32(direction.Z)},
		Near:      float32(near), Far: float32(math.Min(far, math.MaxFloat32)),
	}
}

// straight returns what a passing surface lets through unbent under a cosine of incidence.
func (w *world) straight(surface int, cos float64) spectrum.Band {
	o := &w.scene.Surfaces[surface].Optics
	t := o.Straight
	if o.Panes > 0 {
		share, _ := w.panes[surface].at(cos)
		for b := range t {
			t[b] = share
		}
	}
	return t
}

// passage is what a ray brings through the surfaces it passes unbent.
type passage struct {
	share   spectrum.Band
	clear   bool   // nothing was passed: share is all ones and not filled in
	opening int    // the last opening passed, -1 for none
	cloths  uint64 // bits of the pieces of cloth passed
	turned  bool   // the light turned before it came here
}

// shadow looks from p along a direction between two distances: what share of light from there arrives, and by which
// opening. ok is false when something stops it all.
func (w *world) shadow(p, direction geometry.Vector, near, distance float64, s *ray.Scratch) (a passage, ok bool) {
	a = passage{clear: true, opening: -1}
	far := distance - w.offset
	from := near
	if len(w.blocking.surface) > 0 {
		r := toRay(p, direction, near, far)
		if w.blocking.tree.Occluded(&r, s) {
			return a, false
		}
	}
	for {
		h, met := w.passing.nearest(p, direction, near, far, s)
		if !met {
			w.dim(&a, p, direction, from, distance)
			return a, true
		}
		w.pass(&a, h, direction)
		if a.share == (spectrum.Band{}) {
			return a, false
		}
		near = w.beyond(h.distance)
	}
}

// dim lets haze weaken what a ray brings.
func (w *world) dim(a *passage, p, direction geometry.Vector, near, far float64) {
	if w.scene.Haze == nil {
		return
	}
	if a.clear {
		a.clear, a.share = false, flat(1)
	}
	a.share = a.share.Scale(w.fade(p, direction, near, far))
}

// beyond is where a ray goes on after a surface it passed: past it by more than float32 can lose at that distance.
func (w *world) beyond(distance float64) float64 { return distance*(1+1e-6) + w.offset }

// pass takes a ray through a surface it met.
func (w *world) pass(a *passage, h hit, direction geometry.Vector) {
	t := w.straight(h.surface, direction.Dot(h.normal))
	if a.clear {
		a.clear, a.share = false, t
	} else {
		for b := range t {
			a.share[b] *= t[b]
		}
	}
	a.mark(&w.scene.Surfaces[h.surface])
}

// mark remembers the opening or the piece of cloth that a surface is.
func (a *passage) mark(s *scene.Surface) {
	if s.Opening >= 0 {
		a.opening = s.Opening
	}
	if s.Cloth >= 0 {
		a.cloths |= 1 << (uint(s.Cloth) & 63)
	}
}
