package pipeline

import (
	"context"

	"gloam/internal/clock"
	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// Hold is the settings that a list of ambient readings asks for: with `ratio` the lamps follow the ambient, with `exposure`
// they give what it lost.
type Hold struct {
	Setup     string        `json:"setup"`
	Hold      string        `json:"hold"`
	Point     string        `json:"point"`
	Ratio     unit.Stop     `json:"ratio_stops"`
	Tolerance unit.Stop     `json:"tolerance_stops"`
	Lamps     []string      `json:"lamps"`
	Full      unit.Lux      `json:"full_lux"` // what the lamps can give together at their planned colour
	Settings  []HoldSetting `json:"settings"`
}

// HoldSetting is one reading and what it asks for. Level is of all the lamps can give at that colour; above 1 is out of reach.
type HoldSetting struct {
	Name        string       `json:"name"`
	Ambient     unit.Lux     `json:"ambient_lux"`
	Colour      unit.Kelvin  `json:"ambient_k"`
	Lamp        unit.Lux     `json:"lamp_lux"`
	Level       float64      `json:"level_share"`
	LampColour  unit.Kelvin  `json:"lamp_k"`
	Ratio       unit.Stop    `json:"ratio_stops"`
	Exposure    unit.Stop    `json:"exposure_stops"` // against the plan's
	OverKey     unit.Stop    `json:"over_key_stops"` // as if no filter were in
	ND          unit.Density `json:"nd_density"`
	Rest        unit.Stop    `json:"rest_stops"`
	Stop        unit.TStop   `json:"t_stop"`
	InReach     bool         `json:"in_reach"`
	InTolerance bool         `json:"in_tolerance"`
}

// HoldReadings works out what readings of the ambient ask of the lamps that a set-up's target over ambient is met by.
func HoldReadings(ctx context.Context, view *plan.View, exposure bool, readings []clock.Ambient, o Options) (*Hold, error) {
	r, err := Run(ctx, view, o)
	if err != nil {
		return nil, err
	}
	for i := range r.Setup.Targets {
		if t := &r.Setup.Targets[i]; t.IsLevel() && t.Over == scene.OverAmbient {
			return hold(view, r, t, exposure, readings)
		}
	}
	return nil, fault.Fault{Path: view.Name, Text: "there is no ratio to hold", Hint: "add a target over ambient: {point: lit side, over: ambient, level: +1}"}
}

func hold(view *plan.View, r *Result, t *scene.TargetUse, exposure bool, readings []clock.Ambient) (*Hold, error) {
	d := &view.Document
	out := &Hold{Setup: view.Name, Hold: "ratio", Point: r.Setup.Points[t.Point].Name, Ratio: t.Wanted, Tolerance: t.Tolerance, Settings: []HoldSetting{}}
	h := clock.Hold{Ratio: t.Wanted, Tolerance: t.Tolerance, Camera: r.Setup.Camera}
	h.Camera.ND = 0
	var lamps []*scene.LampUse
	var full []unit.Lux
	for i := range r.Setup.Lamps {
		u := &r.Setup.Lamps[i]
		lux := share(r, t.Point, u.Name)
		if l, ok := d.Lamps.Get(u.Name); ok && u.Kit != nil && lux > 0 && u.Level(u.Dim) > 0 {
			lux *= unit.Lux(u.Level(u.MaxDim) / u.Level(u.Dim))
			lamps, full, h.Lamp = append(lamps, u), append(full, lux), *l.Colour
			out.Lamps, out.Full = append(out.Lamps, u.Name), out.Full+lux
		}
	}
	h.Reference.Name = "plan"
	for _, s := range r.Setup.Sources {
		if a, ok := d.Ambient.Get(s.Name); ok && s.Ambient {
			h.Reference.Lux += share(r, t.Point, s.Name)
			h.Reference.Colour = *a.Colour
		}
	}
	if len(lamps) == 0 || h.Reference.Lux <= 0 {
		return nil, fault.Fault{Path: view.Name, Text: "holding needs a lamp of the kit and a reading of the ambient that both light " + out.Point}
	}
	h.Full = func(k unit.Kelvin) (sum unit.Lux, err error) {
		for i, u := range lamps {
			output, err := u.Kit.Output(k)
			if err != nil {
				return 0, err
			}
			sum += full[i] * unit.Lux(output/u.Output)
		}
		return sum, nil
	}
	work := h.HoldRatio
	if exposure {
		out.Hold, work = "exposure", h.HoldExposure
	}
	settings, err := work(readings)
	for _, s := range settings {
		out.Settings = append(out.Settings, HoldSetting{s.Name, s.Ambient.Lux, s.Ambient.Colour, s.Lamp, s.Level, s.LampColour, s.Ratio, s.Exposure, s.OverKey,
			s.Filter.ND, s.Filter.Rest, s.Filter.Stop, s.Level <= 1, s.InTolerance})
	}
	return out, err
}

// share is what a source gives a point.
func share(r *Result, point int, source string) unit.Lux {
	for _, by := range r.Levels.Points[point].By {
		if by.Source == source && by.Lux != nil {
			return *by.Lux
		}
	}
	return 0
}
