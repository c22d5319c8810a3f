package server

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

type keepCall struct {
	PlanQuery
	Body struct {
		Setup string `json:"setup" doc:"the one to be kept; the first if empty"`
		Name  string `json:"name" minLength:"1" maxLength:"60" doc:"of the variant"`
		By    string `json:"by" maxLength:"64" doc:"who: one open page"`
	}
}

// VariantsEvent is a plan's set-ups side by side.
type VariantsEvent struct {
	Revision int           `json:"revision"`
	Setups   []string      `json:"setups" doc:"the columns; the first is the one the others are held against"`
	Rows     []VariantsRow `json:"rows"`
}

// VariantsRow is one line: a point, or what a set-up takes.
type VariantsRow struct {
	Name  string        `json:"name"`
	Cells []VariantCell `json:"cells"`
}

// VariantCell is a value and its difference from the first column; both empty where a set-up has no such point.
type VariantCell struct {
	Text  string `json:"text"`
	Apart string `json:"apart"`
}

const variantsKind = "variants"

func (s *Server) variantsAPI(api huma.API) {
	huma.Register(api, operation(api, "keep-variant", http.MethodPost, "/api/variants", "Keep a set-up as it stands under another name"),
		func(_ context.Context, in *keepCall) (*stateReply, error) {
			return s.change(in.Plan, func(d *desk.Desk) (desk.State, error) { return s.keep(d, in) })
		})
	sse.Register(api, operation(api, "variants", http.MethodGet, "/api/variants", "The set-ups of a plan side by side: progress, then the table; to cancel, hang up"),
		map[string]any{progressKind: ProgressEvent{}, faultsKind: FaultsEvent{}, variantsKind: VariantsEvent{}},
		func(ctx context.Context, in *ClockQuery, send sse.Sender) {
			s.follow(send, func(told *board) any { return s.variants(ctx, in, told) })
		})
}

// keep writes a copy of a set-up behind the others, with the dims as they stand, so that a later change of the plan's own
// leaves them.
func (s *Server) keep(d *desk.Desk, in *keepCall) (desk.State, error) {
	state, _ := d.State()
	_, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return desk.State{}, err
	}
	p, faults := s.folder.read(file, state.Text)
	if p == nil {
		return desk.State{}, faults.Err()
	}
	name := strings.TrimSpace(in.Body.Name)
	if slices.Contains(p.Setups(), name) || name == "" {
		return desk.State{}, fault.Fault{Kind: fault.Input, Text: "there is a set-up of that name", Read: name, Hint: "name it otherwise"}
	}
	setup := in.Body.Setup
	if setup == "" {
		setup = p.Setups()[0]
	}
	view, faults := p.Setup(setup)
	if err := faults.Err(); err != nil {
		return desk.State{}, err
	}
	e := desk.Edit{Base: state.Revision, By: in.Body.By}
	if len(p.Document.Setups) == 0 {
		e.Changes = append(e.Changes, copied(p, view, setup)...)
	}
	e.Changes = append(e.Changes, copied(p, view, name)...)
	if len(e.Changes) == 0 {
		return desk.State{}, fault.Fault{Kind: fault.Input, Text: "there is nothing to keep: no lamp, and nothing the set-up changes"}
	}
	return d.Edit(e)
}

// copied are the changes that write a set-up anew under a name.
func copied(p *plan.Plan, view *plan.View, name string) (all []desk.Change) {
	from, to := document.Path("setups").Join(view.Name), document.Path("setups").Join(name)
	set := func(path document.Path, value string) { all = append(all, desk.Change{Path: path, Value: &value}) }
	if len(p.Document.Setups) > 0 {
		for _, leaf := range p.Source.Leaves(from) {
			set(to+leaf.Path[len(from):], leaf.Value)
		}
	}
	for i := range view.Document.Lamps {
		set(to+"."+document.Path("lamps").Join(view.Document.Lamps[i].Name).Join("dim"), view.Document.Lamps[i].Value.Dim.String())
	}
	for i := range view.Document.Practicals {
		set(to+"."+document.Path("practicals").Join(view.Document.Practicals[i].Name).Join("dim"), view.Document.Practicals[i].Value.Dim.String())
	}
	return all
}

// variants returns the event that ends the stream: the table, or why there is none.
func (s *Server) variants(ctx context.Context, in *ClockQuery, told *board) any {
	d, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return faultsOf(0, err.(*Problem).Faults)
	}
	state, _ := d.State()
	no := func(err error) any { return faultsOf(state.Revision, fault.Of(err, fault.Unfinished)) }
	p, faults := s.folder.read(file, state.Text)
	if p == nil {
		return no(faults.Err())
	}
	e := VariantsEvent{Revision: state.Revision, Setups: p.Setups()}
	if i := slices.Index(e.Setups, in.Setup); i > 0 {
		e.Setups = slices.Concat([]string{in.Setup}, e.Setups[:i], e.Setups[i+1:])
	}
	var columns []column
	for i, name := range e.Setups {
		view, faults := p.Setup(name)
		if err := faults.Err(); err != nil {
			return no(err)
		}
		o := pipeline.Defaults()
		o.Progress = func(share float64) {
			told.post(progressKind, ProgressEvent{state.Revision, (float64(i) + share) / float64(len(e.Setups))})
		}
		r, err := pipeline.Run(ctx, view, o)
		if err != nil {
			return no(err)
		}
		columns = append(columns, column{&r.Levels, pipeline.PlannedTakes(view, r)})
	}
	e.Rows = variantsRows(columns)
	return e
}

// column is one set-up of the table.
type column struct {
	levels *meter.Levels
	takes  pipeline.Takes
}

func variantsRows(columns []column) (rows []VariantsRow) {
	var names []string
	for _, c := range columns {
		for i := range c.levels.Points {
			if name := c.levels.Points[i].Name; !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	for _, name := range names {
		row := VariantsRow{Name: name}
		first := point(columns[0].levels, name)
		for i, c := range columns {
			row.Cells = append(row.Cells, cellOf(point(c.levels, name), first, i > 0))
		}
		rows = append(rows, row)
	}
	add := func(name string, text func(*column) string) {
		row := VariantsRow{Name: name}
		for i := range columns {
			row.Cells = append(row.Cells, VariantCell{Text: text(&columns[i])})
		}
		rows = append(rows, row)
	}
	add("least reserve", func(c *column) string { return leastReserve(c.levels.Lamps) })
	add("current", func(c *column) string { return c.takes.Current.String() })
	add("power", func(c *column) string { return c.takes.Power.String() })
	add("mass of lamps", func(c *column) string { return c.takes.Mass.String() })
	return rows
}

func point(l *meter.Levels, name string) *meter.Reading {
	for i := range l.Points {
		if l.Points[i].Name == name {
			return &l.Points[i]
		}
	}
	return nil
}

// cellOf prints a point, and against the first column how far apart they are.
func cellOf(p, first *meter.Reading, against bool) (c VariantCell) {
	switch {
	case p == nil:
		return c
	case p.OverKey == nil:
		return VariantCell{Text: "dark"}
	}
	c.Text = fmt.Sprintf("%s %s", p.OverKey, p.Interval.Interval())
	if against && first != nil && first.OverKey != nil {
		c.Apart = "same"
		if d := unit.Stop(*p.OverKey - *first.OverKey); d.Tenths() != "at stop" {
			c.Apart = d.Tenths()
		}
	}
	return c
}
