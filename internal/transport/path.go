package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/ray"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// tally gathers what the paths of one batch at one receiver found: sums, not means.
type tally struct {
	lit   []*lit    // by column; nil where no light was found, as most patches of a sky are
	via   []float64 // by emitter × piece of cloth
	paths int
}

// lit is the light of one column.
type lit struct{ response, direct spectrum.Band }

func newTally(s *scene.Scene) *tally {
	return &tally{lit: make([]*lit, s.Columns()), via: make([]float64, len(s.Emitters)*len(s.Cloths))}
}

// at returns the light of a column to add to.
func (t *tally) at(column int) *lit {
	if t.lit[column] == nil {
		t.lit[column] = &lit{}
	}
	return t.lit[column]
}

// tracer walks paths for one worker.
type tracer struct {
	*world
	scratch ray.Scratch
	tally   *tally
	pass
	cache  *cache // of the batch; nil: plain path tracing, the reference
	visits visits // of the path under way
	seen   seen   // of the path under way, where it is a spot's
	parts  []skyPart

	// Of a film that catches up with some emitters: which, by emitter; what to skip, by lamp; and where late lamps stood. A
	// path on which an eye meets one of them, or met it there, is disturbed.
	late, skips []bool
	before      []lamp
	disturbed   bool

	glances bool // of a picture's surfaces alone: a path ends at the first
}

// pass is what a set of paths is for. Lamps and daylight share next to no path that serves both well, so that points
// trace them apart; a picture's pixels trace all at once.
type pass struct {
	first, last int  // of world.lamps
	close       bool // lamps themselves, and ambient from everywhere
	far         bool // what lies outside the scene
}

// path is the state of one path. A receiver's runs from the receiver toward the light, a light path from a lamp.
type path struct {
	cargo
	origin    geometry.Vector // the last turn
	near      float64         // how far from it a surface begins to count, m
	direction geometry.Vector
	scale     float64 // beta's size at the start
	certain   bool    // the direction was not picked among others: no sample toward an emitter could have found it
	seen      bool    // by a spot, itself or in mirrors: the path has not scattered

	relayed bool    // it was sent through an opening to find what stands outside: what it meets before that is not its to book
	outside float64 // weight for what it finds outside, beside paths that were sent there; 0 where it passed no opening yet

	here, before float64 // for multiple importance sampling: a vertex's own, not yet measured at the next one

	light    *[]lightVertex  // a light path leaves its places here; nil for a receiver's
	lamp     *lamp           // whose it is
	emission float64         // density with which the lamp sent it, per m² and sr
	sky      geometry.Vector // of a skylight's: where in the sky it came from
}

// trace walks a path from a receiver and books what all emitters do at its places.
func (t *tracer) trace(r *scene.Receiver, points numeric.Points) {
	t.tally.paths++
	t.walk(r, points)
	if t.glances {
		return
	}
	for l := t.first; l < t.last; l++ {
		if t.skips == nil || !t.skips[l] {
			t.gather(l, &t.visits)
		}
	}
	if t.far {
		for _, e := range t.suns {
			if t.late == nil || t.late[e] {
				t.gatherSun(e, &t.visits)
			}
		}
	}
}

// walk takes a path from a receiver and notes its places: unbiased path tracing with next-event estimation toward every
// emitter at every turn and joins to cached light paths, all weighed by the power heuristic ([Veach1997] 9.2, 10.2), ended
// by Russian roulette ([ArvoKirk1990]).
func (t *tracer) walk(r *scene.Receiver, points numeric.Points) {
	t.visits.points, t.visits.stops, t.visits.flights = points, t.visits.stops[:0], t.visits.flights[:0]
	p := path{cargo: cargo{opening: -1, beta: flat(1)}, origin: r.Position, near: t.offset}
	if r.Kind == scene.Spot {
		p.direction, p.certain, p.seen, p.scale = r.Normal, true, true, 1
	} else {
		v := receptorVertex(r)
		p.scale = math.Pi // what a direction it picks hands on
		if r.Kind == scene.Dome {
			p.scale = 2 * math.Pi
		}
		if t.close {
			t.gatherEverywhere(&p.cargo, nil, 1)
		}
		t.visits.stops = append(t.visits.stops, stop{p.cargo, v, receptorPicks})
		if len(t.out) > 0 {
			t.relay(&p, &v, &points)
		}
		if !p.turn(&v, &points) {
			return
		}
	}
	for t.fly(&p, &points) && p.survives(&points) {
	}
}

// square is what the power heuristic, of exponent 2, makes of the ratio of two densities ([Veach1997] 9.2.4): a way that is
// seldom taken keeps next to no weight, so that its rare finds do not escape the estimate of the error.
func square(x float64) float64 { return x * x }

// turn sends the path on in a direction the vertex picks.
func (p *path) turn(v *vertex, points *numeric.Points) bool {
	p.direction = v.pick(points)
	f, pdf := v.value(p.direction)
	if f == (spectrum.Band{}) || pdf <= 0 {
		return false
	}
	for b := range f {
		p.beta[b] *= f[b] / pdf
	}
	p.origin, p.certain, p.seen, p.outside = v.place, false, false, 0
	p.here, p.before = square(1/pdf), 0
	if v.kind == surfaceVertex {
		p.before = square(p.direction.Dot(v.normal)/pdf) * (v.before*square(v.reverse(p.direction)) + v.here)
	}
	return true
}

// survives plays Russian roulette, once a receiver's path has turned a few times; the odds follow what the path still
// carries, so that light vertices carry nearly alike.
func (p *path) survives(points *numeric.Points) bool {
	if p.light == nil && p.turns < 3 {
		return true
	}
	odds := math.Min(0.97, largest(&p.beta)/p.scale)
	if u, _ := points.Next(); !(u < odds) {
		return false
	}
	p.dim(1 / odds)
	return true
}

// fly follows the path to its next turn, noting where it may meet emitters. It returns false where the path ends.
func (t *tracer) fly(p *path, points *numeric.Points) bool {
	stop, stopped := t.blocking.nearest(p.origin, p.direction, p.near, math.Inf(1), &t.scratch)
	far := math.Inf(1)
	if stopped {
		far = stop.distance
	}
	for {
		h, met := t.passing.nearest(p.origin, p.direction, p.near, far, &t.scratch)
		end := far
		if met {
			end = h.distance
		}
		if p.light == nil && !p.relayed && t.across(p, end, points) {
			return false
		}
		if t.scene.Haze != nil && (met || stopped) {
			p.dim(t.fade(p.origin, p.direction, p.near, end))
		}
		switch {
		case met:
			on, straight := t.meet(p, &h, points)
			if !on {
				return false
			}
			if !straight {
				return true
			}
			p.near = t.beyond(h.distance)
		case stopped:
			on, _ := t.meet(p, &stop, points)
			return on
		default:
			if p.light == nil && !p.relayed {
				t.gatherOutside(p)
			}
			return false
		}
	}
}

// across notes a stretch of the path's flight, and a place in the haze there that may be seen. It reports whether a lamp ends
// the path.
func (t *tracer) across(p *path, end float64, points *numeric.Points) (ended bool) {
	if t.passLamps(p, p.near, end) {
		return true
	}
	if t.scene.Haze != nil && (p.turns == 0 || p.seen) {
		t.scatter(p, p.near, end, points)
	}
	return false
}

// meet lets a surface act on the path. on is false where the path ends; straight is true where it goes on unbent.
func (t *tracer) meet(p *path, h *hit, points *numeric.Points) (on, straight bool) {
	s := &t.scene.Surfaces[h.surface]
	pass, mirror := t.unbent(h, &s.Optics, p.direction)
	passes, mirrors := mean(&pass), mean(&mirror)

	place := p.origin.AddMul(h.distance, p.direction)
	v, matt := surfaceAt(&t.skins[h.surface], place, p.direction, h)
	if matt || mirrors > 0 {
		p.arriveOutside()
	}
	if matt && p.seen {
		t.notice(&v, h)
		if t.glances {
			return false, false
		}
		if t.close {
			t.gatherEverywhere(&p.cargo, v.skin.reflect, 1/math.Pi)
		}
	}
	var matts float64
	if matt {
		matts = v.skin.whole
		p.arrive(&v, h.distance)
		t.use(p, &v, h, points)
	}
	sum := passes + mirrors + matts
	if sum == 0 {
		return false, false
	}
	if p.seen && passes > 0 && mirrors > 0 && matts == 0 && p.turns < mostSplits {
		t.split(p, h, place, &pass, &mirror, points)
		p.enter(s)
		return true, true
	}
	which := 0.0
	if passes < sum && matts < sum { // one way only needs no lot
		which, _ = points.Next()
		which *= sum
	}
	p.meetCloth(s)
	switch {
	case which < passes:
		p.scaleBy(&pass, sum/passes)
		t.leave(p, s)
		p.enter(s)
		return true, true
	case which < passes+mirrors:
		p.scaleBy(&mirror, sum/mirrors)
		p.origin, p.near = t.off(place, h, true), 0
		p.direction = p.direction.AddMul(-2*p.direction.Dot(h.normal), h.normal)
		p.mirrored()
		return true, false
	}
	p.dim(sum / matts)
	p.turns++
	if !p.turn(&v, points) {
		return false, false
	}
	p.origin, p.near = t.off(place, h, p.direction.Dot(h.normal) > 0 == h.front), 0
	return true, false
}

// mostSplits is how many panes an eye's path may meet by their reflections before it takes lots between them.
const mostSplits = 3

// split follows what an eye sees by a pane both ways: the reflection to its end, then what lies beyond. Lots would show
// as grain, since the one is often far brighter than the other.
func (t *tracer) split(p *path, h *hit, place geometry.Vector, pass, mirror *spectrum.Band, points *numeric.Points) {
	back := *p
	back.scaleBy(mirror, 1)
	back.origin, back.near = t.off(place, h, true), 0
	back.direction = p.direction.AddMul(-2*p.direction.Dot(h.normal), h.normal)
	back.mirrored()
	guide := t.seen
	for t.fly(&back, points) && back.survives(points) {
	}
	t.seen = guide // what lies beyond the pane guides the picture, not what it mirrors
	p.scaleBy(pass, 1)
}

// enter notes the opening a path passes: a receiver's the last, a light path's the first.
func (p *path) enter(s *scene.Surface) {
	if s.Opening >= 0 && (p.light == nil || p.opening < 0) {
		p.opening = s.Opening
	}
}

// mostRelays is how many turns of a path look outside by a branch of their own.
const mostRelays = 8

// doors returns the openings as a path may be sent through them: a receiver's out, a light path in.
func (t *tracer) doors(p *path) []lamp {
	if p.light != nil {
		return t.in
	}
	return t.out
}

// leave weighs what the path will find beyond an opening it passes, beside paths that relay sends there. From a lamp
// itself none are sent.
func (t *tracer) leave(p *path, s *scene.Surface) {
	if s.Opening < 0 || p.relayed || p.outside != 0 || p.here == 0 || (p.light != nil && p.turns == 0) || p.turns >= mostRelays {
		return
	}
	doors := t.doors(p)
	p.outside = 1 / (1 + p.here*square(doors[s.Opening].density(p.origin, p.direction)/float64(len(doors))))
}

// arriveOutside lets the weight of what lies outside act, at the first surface there.
func (p *path) arriveOutside() {
	if p.outside != 0 {
		p.dim(p.outside)
		p.outside = 0
	}
	p.relayed = false
}

// relay sends a branch of the path through one of the openings: a receiver's out, to find what stands there in the light,
// a light path in, since few of the path's own ways lead there. The branch is the path's own from there on; what a
// receiver's would meet before, samples have met.
func (t *tracer) relay(p *path, v *vertex, points *numeric.Points) {
	which, _ := points.Next()
	a, b := points.Next()
	doors := t.doors(p)
	d := &doors[min(int(which*float64(len(doors))), len(doors)-1)]
	s, ok := d.sample(v.place, a, b)
	if !ok {
		return
	}
	f, pdf := v.value(s.direction)
	if pdf <= 0 || f == (spectrum.Band{}) {
		return
	}
	from, near := t.start(v, s.direction)
	before, ok := t.shadow(from, s.direction, near, s.distance-t.offset, &t.scratch)
	if !ok || before.opening >= 0 {
		return
	}
	chance := s.pdf / float64(len(doors))
	branch := *p
	branch.scaleBy(&f, 1/(chance*(1+square(pdf/chance))))
	if !before.clear {
		branch.scaleBy(&before.share, 1)
	}
	branch.cloths |= before.cloths
	branch.origin, branch.near, branch.direction = v.place, s.distance-2*t.offset, s.direction
	branch.certain, branch.seen, branch.relayed, branch.outside = false, false, true, 0
	branch.here, branch.before = square(1/pdf), 0
	if v.kind == surfaceVertex {
		branch.before = square(s.direction.Dot(v.normal)/pdf) * (v.before*square(v.reverse(s.direction)) + v.here)
	}
	for t.fly(&branch, points) && branch.survives(points) {
	}
}

// notice keeps the first matt surface a spot's path meets, as a picture's guide.
func (t *tracer) notice(v *vertex, h *hit) {
	if !math.IsInf(t.seen.depth, 1) {
		return
	}
	t.seen = seen{albedo: *v.skin.reflect, normal: v.normal, depth: h.distance}
	for b := range t.seen.albedo { // what shines through a cloth is part of how bright it looks
		t.seen.albedo[b] += v.skin.through[b]
	}
}

// use lets a vertex take part in what the path is for: a receiver's looks toward the emitters and joins light paths, a
// light path's is kept.
func (t *tracer) use(p *path, v *vertex, h *hit, points *numeric.Points) {
	cloths, turns := p.cloths, p.turns
	p.meetCloth(&t.scene.Surfaces[h.surface])
	p.turns++
	if p.light != nil {
		p.keep(v)
	} else {
		t.visits.stops = append(t.visits.stops, stop{p.cargo, *v, 1})
	}
	if len(t.out) > 0 && p.turns < mostRelays {
		t.relay(p, v, points)
	}
	p.cloths, p.turns = cloths, turns
}

// mirrored books a turn at a mirror, which no sample and no join could have made ([Georgiev2012] eqs. 53, 54): the
// cosines in and out are one and drop out.
func (p *path) mirrored() {
	p.here = 0
	p.certain = true
	p.turns++
}

// off returns a start for new rays just off a surface, on the side the path came to or on the other.
func (t *tracer) off(place geometry.Vector, h *hit, same bool) geometry.Vector {
	if h.front == same {
		return place.AddMul(t.offset, h.normal)
	}
	return place.AddMul(-t.offset, h.normal)
}

func (p *path) meetCloth(s *scene.Surface) {
	if s.Cloth >= 0 {
		p.cloths |= 1 << (uint(s.Cloth) & 63)
	}
}

func (p *path) scaleBy(f *spectrum.Band, k float64) {
	for b := range f {
		p.beta[b] *= f[b] * k
	}
}

func (p *path) dim(k float64) {
	for b := range p.beta {
		p.beta[b] *= k
	}
}

// unbent returns the shares a surface passes on unbent and mirrors at this incidence.
func (t *tracer) unbent(h *hit, o *scene.Optics, direction geometry.Vector) (pass, mirror spectrum.Band) {
	mirror = o.Mirror
	if o.Spread == 0 {
		pass = o.Straight
	}
	if o.Panes > 0 {
		through, back := t.panes[h.surface].at(direction.Dot(h.normal))
		pass, mirror = flat(through), flat(back)
	}
	return pass, mirror
}
