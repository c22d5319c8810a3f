package server

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// WaysQuery names a set-up that is to meet its targets, and what may change for it beside the dims of lamps.
type WaysQuery struct {
	PlanQuery
	Setup      string   `query:"setup" doc:"set-up by name; the first if not given"`
	Exposure   bool     `query:"exposure"`
	Colour     bool     `query:"colour"`
	Zoom       bool     `query:"zoom"`
	Mode       bool     `query:"mode"`
	Kit        bool     `query:"kit"`
	Cloth      bool     `query:"cloth"`
	Window     bool     `query:"window"`
	Practicals bool     `query:"practicals"`
	Search     string   `query:"search" maxLength:"64" doc:"a name to stop it by"`
	From       string   `query:"from" maxLength:"16" doc:"one setting is to hold from this time"`
	To         string   `query:"to" maxLength:"16" doc:"to this; both or neither"`
	Moves      []string `query:"move,explode" maxItems:"8" doc:"what may stand elsewhere"`
}

// SearchEvent is how far a search is.
type SearchEvent struct {
	Revision int     `json:"revision"`
	Share    float64 `json:"share"`
	Best     string  `json:"best" doc:"so far, in words"`
}

// WaysEvent is ranked ways to meet a set-up's targets, as gloam solve finds them.
type WaysEvent struct {
	Revision int           `json:"revision"`
	Outcome  string        `json:"outcome"`
	Choices  int           `json:"choices" doc:"looked through"`
	Rows     []WaysRow     `json:"rows" doc:"the plan and the ways side by side"`
	Ways     []ProposedWay `json:"ways"`
}

// WaysRow is one line of the table.
type WaysRow struct {
	Name    string   `json:"name"`
	Planned string   `json:"planned"`
	Ways    []string `json:"ways"`
}

// ProposedWay is one way: what it changes, in words and as edits.
type ProposedWay struct {
	What     []string           `json:"what"`
	Outcome  string             `json:"outcome"`
	Doubtful bool               `json:"doubtful" doc:"some target is met only if the levels are not off by their intervals"`
	Settings []pipeline.Setting `json:"settings"`
	Changes  []desk.Change      `json:"changes" doc:"that take it, in one step"`
	Limits   []string           `json:"limits"`
	Through  []string           `json:"through" doc:"what targets come to all the time that one setting is to hold"`
}

const (
	waysKind = "ways"
	mostWays = 4 // told
)

func (s *Server) waysAPI(api huma.API) {
	sse.Register(api, operation(api, "ways", http.MethodGet, "/api/ways", "Ways to meet the targets of a set-up: progress, then the ways, ranked; to cancel, hang up"),
		map[string]any{progressKind: SearchEvent{}, faultsKind: FaultsEvent{}, waysKind: WaysEvent{}},
		func(ctx context.Context, in *WaysQuery, send sse.Sender) {
			s.follow(send, func(told *board) any { return s.ways(ctx, in, told) })
		})
	huma.Register(api, operation(api, "stop-ways", http.MethodPost, "/api/ways/stop", "End a search with the best it has found"),
		func(_ context.Context, in *stopCall) (*struct{}, error) {
			s.mu.Lock()
			defer s.mu.Unlock()
			stop, searching := s.searches[in.Search]
			if !searching {
				return nil, notThere("no such search is under way", in.Search)
			}
			stop()
			return nil, nil
		})
}

type stopCall struct {
	Search string `query:"search" required:"true"`
}

// stoppable lets a search be stopped by its name until it is done.
func (s *Server) stoppable(ctx context.Context, search string) (context.Context, func()) {
	ctx, stop := context.WithCancel(ctx)
	if search == "" {
		return ctx, stop
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.searches[search] = stop
	return ctx, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.searches, search)
		stop()
	}
}

// ways returns the event that ends the stream: the ways, or why there are none.
func (s *Server) ways(ctx context.Context, in *WaysQuery, told *board) any {
	d, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return faultsOf(0, err.(*Problem).Faults)
	}
	state, _ := d.State()
	no := func(err error) any { return faultsOf(state.Revision, fault.Of(err, fault.Unfinished)) }
	o := pipeline.SolveOptions{Options: pipeline.Defaults(), Answers: mostWays, Free: pipeline.Freedom{Exposure: in.Exposure, Colour: in.Colour,
		Zoom: in.Zoom, Mode: in.Mode, Kit: in.Kit, Cloth: in.Cloth, Window: in.Window, Practicals: in.Practicals}}
	for _, text := range in.Moves {
		var m pipeline.Move
		if err := m.Parse(text); err != nil {
			return no(fault.Fault{Kind: fault.Call, Path: "move", Text: err.Error(), Read: text, Allowed: pipeline.MoveForms})
		}
		o.Free.Moves = append(o.Free.Moves, m)
	}
	if o.Free.From, o.Free.To, err = in.hours(); err != nil {
		return no(err)
	}
	p, faults := s.folder.read(file, state.Text)
	if p == nil {
		return no(faults.Err())
	}
	setup := in.Setup
	if setup == "" {
		setup = p.Setups()[0]
	}
	view, faults := p.Setup(setup)
	if err := faults.Err(); err != nil {
		return no(err)
	}
	o.Tell = func(share float64, best string) { told.post(progressKind, SearchEvent{state.Revision, share, best}) }
	stoppable, done := s.stoppable(ctx, in.Search)
	defer done()
	found, err := pipeline.Solve(stoppable, view, o)
	if err != nil {
		return no(err)
	}
	return waysOf(p, found, state.Revision)
}

// hours are from when to when one setting is to hold; nil where that is not asked.
func (in *WaysQuery) hours() (from, to *unit.Clock, err error) {
	if in.From+in.To == "" {
		return nil, nil, nil
	}
	from, to = new(unit.Clock), new(unit.Clock)
	for _, f := range []struct {
		path, text string
		into       *unit.Clock
	}{{"from", in.From, from}, {"to", in.To, to}} {
		if err := f.into.Parse(f.text); err != nil {
			return nil, nil, fault.Fault{Kind: fault.Call, Path: f.path, Text: err.Error(), Read: f.text, Allowed: f.into.Forms()}
		}
	}
	return from, to, nil
}

func waysOf(p *plan.Plan, found *pipeline.Proposals, revision int) WaysEvent {
	e := WaysEvent{Revision: revision, Outcome: string(found.Outcome), Choices: found.Choices, Rows: waysRows(found), Ways: []ProposedWay{}}
	for i := range found.Answers {
		a := &found.Answers[i]
		w := ProposedWay{append([]string{}, a.What...), string(a.Outcome), slices.ContainsFunc(a.Targets, func(t meter.Target) bool { return t.Outcome != "met" }),
			append([]pipeline.Setting{}, a.Settings...), []desk.Change{}, append([]string{}, a.Limits...), []string{}}
		for _, t := range a.Through {
			if t.Low != nil && t.High != nil {
				w.Through = append(w.Through, fmt.Sprintf("all that time, %s: %s to %s", t.Of, t.Low, t.High))
			}
		}
		for _, s := range a.Settings {
			w.Changes = append(w.Changes, desk.Change{Path: p.Written(found.Setup, s.Path), Value: &s.New})
		}
		e.Ways = append(e.Ways, w)
	}
	return e
}

// waysRows sets the plan and the ways next to each other: targets, what is left, what it takes.
func waysRows(found *pipeline.Proposals) []WaysRow {
	rows := []WaysRow{}
	add := func(name, planned string, of func(*pipeline.Proposal) string) {
		r := WaysRow{name, planned, []string{}}
		for i := range found.Answers {
			r.Ways = append(r.Ways, of(&found.Answers[i]))
		}
		rows = append(rows, r)
	}
	planned := &found.Planned.Levels
	for i := range planned.Targets {
		t := &planned.Targets[i]
		name := t.Of
		if t.Over != "key" {
			name += " over " + t.Over
		}
		add(name, stands(planned.Targets, i), func(a *pipeline.Proposal) string { return stands(a.Targets, i) })
	}
	add("least reserve", leastReserve(planned.Lamps), func(a *pipeline.Proposal) string { return leastReserve(a.Lamps) })
	takes := func(name string, of func(*pipeline.Takes) string) {
		add(name, of(&found.Takes), func(a *pipeline.Proposal) string { return of(&a.Takes) })
	}
	takes("current", func(t *pipeline.Takes) string { return t.Current.String() })
	takes("power", func(t *pipeline.Takes) string { return t.Power.String() })
	takes("mass of lamps", func(t *pipeline.Takes) string { return t.Mass.String() })
	takes("hands, minutes", func(t *pipeline.Takes) string { return fmt.Sprintf("%.0f, %.0f", t.Hands, t.Minutes) })
	return rows
}

// stands tells how a target stands, in its own unit, with its word.
func stands(targets []meter.Target, i int) string {
	if i >= len(targets) {
		return ""
	}
	t := &targets[i]
	switch {
	case t.Colour != nil && t.Colour.Level != nil:
		return t.Colour.Level.Shift() + ", " + t.Outcome
	case t.Colour == nil && t.Level != nil:
		return strings.Join([]string{t.Level.String(), t.Interval.Interval() + ",", t.Outcome}, " ")
	}
	return t.Outcome
}

// leastReserve is that of the lamp which has least, of those that are on.
func leastReserve(lamps []meter.Lamp) string {
	least := math.Inf(1)
	for _, l := range lamps {
		if l.Dim == 0 {
			continue
		}
		if l.Outcome == "out of reach" {
			return l.Outcome
		}
		if l.Reserve != nil {
			least = math.Min(least, float64(*l.Reserve))
		}
	}
	if math.IsInf(least, 1) {
		return "–"
	}
	return unit.Stop(least).Tenths()
}
