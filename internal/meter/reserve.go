package meter

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Lamp is how a lamp is set and how much it has left. Reserve is log2 of its full output in the mode it runs in over
// the least output that meets the targets it carries, all else as planned; without such a target, over the planned
// dim. A lamp carries a target when the plan says so, or where it does not, when it gives the point a quarter or more of
// what all lamps give it. Outcome says it in
// a word: `too weak`, `within the doubt`, `enough`, `more than needed`, `planned` (no target asks for it), `not needed`
// (the targets are met without it) or `out of reach` (no output of this lamp meets the target); the last two have no
// reserve.
type Lamp struct {
	Name     string        `json:"name"`
	Dim      unit.Fraction `json:"dim"`
	Reserve  *unit.Stop    `json:"reserve_stops"`
	Interval unit.Stop     `json:"interval_stops"`
	For      string        `json:"for"`
	Needed   *float64      `json:"needed_share"` // of full output; above 1 it can't be done
	Outcome  string        `json:"outcome"`

	Target int `json:"-"` // that asks most, into Setup.Targets; -1: none does
}

// ambient is the light of the ambient sources alone.
func (r *reader) ambient(l *light) light {
	alone := light{source: make([]part, len(l.source)), doubts: sensitivity{}}
	for i, s := range r.setup.Sources {
		if s.Ambient {
			alone.level += l.source[i].level
			alone.source[i] = l.source[i]
		}
	}
	for i := range r.setup.Sources {
		alone.weigh(i, &r.setup.Sources[i])
	}
	if l.level > 0 {
		alone.stderr = l.stderr * alone.level / l.level
	}
	return alone
}

// lamps finds every lamp's reserve.
func (r *reader) lamps(lights []light) (out []Lamp) {
	for i := range r.setup.Lamps {
		out = append(out, r.lamp(&r.setup.Lamps[i], lights))
	}
	return out
}

func (r *reader) lamp(u *scene.LampUse, lights []light) Lamp {
	lamp := Lamp{Name: u.Name, Dim: u.Dim, Target: -1}
	worst, asked := 0.0, false
	for i := range r.setup.Targets {
		t := &r.setup.Targets[i]
		if !t.IsLevel() || t.Bound == scene.AtMost || !r.meets(u, t, lights) {
			continue
		}
		asked = true
		if needed := r.needed(u, t, lights); needed > worst {
			worst, lamp.Target = needed, i
			lamp.For, lamp.Interval = r.wish(t), lights[t.Point].interval()
		}
	}
	switch {
	case !asked && u.Level(u.Dim) > 0:
		worst = u.Level(u.Dim) / u.Level(u.MaxDim)
		lamp.For, lamp.Outcome = "planned dim", "planned"
	case worst == 0:
		lamp.Outcome = "not needed"
		return lamp
	case math.IsInf(worst, 1):
		lamp.Outcome = "out of reach"
		return lamp
	}
	reserve := unit.Stop(-math.Log2(worst))
	lamp.Reserve = &reserve
	if asked {
		lamp.Needed, lamp.Outcome = &worst, enough(reserve, lamp.Interval)
	}
	return lamp
}

// enough is a reserve in a word (the limits are common practice, no source): below half a stop, or inside its own
// interval, nobody should count on it; above two and a half a smaller lamp would do.
func enough(reserve, interval unit.Stop) string {
	switch {
	case reserve < 0:
		return "too weak"
	case reserve < 0.5 || reserve < interval:
		return "within the doubt"
	case reserve > 2.5:
		return "more than needed"
	}
	return "enough"
}

// wish names a target: its point, and what it is over when that is not the key.
func (r *reader) wish(t *scene.TargetUse) string {
	name := r.setup.Points[t.Point].Name
	switch {
	case t.Over == scene.OverAmbient:
		return name + " over ambient"
	case t.Over >= 0:
		return name + " over " + r.setup.Points[t.Over].Name
	}
	return name
}

// meets reports whether a target is the lamp's to meet: the plan says so, or the lamp is one of those that light it.
func (r *reader) meets(u *scene.LampUse, t *scene.TargetUse, lights []light) bool {
	if t.By != "" {
		return t.By == u.Name
	}
	return r.carries(u, &lights[t.Point])
}

// carries reports whether the lamp is one of those that make the point's light, as planned; one that is dimmed to
// nothing is taken at full.
func (r *reader) carries(u *scene.LampUse, l *light) bool {
	dim := u.Dim
	if u.Level(dim) == 0 {
		dim = u.MaxDim
	}
	own := l.full[u.Emitter] * u.Level(dim)
	all := own
	for _, other := range r.setup.Lamps {
		if other.Emitter != u.Emitter {
			all += l.full[other.Emitter] * other.Level(other.Dim)
		}
	}
	return exposure.Carries(own, all)
}

// needed is the share of the lamp's full output (in its mode) at which the target is met, all else as planned. A spot is
// measured against grey at key.
func (r *reader) needed(u *scene.LampUse, t *scene.TargetUse, lights []light) float64 {
	part := func(l *light) exposure.Part {
		now := l.full[u.Emitter] * u.Level(u.Dim)
		return exposure.Part{Full: l.full[u.Emitter] * u.Level(u.MaxDim), Rest: l.level - now}
	}
	over := exposure.Part{Rest: float64(r.setup.Camera.Key())}
	switch {
	case t.Over == scene.OverAmbient:
		alone := r.ambient(&lights[t.Point])
		over.Rest = alone.level
	case t.Over >= 0:
		over = part(&lights[t.Over])
	case r.setup.Scene.Receivers[r.setup.Points[t.Point].Receiver].Kind == scene.Spot:
		over.Rest *= 0.18 / math.Pi
	}
	return exposure.NeededShare(part(&lights[t.Point]), over, t.Wanted)
}

// reflected is the level that a surface in the light of a receiver hands on, band by band.
func (r *reader) reflected(receiver int, reflectance spectrum.Band) (y float64) {
	for c, response := range r.layers.Points[receiver].Response {
		y += response.Mul(reflectance).Dot(r.y[c])
	}
	return y
}
