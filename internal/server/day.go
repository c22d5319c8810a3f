package server

import (
	"fmt"
	"math"
	"strings"
	"time"

	"gloam/internal/chart"
	"gloam/internal/clock"
	"gloam/internal/pipeline"
	"gloam/internal/unit"
)

// sampleEvery is how far apart levels are drawn and told, in minutes.
const sampleEvery = 5

// dayChart puts a set-up's day into the terms of the chart.
func dayChart(d *pipeline.ClockDay) chart.Day {
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
func targetLine(t *pipeline.ClockTarget) chart.Line {
	wanted := fmt.Sprintf("wanted %s ±%.2g", t.Target.Wanted, float64(t.Target.Tolerance))
	if t.Target.Over == clock.OverDarkest {
		wanted = "at most " + strings.TrimPrefix(t.Target.Wanted.String(), "+")
	}
	line := chart.Line{Name: t.Name, Text: wanted, Target: &chart.Range{Low: t.Target.Wanted - t.Target.Tolerance, High: t.Target.Wanted + t.Target.Tolerance}}
	for k := 0; k < len(t.Curve.Level); k += sampleEvery {
		line.Samples = append(line.Samples, chart.Sample{At: unit.Clock(k), Level: unit.Stop(t.Curve.Level[k]), Interval: unit.Stop(t.Curve.Interval[k])})
	}
	return line
}

// targetSpans are a target's windows; maybe where it holds for certain nowhere in one.
func targetSpans(d *pipeline.ClockDay, t *pipeline.ClockTarget) (spans []chart.Span) {
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

// HourLevels are the levels of a day's targets at one time, with the lamps as planned, as they are printed.
type HourLevels struct {
	Minute int      `json:"minute" doc:"since the day began: a place on the chart's scale of time"`
	Clock  string   `json:"clock"`
	Levels []string `json:"levels" doc:"by target, with the interval"`
}

func hoursOf(d *pipeline.ClockDay) []HourLevels {
	hours := []HourLevels{}
	for k := 0; k < d.Grid.Count; k += sampleEvery {
		h := HourLevels{k, d.Grid.At(k).Format("15:04"), []string{}}
		for i := range d.Targets {
			c := &d.Targets[i].Curve
			text := "dark"
			if level := c.Level[k]; !math.IsNaN(level) && !math.IsInf(level, 0) {
				text = unit.Stop(level).String() + " " + unit.Stop(c.Interval[k]).Interval()
			}
			h.Levels = append(h.Levels, text)
		}
		hours = append(hours, h)
	}
	return hours
}

// printedWindow tells a window in a line.
func printedWindow(w *pipeline.ClockWindow) string {
	if w.Opens == nil {
		return "never holds"
	}
	if w.RigBy == nil && w.Minutes >= wholeDay {
		return "all day"
	}
	text := fmt.Sprintf("%s–%s, best %s, %.0f min", hour(w.Opens), hour(w.Closes), hour(w.Best), w.Minutes)
	if w.RigBy != nil {
		text += ", rig by " + hour(w.RigBy)
	}
	return text
}

// wholeDay is the minutes of a day, less where the clock is put forward.
const wholeDay = 23 * 60

// hour is the clock time of a stamp that pipeline printed.
func hour(stamp *string) string {
	t, err := time.Parse(time.RFC3339, *stamp)
	if err != nil {
		panic("server: a stamp is no RFC 3339")
	}
	return t.Round(time.Minute).Format("15:04")
}
