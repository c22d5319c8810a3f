package cli

import (
	"sort"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/unit"
)

// sunAnswer is what is known of a place and a time. Times are on the zone's clock; a list holds every event of the day, and the
// fields beside it the first of each kind or null.
type sunAnswer struct {
	Place struct {
		Latitude  unit.Degree `json:"latitude_deg"`
		Longitude unit.Degree `json:"longitude_deg"`
	} `json:"place"`
	At        string       `json:"at"`
	Zone      string       `json:"zone"`
	Altitude  unit.Degree  `json:"altitude_deg"`
	Geometric unit.Degree  `json:"geometric_altitude_deg"`
	Azimuth   unit.Bearing `json:"azimuth_deg"`

	Sky              string      `json:"sky"`
	Direct           unit.Lux    `json:"direct_lux"`
	Diffuse          unit.Lux    `json:"sky_lux"`
	Global           unit.Lux    `json:"horizontal_lux"`
	DirectInterval   *unit.Stop  `json:"direct_interval_stops"`
	DiffuseInterval  unit.Stop   `json:"sky_interval_stops"`
	GlobalInterval   unit.Stop   `json:"horizontal_interval_stops"`
	Course           string      `json:"course"`
	Rise             *string     `json:"rise"`
	Set              *string     `json:"set"`
	Dawn             *string     `json:"dawn"`
	Dusk             *string     `json:"dusk"`
	NauticalDawn     *string     `json:"nautical_dawn"`
	NauticalDusk     *string     `json:"nautical_dusk"`
	AstronomicalDawn *string     `json:"astronomical_dawn"`
	AstronomicalDusk *string     `json:"astronomical_dusk"`
	Transit          *string     `json:"transit"`
	LowerTransit     *string     `json:"lower_transit"`
	Highest          unit.Degree `json:"highest_deg"`
	Events           []sunEvent  `json:"events"`
	Golden           []sunSpan   `json:"golden"`
	Blue             []sunSpan   `json:"blue"`
	Moon             moonAnswer  `json:"moon"`
}

type sunEvent struct {
	Event   string       `json:"event"`
	At      string       `json:"at"`
	Azimuth unit.Bearing `json:"azimuth_deg"`
	when    time.Time    // as found, for the print
}

type sunSpan struct {
	From string `json:"from"`
	To   string `json:"to"`
}

type moonAnswer struct {
	Altitude unit.Degree  `json:"altitude_deg"`
	Azimuth  unit.Bearing `json:"azimuth_deg"`
	Phase    unit.Degree  `json:"phase_deg"`
	Name     string       `json:"phase"`
	Lit      float64      `json:"lit_share"`
	Lux      unit.Lux     `json:"lux"`
}

// courses say what the sun does in a day.
var courses = map[daylight.Course]string{
	daylight.Crosses: "crosses the horizon", daylight.StaysAbove: "up all day", daylight.StaysBelow: "down all day",
}

func answerSun(place unit.Position, at time.Time, s daylight.Sun, sky daylight.Kind, e *daylight.Events) *sunAnswer {
	levels := daylight.LevelsAt(s.Geometric, s.YearDay, sky)
	m := daylight.MoonAt(at, place)
	a := &sunAnswer{
		At: at.Format(time.RFC3339), Zone: at.Location().String(), Altitude: s.Altitude, Geometric: s.Geometric, Azimuth: s.Azimuth,
		Sky: sky.String(), Direct: levels.Direct, Diffuse: levels.Diffuse, Global: levels.Global,
		DiffuseInterval: levels.Interval.Diffuse, GlobalInterval: levels.Interval.Global,
		Course: courses[e.Horizon.Course], Highest: e.Highest, Events: sunEvents(e, place), Golden: sunSpans(e.Golden), Blue: sunSpans(e.Blue),
		Moon: moonAnswer{m.Altitude, m.Azimuth, m.Phase, m.PhaseName(), m.Lit, m.Lux()},
	}
	a.Place.Latitude, a.Place.Longitude = place.Latitude, place.Longitude
	if levels.Direct > 0 {
		a.DirectInterval = &levels.Interval.Direct
	}
	first := map[string]*string{}
	for i := len(a.Events) - 1; i >= 0; i-- {
		first[a.Events[i].Event] = &a.Events[i].At
	}
	a.Rise, a.Set, a.Dawn, a.Dusk = first["rise"], first["set"], first["dawn"], first["dusk"]
	a.NauticalDawn, a.NauticalDusk = first["nautical dawn"], first["nautical dusk"]
	a.AstronomicalDawn, a.AstronomicalDusk = first["astronomical dawn"], first["astronomical dusk"]
	a.Transit, a.LowerTransit = first["transit"], first["lower transit"]
	return a
}

// sunEvents returns the events of a day in order.
func sunEvents(e *daylight.Events, place unit.Position) []sunEvent {
	events := []sunEvent{}
	add := func(name string, at time.Time, azimuth unit.Bearing) {
		events = append(events, sunEvent{name, at.Round(time.Second).Format(time.RFC3339), azimuth, at})
	}
	for _, p := range []struct {
		rise, set string
		pass      daylight.Pass
	}{
		{"rise", "set", e.Horizon}, {"dawn", "dusk", e.Civil},
		{"nautical dawn", "nautical dusk", e.Nautical}, {"astronomical dawn", "astronomical dusk", e.Astronomical},
	} {
		for _, c := range p.pass.Rises {
			add(p.rise, c.At, c.Azimuth)
		}
		for _, c := range p.pass.Sets {
			add(p.set, c.At, c.Azimuth)
		}
	}
	for _, at := range e.Transits {
		add("transit", at, daylight.SunAt(at, place).Azimuth)
	}
	for _, at := range e.LowerTransits {
		add("lower transit", at, daylight.SunAt(at, place).Azimuth)
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].when.Before(events[j].when) })
	return events
}

func sunSpans(spans []daylight.Span) []sunSpan {
	out := []sunSpan{}
	for _, s := range spans {
		out = append(out, sunSpan{s.From.Round(time.Second).Format(time.RFC3339), s.To.Round(time.Second).Format(time.RFC3339)})
	}
	return out
}
