package server

import (
	"fmt"
	"math"
	"time"

	"gloam/internal/pipeline"
	"gloam/internal/unit"
)

// HourLevels are the levels of a day's targets at one time, with the lamps as planned, as they are printed.
type HourLevels struct {
	Minute int      `json:"minute" doc:"since the day began: a place on the chart's scale of time"`
	Clock  string   `json:"clock"`
	Levels []string `json:"levels" doc:"by target, with the interval"`
}

func hoursOf(d *pipeline.ClockDay) []HourLevels {
	hours := []HourLevels{}
	for k := 0; k < d.Grid.Count; k += pipeline.SampleEvery {
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
	if w.RigBy == nil && w.Minutes >= pipeline.WholeDay {
		return "all day"
	}
	text := fmt.Sprintf("%s–%s, best %s, %.0f min", hour(w.Opens), hour(w.Closes), hour(w.Best), w.Minutes)
	if w.RigBy != nil {
		text += ", rig by " + hour(w.RigBy)
	}
	return text
}

// hour is the clock time of a stamp that pipeline printed.
func hour(stamp *string) string {
	t, err := time.Parse(time.RFC3339, *stamp)
	if err != nil {
		panic("server: a stamp is no RFC 3339")
	}
	return t.Round(time.Minute).Format("15:04")
}
