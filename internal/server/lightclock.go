package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"gloam/internal/chart"
	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
)

// ClockQuery names the set-up whose light clock is asked for.
type ClockQuery struct {
	PlanQuery
	Setup string `query:"setup" doc:"set-up by name; the first if not given"`
	Width int    `query:"width" minimum:"320" maximum:"2000" default:"1000" doc:"of the charts"`
}

// ClockEvent is a set-up's light clock: the chart that gloam clock writes, in each theme, and what it says in numbers and words.
type ClockEvent struct {
	Revision int             `json:"revision"`
	Charts   ThemedCharts    `json:"charts"`
	Time     TimeScale       `json:"time"`
	Clock    *pipeline.Clock `json:"clock" doc:"in the fields of gloam clock --json"`
	Printed  []string        `json:"printed" doc:"the windows again, as they are printed"`
	Follow   []FollowTimes   `json:"follow" doc:"what lamps that follow are set to, by window that has any"`
	Cautions []Line          `json:"cautions" doc:"what they are about, and when"`
	Targets  []string        `json:"targets"`
	Points   []string        `json:"points"`
	Hours    []HourLevels    `json:"hours"`
	Planned  int             `json:"planned_minute" doc:"the set-up's own time, on the scale of time"`
}

// ThemedCharts is one chart as SVG, for each theme of the page.
type ThemedCharts struct {
	Day   string `json:"day"`
	Night string `json:"night"`
	Rain  string `json:"rain"`
}

// TimeScale is where the chart's hours stand: From at the share Left of its width, To at the share Right, linear between.
type TimeScale struct {
	Left  float64 `json:"left"`
	Right float64 `json:"right"`
	From  float64 `json:"from_minute"`
	To    float64 `json:"to_minute"`
}

const clockKind = "clock"

// mostClocks bounds how many light clocks and searches are under way at once.
const mostClocks = 4

func (s *Server) clockAPI(api huma.API) {
	sse.Register(api, operation(api, "clock", http.MethodGet, "/api/clock", "The light clock of a set-up: progress, then the day; to cancel, hang up"),
		map[string]any{progressKind: ProgressEvent{}, faultsKind: FaultsEvent{}, clockKind: ClockEvent{}}, s.lightClock)
}

// lightClock works out a light clock for as long as who asked stays on the line.
func (s *Server) lightClock(ctx context.Context, in *ClockQuery, send sse.Sender) {
	s.follow(send, func(told *board) any { return s.day(ctx, in, told) })
}

// follow sends what long work tells and then what it comes to. Who has hung up has ended the work's context too.
func (s *Server) follow(send sse.Sender, work func(told *board) any) {
	select {
	case s.clocks <- struct{}{}:
		defer func() { <-s.clocks }()
	default:
		send.Data(faultsOf(0, fault.List{{Kind: fault.Unfinished, Text: "too many light clocks and searches are under way", Hint: "cancel one"}}))
		return
	}
	told, done := newBoard(), make(chan struct{})
	var last any
	go func() {
		defer close(done)
		last = work(told)
	}()
	for seen := 0; ; {
		events, n, news := told.since(seen)
		seen = n
		for _, e := range events {
			send.Data(e)
		}
		select {
		case <-news:
		case <-done:
			send.Data(last)
			return
		}
	}
}

// day returns the event that ends the stream: the clock, or why there is none.
func (s *Server) day(ctx context.Context, in *ClockQuery, told *board) any {
	d, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return faultsOf(0, err.(*Problem).Faults)
	}
	state, _ := d.State()
	view, err := s.view(file, in.Setup, state.Text)
	if err != nil {
		return faultsOf(state.Revision, fault.Of(err, fault.Unfinished))
	}
	o := pipeline.Defaults()
	o.Progress = func(share float64) { told.post(progressKind, ProgressEvent{state.Revision, share}) }
	c, err := pipeline.LightClock(ctx, []*plan.View{view}, o)
	if err != nil {
		return faultsOf(state.Revision, fault.Of(err, fault.Unfinished))
	}
	e, err := clockEvent(c, view.Document.Title, in.Width)
	if err != nil {
		return faultsOf(state.Revision, fault.Of(err, fault.Unfinished))
	}
	e.Revision = state.Revision
	return *e
}

// view reads a set-up of a plan; the first if none is named.
func (s *Server) view(file, setup, text string) (*plan.View, error) {
	p, faults := s.folder.read(file, text)
	if p == nil {
		return nil, faults.Err()
	}
	if setup == "" {
		setup = p.Setups()[0]
	}
	view, faults := p.Setup(setup)
	return view, faults.Err()
}

// clockEvent draws a light clock of one set-up.
func clockEvent(c *pipeline.Clock, title string, width int) (*ClockEvent, error) {
	day := &c.Days[0]
	e := &ClockEvent{Clock: c, Printed: []string{}, Follow: followTimes(c.Windows), Cautions: cautionLines(c.Cautions), Targets: []string{}, Points: []string{}, Hours: hoursOf(day), Planned: int(day.At.Sub(day.Grid.From).Minutes())}
	for i := range c.Windows {
		e.Printed = append(e.Printed, printedWindow(&c.Windows[i]))
	}
	for i := range day.Targets {
		e.Targets = append(e.Targets, day.Targets[i].Name)
	}
	for i := range day.Points {
		e.Points = append(e.Points, day.Points[i].Name)
	}
	hours := day.Chart()
	frame := chart.Frame{ID: "clock", Title: title + ", " + day.Setup, Note: c.Sun.Date + ", " + c.Sun.Zone, Width: float64(width), Height: 640}
	err := e.Charts.draw(frame, func(f chart.Frame) chart.Drawing {
		drawn := hours.Draw(f)
		along := drawn.Scales[0] // of time, the same in every theme
		e.Time = TimeScale{along.Places[0] / drawn.Width, along.Places[1] / drawn.Width, along.Values[0], along.Values[1]}
		return drawn
	})
	return e, err
}
