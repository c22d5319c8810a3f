package pipeline

import (
	"context"
	"reflect"
	"slices"

	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// Session answers one set-up again and again while its plan is edited: what an edit leaves alone is not traced again. The
// zero value is ready. It serves one call at a time; a newer edit cancels the context of the one under way.
type Session struct {
	last      *Result
	strengths []strength // of the ambients, as last found
}

// Goals of what is shown while a hand still moves: within a tenth of a stop.
const draftGoal unit.Stop = 0.05

// walksKept is how many walks of each batch serve a dragged lamp again.
const walksKept = 64

// Update shows the set-up's readings at once, rougher than asked where something was moved, and then as sure as asked, with
// the digits Run gives. A changed dial costs no rays for the first; a moved, aimed or refocused lamp is followed along kept
// walks; anything else is traced with what still stands kept.
func (s *Session) Update(ctx context.Context, view *plan.View, o Options, show func(*Result)) error {
	setup, err := s.build(ctx, view, o)
	if err != nil {
		return err
	}
	layers, err := s.draft(ctx, setup, o)
	if err != nil {
		return unfinished(err)
	}
	show(&Result{setup, layers, meter.Read(setup, layers)})
	q := s.request(setup, o)
	q.Keep = walksKept
	r, err := finish(ctx, setup, q)
	if err != nil {
		return err
	}
	s.last = r
	show(r)
	return nil
}

// draft returns layers good enough to be shown while a hand moves.
func (s *Session) draft(ctx context.Context, setup *scene.Setup, o Options) (*transport.Layers, error) {
	q := s.request(setup, o)
	q.Goal, q.LayerGoal, q.Progress = draftGoal, 0, nil
	if s.last == nil {
		return transport.Trace(ctx, setup.Scene, q)
	}
	moved, same := movedLamps(s.last.Setup.Scene, setup.Scene)
	switch {
	case !same:
		return transport.Trace(ctx, setup.Scene, q)
	case len(moved) == 0:
		return s.last.Layers, nil
	}
	return s.last.Layers.Moved(ctx, setup.Scene, moved, q)
}

// request is what a set-up's layers are asked for.
func (s *Session) request(setup *scene.Setup, o Options) transport.Request {
	q := transport.Request{
		Seed: o.Seed, Goal: o.Goal, MostPaths: o.MostPaths, Progress: o.Progress,
		LayerGoal: layerGoal, LayerShare: layerShare, Weights: setup.Scene.Weights(setup.Dials), Floor: float64(setup.Camera.Key()) * darkest.Factor(),
	}
	if s.last != nil {
		q.Like = s.last.Layers
	}
	return q
}

// movedLamps returns the lamps that shine otherwise in b than in a. same is false where more than that differs.
func movedLamps(a, b *scene.Scene) (moved []int, same bool) {
	if !sameThings(a, b) || !slices.Equal(a.Receivers, b.Receivers) || len(a.Emitters) != len(b.Emitters) {
		return nil, false
	}
	for i := range a.Emitters {
		switch x, y := &a.Emitters[i], &b.Emitters[i]; {
		case reflect.DeepEqual(x, y):
		case x.Kind == scene.Lamp && y.Kind == scene.Lamp && x.Name == y.Name:
			moved = append(moved, i)
		default:
			return nil, false
		}
	}
	return moved, true
}

// sameThings reports whether all that light meets is the same in two scenes.
func sameThings(a, b *scene.Scene) bool {
	return slices.EqualFunc(a.Surfaces, b.Surfaces, sameSurface) && slices.EqualFunc(a.Openings, b.Openings, samePlace) && reflect.DeepEqual(a.Haze, b.Haze)
}

func sameSurface(a, b scene.Surface) bool {
	return a.Optics == b.Optics && a.Cloth == b.Cloth && a.Opening == b.Opening &&
		slices.Equal(a.Mesh.Positions, b.Mesh.Positions) && slices.Equal(a.Mesh.Triangles, b.Mesh.Triangles)
}

// samePlace compares openings but for their gel, which is a dial.
func samePlace(a, b scene.Opening) bool { return a.Centre == b.Centre && a.U == b.U && a.V == b.V }
