package pipeline

import (
	"math"
	"slices"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/scene"
)

var bounds = map[scene.Bound]clock.Bound{scene.At: clock.At, scene.AtLeast: clock.AtLeast, scene.AtMost: clock.AtMost}

// target puts a set-up's target into the clock's terms.
func (h *hours) target(t *scene.TargetUse) ClockTarget {
	out := ClockTarget{Target: clock.Target{Wanted: t.Wanted, Tolerance: t.Tolerance, Over: t.Over, Bound: bounds[t.Bound]}}
	if t.Point < 0 {
		out.Target.Over, out.Target.Tolerance, out.Target.Bound = clock.OverDarkest, 0, clock.AtMost
		if t.Walk >= 0 {
			w := &h.setup.Walks[t.Walk]
			out.Name, out.Target.Receivers = w.Name+" swing", w.Receivers
			return out
		}
		var names []string
		for _, p := range t.Across {
			names, out.Target.Receivers = append(names, h.setup.Points[p].Name), append(out.Target.Receivers, h.setup.Points[p].Receiver)
		}
		out.Name = strings.Join(names, ", ") + " apart"
		return out
	}
	p := h.setup.Points[t.Point]
	out.Name, out.Target.Receivers = p.Name, []int{p.Receiver}
	switch {
	case t.Over == scene.OverKey:
		out.Target.Over, out.Target.Key = clock.OverKey, float64(h.setup.Camera.Key())
		if h.setup.Scene.Receivers[p.Receiver].Kind == scene.Spot {
			out.Target.Key *= 0.18 / math.Pi
		}
	case t.Over == scene.OverAmbient:
		out.Name += " over ambient"
		out.Target.Over = clock.OverAmbient
	default:
		out.Name += " over " + h.setup.Points[t.Over].Name
		out.Target.Over = h.setup.Points[t.Over].Receiver
	}
	out.Target.Lamps = h.followers(t, p.Receiver)
	return out
}

// carries is the part of all lamps' light at a point from which a lamp follows for it, and matters the part of all its light
// from which lamps can steer it (common practice, no source).
const (
	carries = 0.25
	matters = 0.1
)

// followers returns the sources that follow for a target: the one the plan names, or those that carry the point.
func (h *hours) followers(t *scene.TargetUse, receiver int) (lamps []int) {
	all, total := 0.0, 0.0
	for _, s := range h.day.Sources {
		total += s.Parts[receiver].Level.At(h.Nearest(h.at))
		if s.Most > 0 {
			all += s.Parts[receiver].Level[0]
		}
	}
	if all < matters*total {
		return nil
	}
	for n, s := range h.day.Sources {
		own := s.Most > 0 && s.Parts[receiver].Level[0] > 0
		if own && (t.By == s.Name || t.By == "" && s.Parts[receiver].Level[0] >= carries*all) {
			lamps = append(lamps, n)
		}
	}
	return lamps
}

// window picks the window that the set-up's own time is in, or nearest to.
func (c *Clock) window(h *hours, t *ClockTarget, mode string, curve clock.Curve) ClockWindow {
	w := ClockWindow{Setup: h.setup.Name, Target: t.Name, Mode: mode, Rig: *h.doc.Rig, Shoot: *h.doc.Shoot,
		Others: []ClockSpan{}, Sure: spans(curve, &t.Target, clock.Sure), Maybe: spans(curve, &t.Target, clock.Maybe), Follow: []ClockStep{}}
	all := curve.Windows(&t.Target, clock.Likely)
	if len(all) == 0 {
		return w
	}
	main := nearestWindow(all, h.at)
	for i := range all {
		if i != main {
			w.Others = append(w.Others, span(&all[i]))
		}
	}
	m := &all[main]
	p := clock.PlanFor(m, w.Rig, w.Shoot)
	w.Opens, w.Best, w.Closes, w.Slack = stamp(m.Opens), stamp(m.Best), stamp(m.Closes), &p.Slack
	if !m.Begun {
		w.RigBy = stamp(p.RigBy)
	}
	w.Minutes, w.Opening, w.Closing = m.Minutes(), m.Opening, m.Closing
	return w
}

func nearestWindow(windows []clock.Window, at time.Time) (nearest int) {
	away := func(w *clock.Window) time.Duration { return max(0, w.Opens.Sub(at), at.Sub(w.Closes)) }
	for i := range windows {
		if away(&windows[i]) < away(&windows[nearest]) {
			nearest = i
		}
	}
	return nearest
}

func span(w *clock.Window) ClockSpan { return ClockSpan{*stamp(w.Opens), *stamp(w.Closes)} }

func spans(c clock.Curve, t *clock.Target, how clock.Certainty) []ClockSpan {
	out := []ClockSpan{}
	for _, w := range c.Windows(t, how) {
		out = append(out, span(&w))
	}
	return out
}

// early is how long before a window could open the meter comes out (common practice, no source).
const early = 10 * time.Minute

// forecast says what becomes of a window were the model's sky half or double as bright, and from when to meter again: before
// the first that it could open. Where no daylight is a model's, or a window is all day whatever the sky, it says nothing.
func (h *hours) forecast(w *ClockWindow, t *clock.Target, half, double clock.Curve) {
	if !slices.ContainsFunc(h.day.Sources, func(s clock.Source) bool { return s.Model }) {
		return
	}
	around := h.at
	opens, held := ClockTime(w.Opens, h.From.Location())
	if held {
		closes, _ := ClockTime(w.Closes, h.From.Location())
		around = opens.Add(closes.Sub(opens) / 2)
	}
	first, moves := opens, held && w.RigBy != nil
	for _, c := range []struct {
		curve *clock.Curve
		into  **ClockSpan
	}{{&half, &w.Half}, {&double, &w.Double}} {
		all := c.curve.Windows(t, clock.Likely)
		if len(all) == 0 {
			continue
		}
		nearest := &all[nearestWindow(all, around)]
		s := span(nearest)
		*c.into = &s
		if !nearest.Begun && nearest.Opens.Before(first) {
			first = nearest.Opens
		}
	}
	if moves {
		w.Remeter = stamp(first.Add(-early))
	}
}
