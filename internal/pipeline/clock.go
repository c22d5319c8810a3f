package pipeline

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// Clock is the light clock of some set-ups of a plan. Times are RFC 3339 on the zone's clock; a null is a time that does not
// come.
type Clock struct {
	Sun      ClockSun      `json:"sun"`
	Windows  []ClockWindow `json:"windows"`
	Order    []ClockSlot   `json:"order"`
	LeftOut  []string      `json:"left_out"`
	Cautions []ClockTimes  `json:"cautions"`
	Openings []ClockTimes  `json:"openings"` // when a clear sun can come in by each
	Constant []string      `json:"constant"` // ambients taken as read all day: without a clock, or a state of the sky

	Days []ClockDay `json:"-"` // for charts, by set-up
}

// ClockSun is the sun's day.
type ClockSun struct {
	Date    string  `json:"date"`
	Zone    string  `json:"zone"`
	Rise    *string `json:"rise"`
	Set     *string `json:"set"`
	Dawn    *string `json:"dawn"`
	Dusk    *string `json:"dusk"`
	Transit *string `json:"transit"`
}

// ClockWindow is when a target of a set-up holds: the window that holds at the set-up's own time, or comes nearest to it, and
// the others of its day. With mode `fixed` the lamps stay as planned, with `following` they keep the target as far as they
// can. Sure are the times at which all of the interval is inside the tolerance, maybe those at which any of it is.
type ClockWindow struct {
	Setup   string       `json:"setup"`
	Target  string       `json:"target"`
	Mode    string       `json:"mode"`
	Opens   *string      `json:"opens"`
	Best    *string      `json:"best"`
	Closes  *string      `json:"closes"`
	Minutes float64      `json:"minutes"`
	Slack   *unit.Minute `json:"slack_minutes"` // how much later shooting may begin and still end inside
	RigBy   *string      `json:"rig_by"`        // the last start of rigging; null where the target holds from the day's begin
	Rig     unit.Minute  `json:"rig_minutes"`
	Shoot   unit.Minute  `json:"shoot_minutes"`
	Opening float64      `json:"opening_stops_per_minute"`
	Closing float64      `json:"closing_stops_per_minute"`
	Others  []ClockSpan  `json:"others"`
	Sure    []ClockSpan  `json:"sure"`
	Maybe   []ClockSpan  `json:"maybe"`
	Half    *ClockSpan   `json:"half_the_sky"` // the nearest window, were the model's sky half as bright; null: none
	Double  *ClockSpan   `json:"double_the_sky"`
	Remeter *string      `json:"remeter_from"`
	Follow  []ClockStep  `json:"follow"`
}

// ClockSpan is a time from when to when.
type ClockSpan struct {
	Opens  string `json:"opens"`
	Closes string `json:"closes"`
}

// ClockStep is what lamps that follow are set to at a time.
type ClockStep struct {
	At    string     `json:"at"`
	Lamps []ClockSet `json:"lamps"`
}

// ClockSet is one lamp's setting: its control, and the colour that keeps its distance in mired from the sky, null where
// the lamp can't or the sky's is not known.
type ClockSet struct {
	Lamp   string        `json:"lamp"`
	Dim    unit.Fraction `json:"dim"`
	Colour *unit.Kelvin  `json:"colour_k"`
}

// ClockSlot is a set-up's place in the order of the day.
type ClockSlot struct {
	Setup string      `json:"setup"`
	Rig   string      `json:"rig_from"`
	Roll  string      `json:"roll"`
	Done  string      `json:"done"`
	Slack unit.Minute `json:"slack_minutes"`
}

// ClockTimes is a caution and the times at which it applies.
type ClockTimes struct {
	Setup string      `json:"setup"`
	About string      `json:"about"`
	Text  string      `json:"text"`
	Times []ClockSpan `json:"times"`
}

// ClockDay is a set-up's day as a chart draws it.
type ClockDay struct {
	Setup   string
	At      time.Time // the set-up's own time
	Grid    clock.Grid
	Suns    []daylight.Sun
	Place   unit.Position
	Targets []ClockTarget
	Rig     unit.Minute
	Shoot   unit.Minute
	All     []clock.Window // in which every target holds with lamps as planned; the one nearest to the set-up's own time
}

// ClockTarget is a target through a day with lamps as planned.
type ClockTarget struct {
	Name      string
	Target    clock.Target
	Curve     clock.Curve
	Following *clock.Curve
}

// LightClock works out the light clock of some set-ups. Without place, date, time and zone there is none.
func LightClock(ctx context.Context, views []*plan.View, o Options) (*Clock, error) {
	out := &Clock{Windows: []ClockWindow{}, Order: []ClockSlot{}, LeftOut: []string{}, Cautions: []ClockTimes{}, Openings: []ClockTimes{}, Constant: []string{}}
	var faults fault.List
	for _, v := range views {
		faults = append(faults, clockLacks(v)...)
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	for n, v := range views {
		h, err := newHours(ctx, v, o)
		if err != nil {
			return nil, err
		}
		if n == 0 {
			if out.Sun, err = sunOf(h); err != nil {
				return nil, err
			}
		}
		out.add(h)
	}
	return out, out.order()
}

// clockLacks tells what a set-up lacks for a clock.
func clockLacks(v *plan.View) fault.List {
	d := &v.Document
	var missing []string
	for _, f := range []struct {
		name  string
		there bool
	}{{"place", d.Place != nil}, {"date", d.Date != nil}, {"time", d.Time != nil}, {"zone", d.Zone != ""}} {
		if !f.there {
			missing = append(missing, f.name)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	return fault.List{{Place: v.Places.At(""), Path: v.Name, Text: "a light clock hangs on where and when, and the plan has no " + strings.Join(missing, ", no "),
		Hint: "add place: 55.95 N, 3.19 W, date: 2027-03-03, time: 13:00 and zone: Europe/London"}}
}

func sunOf(h *hours) (ClockSun, error) {
	e, err := daylight.DayEvents(*h.doc.Date, h.place, h.From.Location())
	s := ClockSun{Date: h.doc.Date.String(), Zone: h.From.Location().String()}
	first := func(c []daylight.Crossing) *string {
		if len(c) == 0 {
			return nil
		}
		return stamp(c[0].At)
	}
	s.Rise, s.Set, s.Dawn, s.Dusk = first(e.Horizon.Rises), first(e.Horizon.Sets), first(e.Civil.Rises), first(e.Civil.Sets)
	if len(e.Transits) > 0 {
		s.Transit = stamp(e.Transits[0])
	}
	return s, err
}

// stamp prints an instant to the second on its zone's clock.
func stamp(t time.Time) *string {
	text := t.Round(time.Second).Format(time.RFC3339)
	return &text
}

// add works out a set-up's windows and what goes with them.
func (c *Clock) add(h *hours) {
	day := ClockDay{Setup: h.setup.Name, At: h.at, Grid: h.Grid, Suns: h.suns, Place: h.place, Rig: *h.doc.Rig, Shoot: *h.doc.Shoot}
	half, double := h.day.Scaled(0.5), h.day.Scaled(2)
	var curves []clock.Curve
	var targets []*clock.Target
	for i := range h.setup.Targets {
		t := h.target(&h.setup.Targets[i])
		t.Curve = h.day.Fixed(&t.Target)
		w := c.window(h, &t, "fixed", t.Curve)
		h.forecast(&w, &t.Target, half.Fixed(&t.Target), double.Fixed(&t.Target))
		c.Windows = append(c.Windows, w)
		if len(t.Target.Lamps) > 0 {
			curve, factors := h.day.Following(&t.Target)
			t.Following = &curve
			w := c.window(h, &t, "following", curve)
			a, _ := half.Following(&t.Target)
			b, _ := double.Following(&t.Target)
			h.forecast(&w, &t.Target, a, b)
			w.Follow = h.schedule(&t.Target, &w, factors)
			c.Windows = append(c.Windows, w)
		}
		day.Targets = append(day.Targets, t)
		curves, targets = append(curves, t.Curve), append(targets, &t.Target)
	}
	if len(curves) > 0 {
		day.All = clock.Together(curves, targets, clock.Likely)
		if len(day.All) > 0 {
			n := nearestWindow(day.All, h.at)
			day.All = day.All[n : n+1]
		}
	}
	c.Days = append(c.Days, day)
	c.Cautions = append(c.Cautions, h.cautions()...)
	for _, o := range h.sunIn() {
		if !slices.ContainsFunc(c.Openings, func(known ClockTimes) bool { return known.About == o.About && slices.Equal(known.Times, o.Times) }) {
			c.Openings = append(c.Openings, o)
		}
	}
	for _, name := range h.constants {
		if !slices.Contains(c.Constant, name) {
			c.Constant = append(c.Constant, name)
		}
	}
}

// target puts a set-up's target into the clock's terms.
func (h *hours) target(t *scene.TargetUse) ClockTarget {
	out := ClockTarget{Target: clock.Target{Wanted: t.Wanted, Tolerance: t.Tolerance, Over: t.Over}}
	if t.Walk >= 0 {
		w := &h.setup.Walks[t.Walk]
		out.Name = w.Name + " swing"
		out.Target.Over, out.Target.Tolerance, out.Target.Receivers = clock.OverDarkest, 0, w.Receivers
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

// order finds the order of the set-ups in which their targets all hold, each in the window by its own time. The day begins when
// rigging would for the first of them by the plan.
func (c *Clock) order() error {
	if len(c.Days) < 2 {
		return nil
	}
	date := c.Days[0].Grid.From
	start := c.Days[0].At
	var jobs []clock.Job
	var names []string
	for _, d := range c.Days {
		if d.Grid.From.Equal(date) {
			jobs = append(jobs, clock.Job{Name: d.Setup, Rig: d.Rig, Shoot: d.Shoot, Windows: d.All})
			names = append(names, d.Setup)
			if first := d.At.Add(-d.Rig.Duration()); first.Before(start) {
				start = first
			}
		} else {
			c.LeftOut = append(c.LeftOut, d.Setup)
		}
	}
	slots, left, err := clock.Order(start, jobs)
	if err != nil {
		return err
	}
	for _, s := range slots {
		c.Order = append(c.Order, ClockSlot{names[s.Job], *stamp(s.RigFrom), *stamp(s.Roll), *stamp(s.Done), s.Slack})
	}
	for _, j := range left {
		c.LeftOut = append(c.LeftOut, names[j])
	}
	return nil
}

// Missed names the targets that no window meets, lamps fixed or following.
func (c *Clock) Missed() (missed []string) {
	held := map[string]bool{}
	for _, w := range c.Windows {
		held[w.Setup+": "+w.Target] = held[w.Setup+": "+w.Target] || w.Opens != nil
	}
	for _, w := range c.Windows {
		if name := w.Setup + ": " + w.Target; !held[name] && !slices.Contains(missed, name) {
			missed = append(missed, name)
		}
	}
	return missed
}
