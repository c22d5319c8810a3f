package pipeline

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"gloam/internal/plan"
	"gloam/internal/transport"
)

func smallPicture(samples int) PictureOptions {
	return PictureOptions{Options: Defaults(), Width: 64, Samples: samples}
}

// Through edits of all kinds a session ends with the very layers and weights that a picture drawn from nothing has.
func TestPictureSessionEndsWhereDrawDoes(t *testing.T) {
	s := &PictureSession{}
	o := smallPicture(4)
	for _, row := range []struct{ name, old, fresh, kept string }{
		{"opened", "", "", "nothing"},
		{"nothing", "", "", "all"},
		{"the stop", "stop: T3.27", "stop: T5", "all"},
		{"a dial", "dim: 88 %", "dim: 40 %", "all"},
		{"balance and EI", "ei: 800", "ei: 400", "all"},
		{"a lamp", "at: 1 m from key frame bearing 45", "at: 1.2 m from key frame bearing 60", "others"},
		{"a frame", "kind: full grid, size: 1.2 x 1.2 m", "kind: full grid, size: 1 x 1 m", "nothing"},
	} {
		t.Run(row.name, func(t *testing.T) {
			view := edited(t, row.old, row.fresh)
			before := s.shown
			draft, err := s.Draft(context.Background(), view, o)
			if err != nil {
				t.Fatal(err)
			}
			kept := 0
			for i := range draft.Image.Layers {
				if before != nil && slices.ContainsFunc(before.Layers, func(l transport.ImageLayer) bool { return &l.Pixels[0] == &draft.Image.Layers[i].Pixels[0] }) {
					kept++
				}
			}
			switch all := len(draft.Image.Layers); {
			case row.kept == "all" && (kept != all || draft.Image != before),
				row.kept == "others" && (kept == 0 || kept == all || draft.Image.Width != o.Width):
				t.Errorf("%d of %d layers are kept, %d pixels wide", kept, all, draft.Image.Width)
			}
			last := draft
			if err := s.Sharpen(context.Background(), o, func(p *Picture) { last = p }); err != nil {
				t.Fatal(err)
			}
			want, err := Draw(context.Background(), view, o)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(last.Image, want.Image) {
				t.Errorf("the last picture, %d samples of %d layers, differs from one drawn", last.Image.Samples, len(last.Image.Layers))
			}
			if !reflect.DeepEqual(last.Weights, want.Weights) || !reflect.DeepEqual(last.Recorded, want.Recorded) {
				t.Error("the last weights differ from those drawn")
			}
		})
	}
}

// A picture that is overtaken while it sharpens goes on from where it was, and ends as one that was left in peace.
func TestPictureSessionOvertaken(t *testing.T) {
	s := &PictureSession{}
	o := smallPicture(8)
	for i, fresh := range []string{"dim: 88 %", "dim: 30 %", "dim: 31 %", "dim: 32 %"} {
		ctx, stop := context.WithTimeout(context.Background(), time.Duration(i+1)*30*time.Millisecond)
		if _, err := s.Draft(context.Background(), edited(t, "dim: 88 %", fresh), o); err != nil {
			t.Fatal(err)
		}
		s.Sharpen(ctx, o, func(*Picture) {}) // stopped or not
		stop()
	}
	view := edited(t, "at: 1 m from key frame bearing 45", "at: 1.2 m from key frame bearing 60")
	last, err := s.Draft(context.Background(), view, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Sharpen(context.Background(), o, func(p *Picture) { last = p }); err != nil {
		t.Fatal(err)
	}
	want, err := Draw(context.Background(), view, o)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(last.Image, want.Image) {
		t.Error("the last picture differs from one drawn")
	}
}

// Gear in the picture is named with its place, and what a mirror shows of it; what stands behind the camera is not.
func TestInShot(t *testing.T) {
	const text = `gloam: 1
title: mirror
set:
  rooms:
    room: {size: 6 x 5 x 2.8 m}
  objects:
    glass: {kind: box, size: 2 x 0.02 x 2 m, at: 3 4.9 0.4, material: mirror 0.9}
people:
  A: {at: 3 3, faces: S, key: left}
lamps:
  key: {kit: B12-D26, at: 1.2 4 2, aim: A}
  fill: {kit: B12-D26, at: 3.8 0.4 1.6, aim: A}
cloths:
  wall: {kind: white bounce, size: 1 x 1 m, at: 5.6 4.2 1.2, faces: A}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 3 0.8 1.5, aim: N, lens: 18 mm}
points:
  table: {at: 3 3 1, faces: up}
`
	read, faults := plan.Read("mirror.yaml", []byte(text), nil)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	view := viewOf(t, read, read.Setups()[0])
	p, err := new(PictureSession).Draft(context.Background(), view, smallPicture(1))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, s := range p.InShot {
		all = append(all, s.Text)
		if left := strings.HasSuffix(s.Text, "left"); !(s.X > 0 && s.X < 1 && s.Y > 0 && s.Y < 1) || left != (s.X < 1.0/3) {
			t.Errorf("%+v", s)
		}
	}
	said := strings.Join(all, "\n")
	for want, is := range map[string]bool{
		"key and its stand are in shot, top left":  true,
		"wall is in shot, right":                   true,
		"fill is in shot":                          false,
		"fill and its stand are in shot":           false,
		"fill and its stand are mirrored in glass": true,
		"camera is mirrored in glass":              false, // A stands before it
		"camera is in shot":                        false,
	} {
		if strings.Contains(said, want) != is {
			t.Errorf("%q: %v of\n%s", want, !is, said)
		}
	}
}

// A lamp moved by hand, step by step: what a draft costs once the plan is read.
func BenchmarkDraftOfAMovedLamp(b *testing.B) {
	s := &PictureSession{}
	o := smallPicture(1)
	o.Width = 480
	var steps []*plan.View
	for i := range 16 {
		steps = append(steps, edited(b, "at: 1 m from key frame bearing 45", fmt.Sprintf("at: 1.%02d m from key frame bearing 60", i)))
	}
	draft := func(i int) {
		if _, err := s.Draft(context.Background(), steps[i%len(steps)], o); err != nil {
			b.Fatal(err)
		}
	}
	draft(0)
	if err := s.Sharpen(context.Background(), o, func(*Picture) {}); err != nil {
		b.Fatal(err)
	}
	for i := 1; b.Loop(); i++ {
		draft(i)
	}
}
