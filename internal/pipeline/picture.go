package pipeline

import (
	"context"
	"fmt"
	"io"
	"slices"

	"gloam/internal/fault"
	"gloam/internal/picture"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// PictureOptions is how large and how long a picture is traced.
type PictureOptions struct {
	Options
	Width   int // pixels; the height follows the sensor
	Samples int // paths a pixel
	Shown   func(samples int)
}

// Picture is a set-up as its camera sees it: layers with the grain taken off, and the weights of the present dials.
type Picture struct {
	Setup    *scene.Setup
	Image    *transport.Image
	Weights  picture.Weights // to the eye: levels and stops
	Recorded picture.Weights // to the camera under its balance: what is shown
	InShot   []InShot        // of a session's pictures: gear that the camera sees
	Final    bool            // of a session's pictures: no better one follows
}

// Draw takes one set-up of a plan to its picture.
func Draw(ctx context.Context, view *plan.View, o PictureOptions) (*Picture, error) {
	setup, err := new(Session).buildPicture(ctx, view, o.Options)
	if err != nil {
		return nil, err
	}
	q := imageRequest(setup, o, o.Width)
	q.Samples, q.Shown = o.Samples, o.Shown
	raw, err := transport.TraceImage(ctx, setup.Scene, q)
	if err != nil {
		return nil, unfinished(err)
	}
	clean, err := picture.Denoise(ctx, raw)
	if err != nil {
		return nil, unfinished(err)
	}
	return pictureOf(setup, clean), nil
}

// buildPicture makes a set-up of a plan ready for a picture, its ambients as strong as they were read.
func (s *Session) buildPicture(ctx context.Context, view *plan.View, o Options) (*scene.Setup, error) {
	setup, faults := scene.BuildPicture(view, o.Black)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	if setup.View == nil {
		return nil, fault.Fault{Place: view.Places.At("camera"), Path: "camera", Text: "a picture needs a camera with a place",
			Allowed: "at and aim"}
	}
	if v := setup.View; v.Height > tallest*v.Width {
		return nil, fault.Fault{Place: view.Places.At("camera.sensor"), Path: "camera.sensor", Text: "is too narrow for a picture",
			Allowed: fmt.Sprintf("a height up to %d times the width", tallest)}
	}
	return setup, s.calibrate(ctx, setup, o)
}

// tallest is the height of a picture over its width at most: pictures are asked for by width, and memory is bounded.
const tallest = 4

// imageRequest is what a set-up's picture of a width is asked for.
func imageRequest(setup *scene.Setup, o PictureOptions, width int) transport.ImageRequest {
	height := max(1, int(float64(width)*setup.View.Height/setup.View.Width+0.5))
	return transport.ImageRequest{Seed: o.Seed, View: setup.View, Width: width, Height: height}
}

// pictureOf is an image under a set-up's dials.
func pictureOf(setup *scene.Setup, img *transport.Image) *Picture {
	p := &Picture{Setup: setup, Image: img}
	p.Weights.X, p.Weights.Y, p.Weights.Z = setup.Scene.TristimulusWeights(setup.Dials)
	p.Recorded.X, p.Recorded.Y, p.Recorded.Z = setup.Recorded()
	return p
}

// Camera is the set-up's camera as it shows a picture.
func (p *Picture) Camera() picture.Camera {
	return picture.Camera{Camera: p.Setup.Camera, Balance: p.Setup.Balance, Tint: p.Setup.Tint}
}

// Seen is the picture to the eye: what stops are read from.
func (p *Picture) Seen() *picture.Composite { return picture.Compose(p.Image, p.Weights) }

// Recording is the picture as the camera records it: what is shown.
func (p *Picture) Recording() *picture.Composite { return picture.Compose(p.Image, p.Recorded) }

// AtFull returns the weights that the layers would have at level 1 of every dial: to the screen (picture.Camera.Screen), and to
// the eye. Weights are in proportion to the level.
func (p *Picture) AtFull() (screen, eye picture.Weights) {
	dials := slices.Clone(p.Setup.Dials)
	for i := range dials {
		dials[i].Level = 1
	}
	var recorded picture.Weights
	recorded.X, recorded.Y, recorded.Z = p.Setup.Scene.WeightsSeen(dials, p.Setup.Recorder.Light)
	eye.X, eye.Y, eye.Z = p.Setup.Scene.TristimulusWeights(dials)
	return p.Camera().Screen(recorded), eye
}

// WritePNG writes the picture, or its map of stops between a noise floor and a clip, with a caption. The error is the writer's.
func (p *Picture) WritePNG(w io.Writer, stops bool, noiseFloor, clip unit.Stop) error {
	caption := picture.Caption{Setup: p.Setup.Name, Clock: p.Setup.Clock, Key: p.Setup.Camera.Key()}
	if stops {
		return picture.WritePNG(w, caption.Below(picture.Stops(p.Seen(), p.Setup.Camera, noiseFloor, clip)), 8)
	}
	return picture.WritePNG(w, caption.Below(picture.Display(p.Recording(), p.Camera())), 8)
}

// WriteEXR writes the picture with its layers. The error is the writer's.
func (p *Picture) WriteEXR(w io.Writer) error {
	return picture.WriteEXR(w, p.Image, p.Recorded, p.Camera(), p.Setup.Name+": "+picture.Warning)
}
