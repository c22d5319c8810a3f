package pipeline

import (
	"context"
	"fmt"
	"math"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// mover is a move made ready.
type mover struct {
	Move
	section document.Path
	at, aim geometry.Vector // where it stands as planned, and what it is turned to
	tall    bool            // written with its height
	first   int             // of its variables
}

// mover finds what is to be moved.
func (s *solver) mover(m Move) (out mover, err error) {
	out = mover{Move: m}
	d := &s.view.Document
	where := plan.NewLocator(d)
	var way geometry.Vector
	ok, turned := false, true
	if l, is := d.Lamps.Get(m.Name); is {
		out.section, out.tall = "lamps", true
		out.at, ok = where.Place(&l.At, l.Height)
		way, turned = where.Way(&l.Aim, out.at)
		turned = turned && l.Aim.Bearing == nil
	} else if c, is := d.Cloths.Get(m.Name); is {
		out.section, out.tall = "cloths", true
		out.at, ok = where.Place(&c.At, c.Height)
		way, turned = where.Way(&c.Faces, out.at)
		turned = turned && c.Faces.Bearing == nil
	} else if p, is := d.People.Get(m.Name); is {
		out.section = "people"
		out.at, ok = where.Place(&p.At, 0)
		way, turned = where.LevelWay(&p.Faces, out.at)
		turned = turned && p.Faces.Bearing == nil
	}
	switch {
	case !ok:
		return out, fault.Fault{Kind: fault.Call, Path: "--move", Text: "no lamp, cloth or person is called that", Read: m.Name}
	case m.Kind == "height" && !out.tall:
		return out, fault.Fault{Kind: fault.Call, Path: "--move", Text: "people stand on the floor", Read: m.Name}
	case m.Kind == "distance" && !turned:
		return out, fault.Fault{Kind: fault.Call, Path: "--move", Text: "it is turned to no thing or place, so there is no distance from one", Read: m.Name, Hint: "say from X Y to X Y"}
	case m.Kind == "distance" && math.Hypot(way.X, way.Y) < 0.01:
		return out, fault.Fault{Kind: fault.Call, Path: "--move", Text: "what it is turned to stands above or below it", Read: m.Name}
	}
	out.aim = out.at.Add(way)
	return out, nil
}

// variables are a move's coordinates, home where the plan has it.
func (m *mover) variables() []solve.Variable {
	v := func(name string, low, high, home unit.Metre) solve.Variable {
		return solve.Variable{Name: m.Name + " " + name, Low: low, High: high, Resolution: max((high-low)/128, 0.005), Home: min(max(home, low), high), Prefer: 1}
	}
	level := func(a geometry.Vector) unit.Metre { return unit.Metre(math.Hypot(a.X, a.Y)) }
	from := geometry.Vector{X: float64(m.From.X), Y: float64(m.From.Y)}
	to := geometry.Vector{X: float64(m.To.X), Y: float64(m.To.Y)}
	switch m.Kind {
	case "distance":
		return []solve.Variable{v("distance", m.Low, m.High, level(m.at.Sub(m.aim)))}
	case "height":
		return []solve.Variable{v("height", m.Low, m.High, unit.Metre(m.at.Z))}
	case "line":
		along := to.Sub(from)
		way := geometry.Vector{X: m.at.X - from.X, Y: m.at.Y - from.Y}
		return []solve.Variable{v("along the line", 0, level(along), unit.Metre(way.Dot(along)/math.Max(along.Length(), 1e-6)))}
	}
	return []solve.Variable{v("x", min(m.From.X, m.To.X), max(m.From.X, m.To.X), unit.Metre(m.at.X)),
		v("y", min(m.From.Y, m.To.Y), max(m.From.Y, m.To.Y), unit.Metre(m.at.Y))}
}

// place puts a thing where its variables say.
func (m *mover) place(at *geometry.Vector, x []unit.Metre) {
	switch m.Kind {
	case "distance":
		way := geometry.Vector{X: m.at.X - m.aim.X, Y: m.at.Y - m.aim.Y}.Unit()
		at.X, at.Y = m.aim.X+float64(x[0])*way.X, m.aim.Y+float64(x[0])*way.Y
	case "height":
		at.Z = float64(x[0])
	case "line":
		from := geometry.Vector{X: float64(m.From.X), Y: float64(m.From.Y)}
		way := geometry.Vector{X: float64(m.To.X) - from.X, Y: float64(m.To.Y) - from.Y}.Unit()
		at.X, at.Y = from.X+float64(x[0])*way.X, from.Y+float64(x[0])*way.Y
	default:
		at.X, at.Y = float64(x[0]), float64(x[1])
	}
}

// Places tried at most: along kept walks, where lamps alone move, and traced anew.
const (
	mostWalked = 120
	mostTraced = 60
)

// mostVariables is how many coordinates are searched together.
const mostVariables = 3

// move finds the places from which targets are best met, the planned lamps there: the changes of a world. Where as planned is
// as good, there are none.
func (s *solver) move(w *world) error {
	var movers []mover
	search := solve.Search{Most: mostWalked}
	for _, m := range s.Free.Moves {
		ready, err := s.mover(m)
		if err != nil {
			return err
		}
		ready.first = len(search.Variables)
		search.Variables = append(search.Variables, ready.variables()...)
		if movers = append(movers, ready); ready.section != "lamps" {
			search.Most = mostTraced
		}
	}
	if len(search.Variables) > mostVariables {
		return fault.Fault{Kind: fault.Call, Path: "--move", Text: fmt.Sprintf("%d coordinates are too many to search together", len(search.Variables)), Allowed: "up to 3"}
	}
	search.Light = func(ctx context.Context, x []unit.Metre) (*solve.Problem, unit.Stop, error) {
		p, err := s.lightAt(ctx, s.moved(movers, x))
		return p, draftGoal, err
	}
	found, err := search.Run(s.ctx, func(f solve.Found) { s.tell(float64(f.Tried) / float64(search.Most)) })
	if err != nil || found.At == nil {
		return err
	}
	w.changes = s.moved(movers, found.At)
	for i := range movers {
		at := movers[i].at
		for j := range movers {
			if movers[j].Name == movers[i].Name {
				movers[j].place(&at, found.At[movers[j].first:])
			}
		}
		if i == 0 || movers[i].Name != movers[i-1].Name {
			w.what = append(w.what, fmt.Sprintf("%s at %s, %s from where planned", movers[i].Name, spelt(at), unit.Metre(at.Sub(movers[i].at).Length())))
		}
	}
	return nil
}

// moved are the changes that put things where the variables say. Things moved in two ways are moved once.
func (s *solver) moved(movers []mover, x []unit.Metre) (all []plan.Change) {
	for i := range movers {
		m := &movers[i]
		at := m.at
		for j := range movers {
			if movers[j].Name == m.Name {
				movers[j].place(&at, x[movers[j].first:])
			}
		}
		text := spelt(at)
		if !m.tall && at.Z == 0 {
			text = fmt.Sprintf("%.2f %.2f", at.X, at.Y)
		}
		all = append(all, plan.Change{Path: m.section.Join(m.Name).Join("at"), Value: text})
	}
	return all
}

// lightAt is the look with the planned lamps, in the set-up with changes: along kept walks, where lamps alone moved.
func (s *solver) lightAt(ctx context.Context, changes []plan.Change) (*solve.Problem, error) {
	view, err := s.view.With(changes...)
	if err != nil {
		return nil, err
	}
	setup, err := s.session.build(ctx, view, s.Options)
	if err != nil {
		return nil, err
	}
	q := s.session.request(setup, s.Options)
	q.Goal, q.LayerGoal, q.Progress = draftGoal, 0, nil
	var layers *transport.Layers
	if moved, same := movedLamps(s.planned.Setup.Scene, setup.Scene); same {
		layers, err = s.planned.Layers.Moved(ctx, setup.Scene, moved, q)
	} else {
		layers, err = transport.Trace(ctx, setup.Scene, q)
	}
	if err != nil {
		return nil, err
	}
	p, receivers, err := s.look(view, setup, layers, nil)
	if err != nil {
		return nil, err
	}
	full := fullLevels(shaped{setup, layers}, setup.Scene.Openings, receivers)
	for i := range setup.Lamps {
		u := &setup.Lamps[i]
		if u.Kit == nil && !s.Free.Practicals {
			continue
		}
		lamp := dialOf(u, u.MaxDim)
		lamp.CanBeOff = true
		p.Lamps = append(p.Lamps, lamp)
		for k, e := range full(i) {
			p.Points[k].By = append(p.Points[k].By, e)
		}
	}
	return &p, nil
}
