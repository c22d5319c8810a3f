// Package pipeline is the one place that knows the order of the stages: plan, scene, layers, readings. Terminal and page
// both call it and cannot disagree.
package pipeline

import (
	"context"
	"fmt"
	"slices"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/scene"
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
	setup, faults := scene.Build(view, o.Black)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	if err := calibrate(ctx, setup, o); err != nil {
		return nil, err
	}
	layers, err := transport.Trace(ctx, setup.Scene, transport.Request{
		Seed: o.Seed, Goal: o.Goal, MostPaths: o.MostPaths, Progress: o.Progress,
		LayerGoal: layerGoal, LayerShare: layerShare, Weights: setup.Scene.Weights(setup.Dials), Floor: float64(setup.Camera.Key()) * darkest.Factor(),
	})
	if err != nil {
		return nil, unfinished(err)
	}
	return &Result{setup, layers, meter.Read(setup, layers)}, nil
}

// calibrationGoal keeps an ambient's strength surer than any meter; what is left is booked as a doubt.
const calibrationGoal unit.Stop = 0.01

// calibrate finds the strength of every ambient: that at which its layer equals the reading where it was taken, in the
// place as it was then, without gels and cloths. Each is traced alone. A reading of the sun is of the sun alone.
func calibrate(ctx context.Context, s *scene.Setup, o Options) error {
	var faults fault.List
	for _, a := range s.Ambients {
		alone := *s.Scene
		alone.Emitters = s.Scene.Emitters[a.Emitter : a.Emitter+1]
		alone.Receivers = []scene.Receiver{a.Receiver}
		alone.Surfaces = slices.DeleteFunc(slices.Clone(s.Scene.Surfaces), func(s scene.Surface) bool { return s.Cloth >= 0 })
		bare := slices.Clone(alone.Openings)
		for i := range bare {
			bare[i].Gel = scene.Clear
		}
		alone.Openings = bare
		dial := &s.Dials[a.Emitter]
		weights := alone.Weights([]scene.Dial{{Level: 1, Light: dial.Light, Gel: scene.Clear}})
		layers, err := transport.Trace(ctx, &alone, transport.Request{
			Seed: o.Seed, Goal: calibrationGoal, MostPaths: o.MostPaths, Weights: weights,
		})
		if err != nil {
			return unfinished(err)
		}
		level, stderr := layers.Points[0].Level(weights)
		if alone.Emitters[0].Kind == scene.Sun {
			level, stderr = layers.Points[0].DirectLevel(weights), 0
		}
		if level <= 0 {
			faults = append(faults, fault.Fault{Place: a.Place, Path: a.Path,
				Text: "no light of this shape gets to where the reading was taken",
				Hint: "check the place, the facing, and the openings it comes in by"})
			continue
		}
		dial.Level = float64(a.Reading) / level
		s.Scene.Emitters[a.Emitter].Seen = seen(s.Scene, &a) / dial.Level
		s.Doubt(a.Emitter, scene.Doubt{
			Cause: fmt.Sprintf("strength of %s", s.Scene.Emitters[a.Emitter].Name),
			Stops: 1.96 * transport.StopError(level, stderr),
		})
	}
	return faults.Err()
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
