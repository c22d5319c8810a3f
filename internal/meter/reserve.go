package meter

import (
	"math"

	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Target is a wish and how it stands. Level is what the set-up gives, in the same stops as Wanted. Outcome is `met` when
// all of the interval lies inside the tolerance, `missed` when none of it does, `maybe` between, `dark` without light.
type Target struct {
	Of        string     `json:"of"`
	Over      string     `json:"over"`
	Wanted    unit.Stop  `json:"wanted_stops"`
	Tolerance unit.Stop  `json:"tolerance_stops"`
	Level     *unit.Stop `json:"level_stops"`
	Interval  unit.Stop  `json:"interval_stops"`
	Outcome   string     `json:"outcome"`
}

// Lamp is how a lamp is set and how much it has left. Reserve is log2 of its full output in the mode it runs in over
// the least output that meets the targets it carries, all else as planned; without such a target, over the planned
// dim. A lamp carries a target when no other lamp gives the point more. Null: its light is not needed at all.
type Lamp struct {
	Name     string        `json:"name"`
	Dim      unit.Fraction `json:"dim"`
	Reserve  *unit.Stop    `json:"reserve_stops"`
	Interval unit.Stop     `json:"interval_stops"`
	For      string        `json:"for"`
	Needed   *float64      `json:"needed_share"` // of full output; above 1 it can't be done
}

func (r *reader) targets(lights []light, walks []Walk) (out []Target) {
	for _, t := range r.setup.Targets {
		if t.Walk >= 0 {
			w := &walks[t.Walk]
			out = append(out, judgeSwing(w, t.Wanted))
			continue
		}
		l := &lights[t.Point]
		target := Target{Of: r.setup.Points[t.Point].Name, Wanted: t.Wanted, Tolerance: t.Tolerance}
		switch t.Over {
		case scene.OverKey:
			target.Over, target.Level, target.Interval = "key", r.over(r.setup.Points[t.Point].Receiver, l), l.interval()
		case scene.OverAmbient:
			alone := r.ambient(l)
			target.Over, target.Level, target.Interval = "ambient", stopsBetween(l.level, alone.level), intervalBetween(l, &alone)
		default:
			other := &lights[t.Over]
			target.Over, target.Level = r.setup.Points[t.Over].Name, stopsBetween(l.level, other.level)
			target.Interval = intervalBetween(l, other)
		}
		target.judge()
		out = append(out, target)
	}
	return out
}

// judge says whether the interval lies inside the tolerance.
func (t *Target) judge() {
	if t.Level == nil {
		t.Outcome = "dark"
		return
	}
	off := math.Abs(float64(*t.Level - t.Wanted))
	switch tolerance, doubt := float64(t.Tolerance), float64(t.Interval); {
	case off+doubt <= tolerance:
		t.Outcome = "met"
	case off-doubt <= tolerance:
		t.Outcome = "maybe"
	default:
		t.Outcome = "missed"
	}
}

// judgeSwing holds a walk's swing against the most it may be.
func judgeSwing(w *Walk, most unit.Stop) Target {
	t := Target{Of: w.Name, Over: "its darkest place", Wanted: most, Level: w.Swing, Interval: w.Interval}
	switch {
	case w.Swing == nil:
		t.Outcome = "dark"
	case *w.Swing+w.Interval <= most:
		t.Outcome = "met"
	case *w.Swing-w.Interval <= most:
		t.Outcome = "maybe"
	default:
		t.Outcome = "missed"
	}
	return t
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
		u := &r.setup.Lamps[i]
		lamp := Lamp{Name: u.Name, Dim: u.Dim}
		worst := math.Inf(1)
		for _, t := range r.setup.Targets {
			if t.Walk >= 0 || !r.carries(u, &lights[t.Point]) {
				continue
			}
			needed := r.needed(u, &t, lights)
			if reserve := -math.Log2(needed); needed > 0 && reserve < worst {
				worst = reserve
				lamp.Needed, lamp.For = &needed, r.setup.Points[t.Point].Name
				lamp.Interval = lights[t.Point].interval()
			}
		}
		if lamp.For == "" && !r.targeted(u, lights) && u.Level(u.Dim) > 0 {
			worst = math.Log2(u.Level(u.MaxDim) / u.Level(u.Dim))
			lamp.For = "planned dim"
		}
		if !math.IsInf(worst, 0) {
			reserve := unit.Stop(worst)
			lamp.Reserve = &reserve
		}
		out = append(out, lamp)
	}
	return out
}

// targeted reports whether the lamp carries any target.
func (r *reader) targeted(u *scene.LampUse, lights []light) bool {
	for _, t := range r.setup.Targets {
		if t.Walk < 0 && r.carries(u, &lights[t.Point]) {
			return true
		}
	}
	return false
}

// carries reports whether no other lamp gives the point more, at full output each so that a dark dim hides nothing.
func (r *reader) carries(u *scene.LampUse, l *light) bool {
	own := l.full[u.Emitter]
	for _, other := range r.setup.Lamps {
		if l.full[other.Emitter]*other.Level(other.Dim) > own*u.Level(u.Dim) {
			return false
		}
	}
	return own > 0
}

// needed is the share of the lamp's full output (in its mode) at which the target is met, all else as planned: the
// point's level is a·x + o, what it is measured over b·x + q, and a·x + o = 2^wanted · (b·x + q). A spot is measured
// against grey at key. Zero or less: met without it, or out of its reach from the other side.
func (r *reader) needed(u *scene.LampUse, t *scene.TargetUse, lights []light) float64 {
	full := func(l *light) (a, o float64) {
		now := l.full[u.Emitter] * u.Level(u.Dim)
		return l.full[u.Emitter] * u.Level(u.MaxDim), l.level - now
	}
	a, o := full(&lights[t.Point])
	b, q := 0.0, float64(r.setup.Camera.Key())
	switch {
	case t.Over == scene.OverAmbient:
		alone := r.ambient(&lights[t.Point])
		q = alone.level
	case t.Over >= 0:
		b, q = full(&lights[t.Over])
	case r.setup.Scene.Receivers[r.setup.Points[t.Point].Receiver].Kind == scene.Spot:
		q *= 0.18 / math.Pi
	}
	ratio := math.Exp2(float64(t.Wanted))
	if gain := a - ratio*b; gain > 0 {
		return (ratio*q - o) / gain
	}
	return 0
}

// reflected is the level that a surface in the light of a receiver hands on, band by band.
func (r *reader) reflected(receiver int, reflectance spectrum.Band) (y float64) {
	for c, response := range r.layers.Points[receiver].Response {
		y += response.Mul(reflectance).Dot(r.y[c])
	}
	return y
}

// gel is the gel on an opening, or clear.
func (r *reader) gel(opening int) spectrum.Band {
	if opening >= 0 {
		return r.setup.Scene.Openings[opening].Gel
	}
	return scene.Clear
}
