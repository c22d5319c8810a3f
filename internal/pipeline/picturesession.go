package pipeline

import (
	"context"
	"reflect"
	"slices"

	"gloam/internal/picture"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// PictureSession draws one set-up again and again while its plan is edited: what an edit leaves alone is not traced again. The
// zero value is ready. It serves one call at a time: Draft, then Sharpen.
type PictureSession struct {
	strengths Session
	setup     *scene.Setup // that the films are of
	width     int
	small     *transport.Film // a rough picture, for a hand that still moves
	full      *transport.Film
	shown     *transport.Image // the last picture, its grain taken off
	standsIn  bool             // it is of another lens opening than the films
	stale     map[int]bool     // emitters that changed since
}

const (
	draftDivide  = 4 // the light of a draft is that of pixels so many times as wide
	glanceDivide = 2 // and its surfaces of such
	draftSamples = 1 // of a draft, paths a pixel
	standsInFor  = 16
)

// rounds are the paths a pixel at which a picture that sharpens is shown; the last is the caller's.
var rounds = []int{1, 4, 16}

// Draft returns a picture at once. A changed dial costs no rays: the last picture stands under new weights. A lamp, sun or sky
// that changed is traced alone and roughly, and laid on the picture as it is; for anything else, all of it is
// traced so and laid on surfaces found anew. The error is a fault.
func (s *PictureSession) Draft(ctx context.Context, view *plan.View, o PictureOptions) (*Picture, error) {
	setup, err := s.strengths.buildPicture(ctx, view, o.Options)
	if err != nil {
		return nil, err
	}
	s.take(setup, o)
	if s.shown == nil || len(s.stale) > 0 {
		if err := s.draft(ctx); err != nil {
			return nil, unfinished(err)
		}
	}
	return s.picture(o), nil
}

// take goes over to a set-up and marks the emitters that are to be traced again; without a picture shown, that is all.
func (s *PictureSession) take(setup *scene.Setup, o PictureOptions) {
	before := s.setup
	s.setup = setup
	if before != nil && s.width == o.Width && sameSight(before.View, setup.View) {
		moved, same := movedSources(before.Scene, setup.Scene)
		switch {
		case same && before.View.Aperture != setup.View.Aperture && len(moved) == 0:
			s.begin(setup, o)
			s.standsIn = true
			return
		case same && before.View.Aperture == setup.View.Aperture:
			s.small.Move(setup.Scene, moved)
			s.full.Move(setup.Scene, moved)
			for _, e := range moved {
				s.stale[e] = true
			}
			return
		}
	}
	s.begin(setup, o)
	s.shown, s.stale = nil, map[int]bool{}
}

func (s *PictureSession) begin(setup *scene.Setup, o PictureOptions) {
	s.width, s.standsIn = o.Width, false
	s.full = transport.NewFilm(setup.Scene, imageRequest(setup, o, o.Width), s.full)
	s.small = transport.NewFilm(setup.Scene, imageRequest(setup, o, max(1, o.Width/draftDivide)), s.full)
}

// draft traces on the small film what is stale.
func (s *PictureSession) draft(ctx context.Context) error {
	anew, err := steps(ctx, s.small, draftSamples)
	if err != nil {
		return err
	}
	img := s.small.Develop()
	wanted := func(e int) bool { return s.stale[e] }
	on := s.shown
	if on == nil || anew {
		wanted = func(int) bool { return true }
		if on, err = s.small.Glance(ctx, max(1, s.width/glanceDivide), max(1, img.Height*draftDivide/glanceDivide)); err != nil {
			return err
		}
	}
	if img, err = only(ctx, img, s.setup.Scene, wanted); err != nil {
		return err
	}
	s.shown = replaced(on, picture.Lay(img, on), s.setup.Scene, wanted)
	clear(s.stale)
	return nil
}

// picture is what is shown under the present dials.
func (s *PictureSession) picture(o PictureOptions) *Picture {
	p := pictureOf(s.setup, s.shown)
	p.Final = s.isShown(o.Samples)
	p.InShot = inShot(s.setup, s.full.Sight())
	return p
}

// steps brings a film to as many samples.
func steps(ctx context.Context, f *transport.Film, samples int) (anew bool, err error) {
	for f.Samples() < samples {
		again, err := f.Step(ctx, samples)
		if err != nil {
			return anew, err
		}
		anew = anew || again
	}
	return anew, nil
}

// only takes the grain off some emitters' layers and leaves the others out.
func only(ctx context.Context, img *transport.Image, s *scene.Scene, wanted func(emitter int) bool) (*transport.Image, error) {
	some := *img
	some.Layers = slices.DeleteFunc(slices.Clone(img.Layers), func(l transport.ImageLayer) bool { return !wanted(s.EmitterOf(l.Column)) })
	return picture.Denoise(ctx, &some)
}

// replaced is a picture with some emitters' layers from another.
func replaced(in, by *transport.Image, s *scene.Scene, wanted func(emitter int) bool) *transport.Image {
	img := *in
	img.Samples = by.Samples
	img.Layers = slices.DeleteFunc(slices.Clone(img.Layers), func(l transport.ImageLayer) bool { return wanted(s.EmitterOf(l.Column)) })
	img.Layers = append(img.Layers, by.Layers...)
	slices.SortFunc(img.Layers, func(a, b transport.ImageLayer) int { return a.Column - b.Column })
	return &img
}

// Sharpen goes on until the picture is as good as asked, with the digits that Draw gives, and shows it from time to time. The
// error is a fault.
func (s *PictureSession) Sharpen(ctx context.Context, o PictureOptions, show func(*Picture)) error {
	for _, samples := range append(slices.Clone(rounds), o.Samples) {
		if samples > o.Samples || s.isShown(samples) {
			continue
		}
		if _, err := steps(ctx, s.full, samples); err != nil {
			return unfinished(err)
		}
		if s.standsIn && s.full.Samples() < min(standsInFor, o.Samples) {
			continue
		}
		clean, err := s.develop(ctx)
		if err != nil {
			return unfinished(err)
		}
		s.shown, s.standsIn = clean, false
		clear(s.stale)
		show(s.picture(o))
	}
	return nil
}

// isShown reports whether what is shown is as good as the full film would be with so many samples.
func (s *PictureSession) isShown(samples int) bool {
	return s.shown.Width == s.width && !s.standsIn && s.shown.Samples >= samples && s.full.Samples() >= samples
}

// develop is the full film with its grain taken off; while some of it is late, what is not stays as shown.
func (s *PictureSession) develop(ctx context.Context) (*transport.Image, error) {
	raw := s.full.Develop()
	late := slices.ContainsFunc(raw.Layers, func(l transport.ImageLayer) bool { return s.full.Late(s.setup.Scene.EmitterOf(l.Column)) })
	if !late || s.shown.Width != s.width || s.standsIn {
		return picture.Denoise(ctx, raw)
	}
	clean, err := only(ctx, raw, s.setup.Scene, s.full.Late)
	if err != nil {
		return nil, err
	}
	return replaced(s.shown, clean, s.setup.Scene, s.full.Late), nil
}

// sameSight reports whether two views show the same but for the lens's opening.
func sameSight(a, b *scene.View) bool {
	x, y := *a, *b
	x.Aperture, y.Aperture = 0, 0
	return x == y
}

// movedSources returns the emitters that shine otherwise in b than in a. same is false where more than that differs.
func movedSources(a, b *scene.Scene) (moved []int, same bool) {
	if !sameThings(a, b) || len(a.Emitters) != len(b.Emitters) {
		return nil, false
	}
	for i := range a.Emitters {
		x, y := &a.Emitters[i], &b.Emitters[i]
		if x.Kind != y.Kind || x.Name != y.Name || !slices.Equal(x.Through, y.Through) || (x.Through == nil) != (y.Through == nil) {
			return nil, false
		}
		if !reflect.DeepEqual(x, y) {
			moved = append(moved, i)
		}
	}
	return moved, true
}
