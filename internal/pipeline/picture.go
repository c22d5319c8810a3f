package pipeline

import (
	"context"

	"gloam/internal/fault"
	"gloam/internal/picture"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// PictureOptions is how large and how long a picture is traced.
type PictureOptions struct {
	Options
	Width   int // pixels; the height follows the sensor
	Samples int // paths a pixel
	Shown   func(samples int)
}

// Picture is a set-up as its camera sees it: layers with the grain taken off, and what the present dials make of them.
type Picture struct {
	Setup     *scene.Setup
	Image     *transport.Image
	Weights   picture.Weights // to the eye: levels and stops
	Recorded  picture.Weights // to the camera under its balance: what is shown
	Composite *picture.Composite
}

// Draw takes one set-up of a plan to its picture.
func Draw(ctx context.Context, view *plan.View, o PictureOptions) (*Picture, error) {
	setup, faults := scene.BuildPicture(view, o.Black)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	if setup.View == nil {
		return nil, fault.Fault{Place: view.Places.At("camera"), Path: "camera", Text: "a picture needs a camera with a place",
			Allowed: "at and aim"}
	}
	if err := new(Session).calibrate(ctx, setup, o.Options); err != nil {
		return nil, err
	}
	height := max(1, int(float64(o.Width)*setup.View.Height/setup.View.Width+0.5))
	raw, err := transport.TraceImage(ctx, setup.Scene, transport.ImageRequest{
		Seed: o.Seed, View: setup.View, Width: o.Width, Height: height, Samples: o.Samples, Shown: func(img *transport.Image) {
			if o.Shown != nil {
				o.Shown(img.Samples)
			}
		},
	})
	if err != nil {
		return nil, unfinished(err)
	}
	clean, err := picture.Denoise(ctx, raw)
	if err != nil {
		return nil, unfinished(err)
	}
	p := &Picture{Setup: setup, Image: clean}
	p.Weights.X, p.Weights.Y, p.Weights.Z = setup.Scene.TristimulusWeights(setup.Dials)
	p.Recorded.X, p.Recorded.Y, p.Recorded.Z = setup.Recorded()
	p.Composite = picture.Compose(clean, p.Weights)
	return p, nil
}
