package server

import (
	"fmt"
	"math"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/pipeline"
	"gloam/internal/unit"
)

// HourLevels are the levels of a day's targets at one time, with the lamps as planned, as they are printed.
type HourLevels struct {
	Minute int      `json:"minute" doc:"since the day began: a place on the chart's scale of time"`
	Clock  string   `json:"clock"`
	Levels []string `json:"levels" doc:"by target, with the interval"`
	Points []string `json:"points" doc:"by point over the key, with the interval"`
	Sun    *SunAt   `json:"sun,omitempty" doc:"while it is up"`
}

// SunAt is where the sun stands.
type SunAt struct {
	Toward   Spot         `json:"toward" doc:"to it, as seen from above, of length 1"`
	Altitude unit.Degree  `json:"altitude_deg"`
	Azimuth  unit.Bearing `json:"azimuth_deg"`
}

func hoursOf(d *pipeline.ClockDay) []HourLevels {
	hours := []HourLevels{}
	for k := 0; k < d.Grid.Count; k += pipeline.SampleEvery {
		h := HourLevels{k, d.Grid.At(k).Format("15:04"), []string{}, []string{}, nil}
		for i := range d.Targets {
			h.Levels = append(h.Levels, levelAt(&d.Targets[i].Curve, k))
		}
		for i := range d.Points {
			h.Points = append(h.Points, levelAt(&d.Points[i].Curve, k))
		}
		if s := d.Suns[k]; s.Altitude > 0 {
			sin, cos := math.Sincos(unit.Degree(s.Azimuth - d.North).Radians())
			h.Sun = &SunAt{Spot{sin, cos}, s.Altitude, s.Azimuth}
		}
		hours = append(hours, h)
	}
	return hours
}

func levelAt(c *clock.Curve, k int) string {
	level := c.Level[k]
	if math.IsNaN(level) || math.IsInf(level, 0) {
		return "dark"
	}
	return unit.Stop(level).String() + " " + unit.Stop(c.Interval[k]).Interval()
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

// FollowTimes is what lamps are set to through a day to keep a target.
type FollowTimes struct {
	Target string     `json:"target"`
	Lamps  []string   `json:"lamps"`
	Steps  []LampStep `json:"steps"`
}

// LampStep is the lamps' settings from a time on, in the order of the lamps.
type LampStep struct {
	Clock    string   `json:"clock"`
	Settings []string `json:"settings"`
}

func followTimes(windows []pipeline.ClockWindow) []FollowTimes {
	all := []FollowTimes{}
	for i := range windows {
		w := &windows[i]
		if len(w.Follow) == 0 || len(w.Follow[0].Lamps) == 0 {
			continue
		}
		f := FollowTimes{Target: w.Target}
		for _, set := range w.Follow[0].Lamps {
			f.Lamps = append(f.Lamps, set.Lamp)
		}
		for _, step := range w.Follow {
			s := LampStep{Clock: hour(&step.At)}
			for _, set := range step.Lamps {
				text := set.Dim.String()
				if set.Colour != nil {
					text += ", " + set.Colour.String()
				}
				s.Settings = append(s.Settings, text)
			}
			f.Steps = append(f.Steps, s)
		}
		all = append(all, f)
	}
	return all
}

func cautionLines(cautions []pipeline.ClockTimes) []Line {
	all := []Line{}
	for _, c := range cautions {
		var times []string
		for _, t := range c.Times {
			times = append(times, hour(&t.Opens)+"–"+hour(&t.Closes))
		}
		all = append(all, Line{c.About, strings.TrimSpace(c.Text + " " + strings.Join(times, ", "))})
	}
	return all
}

// hour is the clock time of a stamp that pipeline printed.
func hour(stamp *string) string {
	t, err := time.Parse(time.RFC3339, *stamp)
	if err != nil {
		panic("server: a stamp is no RFC 3339")
	}
	return t.Round(time.Minute).Format("15:04")
}
