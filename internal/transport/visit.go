package transport

import (
	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/spectrum"
)

// cargo is what a path has gathered on its way, as all its contributions need it.
type cargo struct {
	beta    spectrum.Band // what a cd/m² met now adds to the receiver; of a light path the lm it carries
	opening int           // the last passed, -1 for none; of a light path the first
	cloths  uint64        // bits of those met
	turns   int
}

// visits is where one receiver's path has been: all that must be known of it to find what any lamp does there. The walk
// that makes it knows no lamp, so that a lamp may move and the same walk serve again.
type visits struct {
	points  numeric.Points // of the path; each lamp has lots of its own from it
	stops   []stop
	flights []flight
}

// stop is a place of a path from which emitters are looked at and light paths joined.
type stop struct {
	cargo
	vertex
	picks int // light vertices of each lamp to join
}

// flight is a stretch of a path on which it may meet a lamp.
type flight struct {
	cargo
	origin, direction geometry.Vector
	near, far         float64
	here, before      float64 // as the path's
	seen              bool    // an eye's: what it meets was booked when the path was walked
}

// gather books what one lamp or skylight does at all places of a path.
func (t *tracer) gather(l int, v *visits) {
	lamp := &t.lamps[l]
	lots := v.points.Apart(lamp.seed)
	for i := range v.stops {
		s := &v.stops[i]
		a, b := lots.Next()
		if to, ok := lamp.sample(s.place, a, b); ok {
			t.look(s, lamp, &to)
		}
		if t.cache != nil {
			t.join(s, l, &lots)
		}
	}
	if l >= t.near { // sky and sun are met where the path leaves the scene
		return
	}
	for i := range v.flights {
		f := &v.flights[i]
		if f.seen {
			continue
		}
		if s, ok := lamp.meet(f.origin, f.direction); ok && s.distance > f.near && s.distance <= f.far {
			t.meetLamp(f, lamp, &s)
		}
	}
}

// meetLamp books a lamp that a flight met.
func (t *tracer) meetLamp(f *flight, l *lamp, s *sample) {
	k := s.radiance * t.alone(f.here, f.before, s) * t.fade(f.origin, f.direction, f.near, s.distance)
	t.add(&f.cargo, l.number, nil, nil, k)
}

// gatherSun books what a sun does at all places of a path; where a path leaves the scene it is met.
func (t *tracer) gatherSun(e int, v *visits) {
	lots := v.points.Apart(seedOf(t.scene.Emitters[e].Name))
	for i := range v.stops {
		a, b := lots.Next()
		t.lookAtSun(&v.stops[i], e, sunDirection(t.scene.Emitters[e].Toward, a, b))
	}
}

// seedOf is what tells an emitter's lots apart from those of another name.
func seedOf(name string) uint32 { return numeric.HashText(0, name) }
