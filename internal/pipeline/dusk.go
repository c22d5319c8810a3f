package pipeline

import (
	"context"
	"math"
	"slices"

	"gloam/internal/clock"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Dusk is what it takes to make the window of a set-up look like dusk by day: the sky in it at some stops over grey.
type Dusk struct {
	Setup   string      `json:"setup"`
	Ambient string      `json:"ambient"`
	Point   string      `json:"point"`
	Wanted  unit.Stop   `json:"wanted_stops"`
	Sky     unit.Stop   `json:"sky_over_grey_stops"` // in the window's own light, which no gel and no stop can change
	Times   float64     `json:"key_over_ambient"`
	Full    unit.Lux    `json:"full_lux"` // what the lamps of the plan can give the point
	Steps   []DuskStep  `json:"steps"`
	Orange  *DuskOrange `json:"orange"` // null where lamps or sky have no one colour
	Area    float64     `json:"gel_m2"`
	Order   float64     `json:"gel_with_spare_m2"`
}

// DuskStep is a window under a step of ND: what is left of it and what then is asked of the lamps. Level is of all they can
// give; above 1 is out of reach.
type DuskStep struct {
	ND      unit.Density `json:"nd_density"`
	Ambient unit.Lux     `json:"ambient_lux"`
	Sky     unit.Nit     `json:"sky_cd_m2"`
	Key     unit.Lux     `json:"key_lux"`
	Lamp    unit.Lux     `json:"lamp_lux"`
	Level   *float64     `json:"level_share"`
}

// DuskOrange is the gel that would bring the window to the lamps' colour: the shift wanted, and the trade gel nearest to it.
type DuskOrange struct {
	Wanted        unit.Mired    `json:"wanted_mired"`
	Gel           string        `json:"gel"`
	Shift         unit.Mired    `json:"shift_mired"`
	Transmittance unit.Fraction `json:"transmittance"`
}

// darkestGel is the most ND that is tried on a window.
const darkestGel unit.Density = 2.4

// DayForDusk works out the dusk of the first window whose sky was read, by spot and by incident meter.
func DayForDusk(ctx context.Context, view *plan.View, wanted unit.Stop, o Options) (*Dusk, error) {
	d := &view.Document
	for _, a := range d.Ambient {
		if a.Value.Luminance != nil && len(a.Value.Through) > 0 && a.Value.Point != "" {
			r, err := Run(ctx, view, o)
			if err != nil {
				return nil, err
			}
			return dusk(view, r, &a, wanted)
		}
	}
	return nil, fault.Fault{Path: view.Name, Text: "no window's sky was read", Hint: "give an ambient its luminance: 2400 cd/m2, through: window, and the point of its reading"}
}

func dusk(view *plan.View, r *Result, a *document.Entry[plan.Ambient], wanted unit.Stop) (*Dusk, error) {
	at := func(name string) int {
		return slices.IndexFunc(r.Levels.Points, func(p meter.Reading) bool { return p.Name == name })
	}
	read, point := at(a.Value.Point), at(r.Levels.Exposure.Reference)
	if read < 0 || point < 0 || share(r, read, a.Name) <= 0 {
		return nil, fault.Fault{Path: view.Name, Text: "the window's light does not get to where it was read"}
	}
	bare := a.Value.Reading * share(r, point, a.Name) / share(r, read, a.Name)
	window := clock.Dusk{Sky: *a.Value.Luminance, Ambient: bare, Wanted: wanted}
	out := &Dusk{Setup: view.Name, Ambient: a.Name, Point: r.Levels.Exposure.Reference, Wanted: wanted, Sky: window.OverGrey(), Times: window.KeyOverAmbient(), Steps: []DuskStep{}}
	var colour unit.Kelvin
	most := unit.Lux(0)
	for i := range r.Setup.Lamps {
		u := &r.Setup.Lamps[i]
		if u.Kit == nil || u.Level(u.Dim) == 0 {
			continue
		}
		lux := share(r, point, u.Name) * unit.Lux(u.Level(u.MaxDim)/u.Level(u.Dim))
		out.Full += lux
		if l, ok := view.Document.Lamps.Get(u.Name); ok && lux > most {
			most, colour = lux, *l.Colour
		}
	}
	for _, s := range window.Gels(darkestGel, out.Full) {
		step := DuskStep{ND: s.ND, Ambient: s.Ambient, Sky: s.Sky, Key: s.Key, Lamp: s.Lamp}
		if out.Full > 0 {
			step.Level = &s.Level
		}
		out.Steps = append(out.Steps, step)
	}
	if colour > 0 {
		out.Orange = orangeFor(colour.Mired() - a.Value.Colour.Mired())
	}
	var panes []unit.Size2
	for _, room := range view.Document.Set.Rooms {
		for _, o := range room.Value.Openings {
			if slices.Contains(a.Value.Through, o.Name) {
				panes = append(panes, o.Value.Size)
			}
		}
	}
	out.Area, out.Order = clock.GelArea(panes)
	return out, nil
}

// orangeFor returns the correction gel that comes nearest to a shift; none where no gel is nearer than a bare window.
func orangeFor(wanted unit.Mired) *DuskOrange {
	best := &DuskOrange{Wanted: wanted, Gel: "none", Transmittance: 1}
	for _, g := range spectrum.TradeGels() {
		if math.Abs(float64(g.Shift-wanted)) < math.Abs(float64(best.Shift-wanted)) {
			best.Gel, best.Shift, best.Transmittance = g.Name, g.Shift, g.Transmittance
		}
	}
	return best
}
