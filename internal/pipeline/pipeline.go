// Package pipeline is the one place that knows the order of the stages: plan, scene, layers, readings. Terminal and page
// both call it and cannot disagree.
package pipeline

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// Options is how sure and how much. The zero value is not ready: see Defaults.
type Options struct {
	Seed      uint32
	Goal      unit.Stop // standard error wanted of every point's total
	MostPaths int       // of one point
	Black     bool      // surroundings give no light back, as hand sums assume
	Progress  func(share float64)
}

// Defaults returns a standard error of 0.02 stop, small beside what any gear leaves open, and a bound that ends a scene
// in which a point sees next to nothing.
func Defaults() Options { return Options{Seed: 1, Goal: 0.02, MostPaths: 1 << 20} }

// Each part of a level that is worth naming is to be sure to a few hundredths of a stop too.
const (
	layerGoal  unit.Stop = 0.05
	layerShare float64   = 0.05
)

// darkest is the level over key below which nobody asks for the last tenth of a stop: cameras drown there.
const darkest unit.Stop = -6

// Result is a set-up with its layers and what they read.
type Result struct {
	Setup  *scene.Setup
	Layers *transport.Layers
	Levels meter.Levels
}

// Run takes one set-up of a plan to its readings.
func Run(ctx context.Context, view *plan.View, o Options) (*Result, error) {
	s := &Session{}
	setup, err := s.build(ctx, view, o)
	if err != nil {
		return nil, err
	}
	return finish(ctx, setup, s.request(setup, o))
}

// build makes a set-up of a plan ready, its ambients as strong as they were read.
func (s *Session) build(ctx context.Context, view *plan.View, o Options) (*scene.Setup, error) {
	setup, faults := scene.Build(view, o.Black)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return setup, s.calibrate(ctx, setup, o)
}

// finish takes a set-up to its readings, as sure as asked.
func finish(ctx context.Context, setup *scene.Setup, q transport.Request) (*Result, error) {
	layers, err := transport.Trace(ctx, setup.Scene, q)
	if err != nil {
		return nil, unfinished(err)
	}
	return &Result{setup, layers, meter.Read(setup, layers)}, nil
}

// calibrationGoal keeps an ambient's strength surer than any meter; what is left is booked as a doubt.
const calibrationGoal unit.Stop = 0.01

// calibrate finds the strength of every ambient: that at which its layer equals the reading where it was taken, in the
// place as it was then, without gels and cloths. Each is traced alone. A reading of the sun is of the sun alone.
func (s *Session) calibrate(ctx context.Context, setup *scene.Setup, o Options) error {
	var faults fault.List
	var found []strength
	for _, a := range setup.Ambients {
		unit, err := s.strength(ctx, setup, &a, o)
		if err != nil {
			return unfinished(err)
		}
		found = append(found, unit)
		if unit.level <= 0 {
			faults = append(faults, fault.Fault{Place: a.Place, Path: a.Path,
				Text: "no light of this shape gets to where the reading was taken",
				Hint: "check the place, the facing, and the openings it comes in by"})
			continue
		}
		dial := &setup.Dials[a.Emitter]
		dial.Level = float64(a.Reading) / unit.level
		setup.Scene.Emitters[a.Emitter].Seen = seen(setup.Scene, &a) / dial.Level
		setup.Doubt(a.Emitter, scene.Doubt{
			Cause: fmt.Sprintf("strength of %s", setup.Scene.Emitters[a.Emitter].Name),
			Stops: 1.96 * transport.StopError(unit.level, unit.stderr),
		})
	}
	if err := faults.Err(); err != nil {
		return err
	}
	pairs, err := s.brighten(ctx, setup, o)
	s.strengths = append(found, pairs...)
	return err
}

// strength is what a unit of an ambient reads where it was read.
type strength struct {
	scene         *scene.Scene // the ambient alone
	light         spectrum.Curve
	seed          uint32
	level, stderr float64
}

// strength finds it, or remembers it where nothing of it has changed.
func (s *Session) strength(ctx context.Context, setup *scene.Setup, a *scene.AmbientUse, o Options) (strength, error) {
	alone := aloneAsRead(setup.Scene, a)
	light := setup.Dials[a.Emitter].Light
	for _, known := range s.strengths {
		if moved, same := movedLamps(known.scene, alone); same && len(moved) == 0 && reflect.DeepEqual(known.light, light) && known.seed == o.Seed {
			return known, nil
		}
	}
	weights := alone.Weights([]scene.Dial{{Level: 1, Light: light, Gel: scene.Clear}})
	layers, err := transport.Trace(ctx, alone, transport.Request{
		Seed: o.Seed, Goal: calibrationGoal, MostPaths: o.MostPaths, Weights: weights,
	})
	if err != nil {
		return strength{}, err
	}
	level, stderr := layers.Points[0].Level(weights)
	if alone.Emitters[0].Kind == scene.Sun {
		level, stderr = layers.Points[0].DirectLevel(weights), 0
	}
	return strength{alone, light, o.Seed, level, stderr}, nil
}

// aloneAsRead is the scene with one ambient alone, without cloths and gels, and the receptor it was read with.
func aloneAsRead(s *scene.Scene, a *scene.AmbientUse) *scene.Scene {
	alone := *s
	alone.Emitters = slices.Clone(s.Emitters[a.Emitter : a.Emitter+1])
	alone.Receivers = []scene.Receiver{a.Receiver}
	alone.Surfaces = slices.DeleteFunc(slices.Clone(s.Surfaces), func(s scene.Surface) bool { return s.Cloth >= 0 })
	alone.Openings = slices.Clone(s.Openings)
	for i := range alone.Openings {
		alone.Openings[i].Gel = scene.Clear
	}
	return &alone
}

// seen is how bright the sky outside is for it to look as it was read: the panes it was read through come off. Without a
// reading it is 0.
func seen(s *scene.Scene, a *scene.AmbientUse) float64 {
	if a.Seen == nil {
		return 0
	}
	passed := 1.0
	if through := s.Emitters[a.Emitter].Through; len(through) > 0 {
		for i := range s.Surfaces {
			if o := &s.Surfaces[i].Optics; s.Surfaces[i].Opening == through[0] && o.Panes > 0 {
				passed, _ = transport.Panes(1, o.Panes, transport.GlassIndex, o.PaneClarity)
			}
		}
	}
	return float64(*a.Seen) / passed
}

func unfinished(err error) error {
	return fault.Fault{Kind: fault.Unfinished, Text: "stopped before the end: " + err.Error()}
}
