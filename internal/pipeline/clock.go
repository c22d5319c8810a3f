package pipeline

import (
	"context"
	"slices"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/scene"
)

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
		if h.setup.Targets[i].Colour != nil {
			continue // a day's levels are worked out without their colours
		}
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
	day.North = h.north
	for i := range h.setup.Points {
		t := h.target(&scene.TargetUse{Point: i, Walk: -1, Over: scene.OverKey, Bound: scene.At})
		t.Curve = h.day.Fixed(&t.Target)
		day.Points = append(day.Points, t)
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
