package cli

import (
	"fmt"
	"math"
	"strings"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/unit"
)

// printSun prints a place and a time as a crew reads it: the sun now, the light, the day by the clock.
func (t *terminal) printSun(a *sunAnswer, place unit.Position, at time.Time, s daylight.Sun, e *daylight.Events) {
	t.line("%s", t.style.bold(sunStands(s)))
	t.line("%s", place)
	t.line("%s (%s)", at.Format("Monday 2 January 2006, 15:04"), zoneName(at))
	t.heading("Light, sky " + a.Sky + "; ± is 95 %")
	if a.DirectInterval != nil {
		t.line("  sun      %s %s, square-on to it", a.Direct.WithFootCandles(), a.DirectInterval.Interval())
	}
	t.line("  sky      %s %s, on level ground", a.Diffuse.WithFootCandles(), a.DiffuseInterval.Interval())
	t.line("  both     %s %s, on level ground", a.Global.WithFootCandles(), a.GlobalInterval.Interval())
	if s.Geometric < daylight.Civil {
		t.line("  %s", wrapped(moonLine(&a.Moon), lineWidth-2, 4))
	}
	t.heading("The day")
	for _, event := range a.Events {
		line := "  " + clock(event.when, e.To) + "  " + pad(eventNames[event.Event], 42)
		switch event.Event {
		case "rise", "set":
			line += compass(event.Azimuth)
		case "transit":
			line += height(daylight.SunAt(event.when, place).Altitude) + ", " + compass(event.Azimuth)
		}
		t.line("%s", line)
	}
	for _, line := range unusual(e) {
		t.line("  %s", line)
	}
	t.line("  golden time  %s", spans(e.Golden, e.To))
	t.line("  blue time    %s", spans(e.Blue, e.To))
	t.line("\n%s", t.style.dim(wrapped("A forecast of the open horizon: hills and houses move rise and set by far more than a minute, "+
		"the air by a minute and more near the horizon. Levels are a climate's mean; re-meter on the day.", lineWidth, 0)))
}

// height prints how high the sun stands.
func height(altitude unit.Degree) string {
	if altitude < 0 {
		return fmt.Sprintf("%.1f° below", -float64(altitude))
	}
	return fmt.Sprintf("%.1f° up", float64(altitude))
}

// sunStands says where the sun is, and what shadows do.
func sunStands(s daylight.Sun) string {
	switch {
	case s.Altitude+s.Radius <= 0:
		return "Sun " + height(s.Altitude) + " the horizon, " + compass(s.Azimuth)
	case s.Altitude < s.Radius:
		return "Sun on the horizon, " + compass(s.Azimuth)
	}
	return fmt.Sprintf("Sun %s, %s; shadows %.2g times the height", height(s.Altitude), compass(s.Azimuth), 1/math.Tan(s.Altitude.Radians()))
}

// eventNames say the events in full.
var eventNames = map[string]string{
	"rise": "sunrise", "set": "sunset", "dawn": "dawn (civil, sun 6° below)", "dusk": "dusk (civil, sun 6° below)",
	"nautical dawn": "nautical dawn (12° below)", "nautical dusk": "nautical dusk (12° below)",
	"astronomical dawn": "astronomical dawn: night ends (18° below)", "astronomical dusk": "astronomical dusk: night begins (18° below)",
	"transit": "sun in the meridian", "lower transit": "sun in the meridian, under the pole",
}

// unusual names what the day lacks.
func unusual(e *daylight.Events) []string {
	var lines []string
	switch {
	case e.Horizon.Course == daylight.StaysAbove:
		lines = append(lines, "polar day: the sun does not set")
	case e.Horizon.Course == daylight.StaysBelow:
		lines = append(lines, "polar night: the sun does not rise")
	case e.Civil.Course == daylight.StaysAbove:
		lines = append(lines, "no civil dusk: bright twilight all night")
	case e.Nautical.Course == daylight.StaysAbove:
		lines = append(lines, "no nautical dusk: twilight all night")
	case e.Astronomical.Course == daylight.StaysAbove:
		lines = append(lines, "no full night: twilight till dawn")
	}
	if e.Horizon.Course == daylight.StaysBelow && e.Civil.Course == daylight.StaysBelow {
		lines = append(lines, "no civil twilight either")
	}
	if hours := e.To.Sub(e.From).Hours(); hours != 24 {
		lines = append(lines, fmt.Sprintf("the clock is changed: a day of %.4g hours", hours))
	}
	return lines
}

func moonLine(m *moonAnswer) string {
	if m.Altitude <= 0 {
		return fmt.Sprintf("moon     down, %s", m.Name)
	}
	return fmt.Sprintf("moon     %.2g lx from %.0f° up, %s; %s, %.0f %% lit", float64(m.Lux), float64(m.Altitude), compass(m.Azimuth), m.Name, 100*m.Lit)
}

// spans prints spans of a day as from and to.
func spans(of []daylight.Span, dayEnd time.Time) string {
	if len(of) == 0 {
		return "none"
	}
	var texts []string
	for _, s := range of {
		texts = append(texts, clock(s.From, dayEnd)+"–"+clock(s.To, dayEnd))
	}
	return strings.Join(texts, ", ")
}

var compassPoints = [16]string{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"}

// compass prints a bearing in whole degrees from true north and as a point of the compass.
func compass(b unit.Bearing) string {
	whole := math.Mod(math.Round(float64(b)), 360)
	return fmt.Sprintf("bearing %03.0f° %s", whole, compassPoints[int(float64(b)/22.5+0.5)%16])
}

// clock prints a time of day to the minute; the day's end is 24:00.
func clock(at, dayEnd time.Time) string {
	if at = at.Round(time.Minute); !at.Before(dayEnd) {
		return "24:00"
	}
	return at.Format("15:04")
}

// zoneName names the zone's clock at a time.
func zoneName(at time.Time) string {
	offset := at.Format("UTC-07:00")
	if name := at.Location().String(); name != offset {
		return fmt.Sprintf("%s, %s", name, offset)
	}
	return offset
}
