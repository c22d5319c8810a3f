package pipeline

import (
	"fmt"
	"math"
	"strings"
	"time"

	"gloam/internal/chart"
	"gloam/internal/clock"
	"gloam/internal/unit"
)

// WholeDay is the minutes of a day, less where the clock is put forward: a window as long holds all day.
const WholeDay = 23 * 60

// SampleEvery is how far apart levels are drawn and told, in minutes.
const SampleEvery = 5

// Chart puts a set-up's day into the terms of the chart.
func (d *ClockDay) Chart() chart.Day {
	out := chart.Day{From: 0, To: unit.Clock(d.Grid.Count - 1)}
	for i, s := range d.Suns {
		out.Sun = append(out.Sun, chart.SunSample{At: unit.Clock(i), Altitude: s.Geometric})
	}
	for i := range d.Targets {
		t := &d.Targets[i]
		line := targetLine(t)
		switch {
		case t.Target.Over == clock.OverKey:
			out.Lines = append(out.Lines, line)
		case t.Target.Over != clock.OverDarkest && out.Ratio == nil:
			out.Ratio = &line
		}
		out.Windows = append(out.Windows, chart.Window{Name: t.Name, Text: line.Text, Spans: targetSpans(d, t)})
	}
	return out
}

// targetLine is a target's level through the day.
func targetLine(t *ClockTarget) chart.Line {
	wanted := fmt.Sprintf("wanted %s ±%.2g", t.Target.Wanted, float64(t.Target.Tolerance))
	switch {
	case t.Target.Over == clock.OverDarkest:
		wanted = "at most " + strings.TrimPrefix(t.Target.Wanted.String(), "+")
	case t.Target.Bound == clock.AtMost:
		wanted = fmt.Sprintf("at most %s, within %.2g", t.Target.Wanted, float64(t.Target.Tolerance))
	case t.Target.Bound == clock.AtLeast:
		wanted = fmt.Sprintf("at least %s, within %.2g", t.Target.Wanted, float64(t.Target.Tolerance))
	}
	line := chart.Line{Name: t.Name, Text: wanted, Target: &chart.Range{Low: t.Target.Wanted - t.Target.Tolerance, High: t.Target.Wanted + t.Target.Tolerance}}
	for k := 0; k < len(t.Curve.Level); k += SampleEvery {
		line.Samples = append(line.Samples, chart.Sample{At: unit.Clock(k), Level: unit.Stop(t.Curve.Level[k]), Interval: unit.Stop(t.Curve.Interval[k])})
	}
	return line
}

// targetSpans are a target's windows; maybe where it holds for certain nowhere in one.
func targetSpans(d *ClockDay, t *ClockTarget) (spans []chart.Span) {
	minute := func(at time.Time) unit.Clock { return unit.Clock(math.Round(at.Sub(d.Grid.From).Minutes())) }
	sure := t.Curve.Windows(&t.Target, clock.Sure)
	for _, w := range t.Curve.Windows(&t.Target, clock.Likely) {
		maybe := true
		for _, s := range sure {
			maybe = maybe && (s.Opens.Before(w.Opens) || s.Closes.After(w.Closes))
		}
		spans = append(spans, chart.Span{Opens: minute(w.Opens), Best: minute(w.Best), Closes: minute(w.Closes), Maybe: maybe})
	}
	return spans
}
