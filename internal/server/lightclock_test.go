package server

import (
	"context"
	"strings"
	"testing"

	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// outside is a table in the open under the model's sky.
var outside = strings.Replace(small, "points:", `place: 55.95 N, 3.19 W
date: 2027-03-03
time: 13:00
zone: Europe/London
sky: clear
targets:
  - {point: table, level: +1, tolerance: 0.5}
points:`, 1)

// The clock of the page is the pipeline's, field by field; at each hour the level is the curve's at that minute; the chart's
// scale of time is that of its drawing.
func TestTheLightClockIsThePipelines(t *testing.T) {
	c := running(t, withPlan(t, outside))
	e := await(t, c.hear("/api/clock?plan=table.yaml&width=900"), clockKind, func(*ClockEvent) bool { return true })
	p, faults := plan.Read("table.yaml", []byte(outside), nil)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	view, _ := p.Setup(p.Setups()[0])
	want, err := pipeline.LightClock(context.Background(), []*plan.View{view}, pipeline.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if asJSON(t, e.Clock) != asJSON(t, want) {
		t.Errorf("clock\n%s\nwant\n%s", asJSON(t, e.Clock), asJSON(t, want))
	}
	if len(e.Hours) != 24*60/pipeline.SampleEvery+1 || e.Hours[156].Clock != "13:00" || e.Planned != 13*60 || e.Hours[156].Levels[0] == e.Hours[24].Levels[0] {
		t.Errorf("%d hours, planned at %d; at 13:00 %v, at 2:00 %v", len(e.Hours), e.Planned, e.Hours[156], e.Hours[24])
	}
	if e.Revision != 1 || len(e.Printed) != len(want.Windows) || len(e.Targets) != 1 {
		t.Errorf("revision %d, printed %q, targets %q", e.Revision, e.Printed, e.Targets)
	}
	if !(0 < e.Time.Left && e.Time.Left < e.Time.Right && e.Time.Right < 1) || e.Time.From != 0 || e.Time.To != 24*60 {
		t.Errorf("time %+v", e.Time)
	}
	for theme, ground := range map[string]string{e.Charts.Day: "#ffffff", e.Charts.Night: "#000000", e.Charts.Rain: "#ffffff"} {
		if !strings.HasPrefix(theme, "<svg ") || !strings.Contains(theme, `class="ground" width="900"`) || !strings.Contains(theme, `fill="`+ground+`"`) {
			t.Errorf("chart %.300s", theme)
		}
	}
}

func TestALightClockNeedsPlaceAndDay(t *testing.T) {
	c := running(t, withPlan(t, small))
	e := await(t, c.hear("/api/clock?plan=table.yaml"), faultsKind, func(*FaultsEvent) bool { return true })
	if len(e.Faults) != 1 || !strings.Contains(e.Faults[0].Text, "no place, no date, no time, no zone") || e.Faults[0].Hint == "" {
		t.Errorf("faults %+v", e.Faults)
	}
}

func TestWindowsArePrinted(t *testing.T) {
	at := func(s string) *string { s = "2027-03-03T" + s + "Z"; return &s }
	for want, w := range map[string]pipeline.ClockWindow{
		"never holds": {},
		"all day":     {Opens: at("00:00:00"), Best: at("00:00:00"), Closes: at("23:59:00"), Minutes: 1439},
		"16:59–17:31, best 17:10, 32 min, rig by 16:00": {Opens: at("16:58:31"), Best: at("17:10:00"), Closes: at("17:30:40"), Minutes: 32.15, RigBy: at("15:59:50")},
	} {
		if got := printedWindow(&w); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// What lamps that follow are set to is told by the clock, in the plan's way of writing; a window without lamps tells nothing.
func TestWhatFollowsIsPrinted(t *testing.T) {
	k := unit.Kelvin(5600)
	got := followTimes([]pipeline.ClockWindow{
		{Target: "table", Mode: "fixed"},
		{Target: "table", Mode: "following", Follow: []pipeline.ClockStep{
			{At: "2027-03-03T09:30:00Z", Lamps: []pipeline.ClockSet{{Lamp: "key", Dim: 0.5, Colour: &k}, {Lamp: "fill", Dim: 0.12}}}}},
	})
	if len(got) != 1 || got[0].Target != "table" || strings.Join(got[0].Lamps, "|") != "key|fill" || got[0].Steps[0].Clock != "09:30" ||
		strings.Join(got[0].Steps[0].Settings, "|") != "50 %, 5600 K|12 %" {
		t.Errorf("%+v", got)
	}
	lines := cautionLines([]pipeline.ClockTimes{{About: "sun in the lens", Text: "flares", Times: []pipeline.ClockSpan{{Opens: "2027-03-03T09:30:00Z", Closes: "2027-03-03T10:00:00Z"}}}})
	if len(lines) != 1 || lines[0].Text != "flares 09:30–10:00" {
		t.Errorf("%+v", lines)
	}
}
