package server

import (
	"context"
	"sync"
	"time"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
)

// PlanEvent is the plan as it stands, sent at once after every edit.
type PlanEvent struct {
	desk.State
	Setups []string `json:"setups" doc:"in the order written; empty while the plan has faults"`
	Setup  string   `json:"setup" doc:"the one shown"`
}

// FaultsEvent is what is wrong with the plan; while anything is, drawing and readings stay those of an earlier revision.
type FaultsEvent struct {
	Revision int        `json:"revision"`
	Faults   fault.List `json:"faults"`
	Notes    fault.List `json:"notes"`
}

// LevelsEvent is what the set-up reads, in the fields of gloam levels --json. Drafts come while a hand moves; the last of
// a revision is as sure as the terminal's, to the same digits.
type LevelsEvent struct {
	Revision int          `json:"revision"`
	Final    bool         `json:"final"`
	Levels   meter.Levels `json:"levels"`
	Printed  []Printed    `json:"printed" doc:"the points again, as they are printed"`
	Lines    []Line       `json:"lines" doc:"walks and ratios, as they are printed"`
}

// ProgressEvent is the share of points that are as sure as asked.
type ProgressEvent struct {
	Revision int     `json:"revision"`
	Share    float64 `json:"share"`
}

// The kinds of events, by their names in the stream.
const (
	planKind     = "plan"
	faultsKind   = "faults"
	drawingKind  = "drawing"
	levelsKind   = "levels"
	progressKind = "progress"
	pictureKind  = "picture"
	aliveKind    = "alive"
)

// sheet works out drawing and readings of one set-up.
type sheet struct {
	folder      *folder
	file, setup string
	session     pipeline.Session

	mu   sync.Mutex
	last *pipeline.Result
}

// result returns what was read last, nil before the first readings.
func (s *sheet) result() *pipeline.Result {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.last
}

func (s *sheet) run(ctx context.Context, state desk.State, b *board, seen func()) {
	said := PlanEvent{State: state, Setups: []string{}, Setup: s.setup}
	p, faults := s.folder.read(s.file, state.Text)
	if p != nil {
		said.Setups = p.Setups()
	}
	b.post(planKind, said)
	if p == nil {
		b.post(faultsKind, faultsOf(state.Revision, faults))
		return
	}
	view, more := p.Setup(s.chosen(p))
	if more.Err() != nil {
		b.post(faultsKind, faultsOf(state.Revision, append(faults, more...)))
		return
	}
	drawing := draw(p, view)
	drawing.Revision, drawing.NewTarget = state.Revision, newTarget(p, view)
	b.post(drawingKind, *drawing)
	err := s.read(ctx, view, state.Revision, b, seen)
	if ctx.Err() == nil {
		b.post(faultsKind, faultsOf(state.Revision, append(faults, fault.Of(err, fault.Unfinished)...)))
	}
}

// chosen is the set-up shown: the one asked for, or the first.
func (s *sheet) chosen(p *plan.Plan) string {
	if s.setup == "" {
		return p.Setups()[0]
	}
	return s.setup
}

// restful is how long a hand must rest before the final readings are traced: while it moves, the machine is left to drafts, of
// readings and of the picture.
const restful = 100 * time.Millisecond

// leastStep is the progress worth telling.
const leastStep = 0.02

// read posts readings as they sharpen: a draft, then the final ones.
func (s *sheet) read(ctx context.Context, view *plan.View, revision int, b *board, seen func()) error {
	o := pipeline.Defaults()
	var mu sync.Mutex
	told := -1.0
	o.Progress = func(share float64) {
		mu.Lock()
		defer mu.Unlock()
		if share-told >= leastStep || share == 1 && told < 1 {
			told = share
			b.post(progressKind, ProgressEvent{revision, share})
		}
	}
	shown := 0
	return s.session.Update(ctx, view, o, func(r *pipeline.Result) {
		if ctx.Err() != nil {
			return
		}
		shown++
		s.mu.Lock()
		s.last = r
		s.mu.Unlock()
		b.post(levelsKind, LevelsEvent{revision, shown == 2, r.Levels, printed(r.Levels.Points), lines(&r.Levels)})
		if shown == 1 {
			seen()
			select {
			case <-ctx.Done():
			case <-time.After(restful):
			}
		}
	})
}

func faultsOf(revision int, list fault.List) FaultsEvent {
	e := FaultsEvent{Revision: revision, Faults: fault.List{}, Notes: fault.List{}}
	for _, f := range list {
		if f.Kind == fault.Note {
			e.Notes = append(e.Notes, f)
		} else {
			e.Faults = append(e.Faults, f)
		}
	}
	return e
}
