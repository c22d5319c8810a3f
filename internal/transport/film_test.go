package transport

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// litRoom is a room with two windows, sky and sun, and two lamps beside the picture: out of an eye's sight.
func litRoom() (*scene.Scene, ImageRequest) {
	s := twoWindows(true, true)
	key, fill := vec{X: 0.3, Y: 0.3, Z: 2.2}, vec{X: 3.7, Y: 0.2, Z: 2.2}
	s.Emitters = append(s.Emitters, matt(key, vec{X: 2, Y: 3, Z: 1}.Sub(key), 200, disc(0.1)), point(fill, 20))
	s.Emitters[3].Name, s.Emitters[4].Name = "key", "fill"
	s.Emitters[4].Form.Radius = 0.1
	at := vec{X: 2, Y: 0.6, Z: 1.2}
	view := &scene.View{At: at, Basis: geometry.Basis{X: vec{X: 1}, Y: down, Z: vec{Y: 1}}, Focal: 0.03, Width: 0.024, Height: 0.0135}
	return s, ImageRequest{Seed: 5, View: view, Width: 24, Height: 14, Samples: 8}
}

func pictureOf(t *testing.T, s *scene.Scene, q ImageRequest) *Image {
	t.Helper()
	img, err := TraceImage(context.Background(), s, q)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// stepped takes steps until nothing has fewer samples than wanted.
func stepped(t *testing.T, f *Film, samples int) *Image {
	t.Helper()
	for f.Samples() < samples {
		if _, err := f.Step(context.Background(), samples); err != nil {
			t.Fatal(err)
		}
	}
	return f.Develop()
}

func sameImage(t *testing.T, name string, got, want *Image) {
	t.Helper()
	if got.Samples != want.Samples || len(got.Layers) != len(want.Layers) {
		t.Fatalf("%s: %d samples of %d layers, want %d of %d", name, got.Samples, len(got.Layers), want.Samples, len(want.Layers))
	}
	for i := range got.Layers {
		if !reflect.DeepEqual(got.Layers[i], want.Layers[i]) {
			t.Errorf("%s: layer %s differs", name, got.Layers[i].Name)
		}
	}
	if !slices.Equal(got.Depth, want.Depth) || !slices.Equal(got.Albedo, want.Albedo) || !slices.Equal(got.Normal, want.Normal) {
		t.Errorf("%s: the surfaces differ", name)
	}
}

// A film on which something moved is, sample for sample, the one that is begun anew: a lamp, the sun and the sky, twice in a
// row, before the first move is caught up with, and after a round that was broken off with some of its rows done.
func TestAMovedFilmIsAsTracedAnew(t *testing.T) {
	s, q := litRoom()
	f := NewFilm(s, q, nil)
	stepped(t, f, 2)
	move := func(e int, change func(*scene.Emitter)) {
		to := *s
		to.Emitters = slices.Clone(s.Emitters)
		change(&to.Emitters[e])
		s = &to
		f.Move(s, []int{e})
		if !f.Late(e) || f.Late(2) || f.Samples() != 0 {
			t.Errorf("emitter %d moved: late %v, another late %v, %d samples", e, f.Late(e), f.Late(2), f.Samples())
		}
	}
	check := func(name string, samples int) {
		t.Helper()
		q.Samples = samples
		sameImage(t, name, stepped(t, f, samples), pictureOf(t, s, q))
	}
	move(3, func(e *scene.Emitter) { e.Centre.X += 0.2 })
	check("a lamp moved", 2)
	move(3, func(e *scene.Emitter) { e.Centre.Y += 0.2 })
	move(4, func(e *scene.Emitter) { e.Basis = geometry.About(vec{X: -0.2, Y: 0.3, Z: -1}.Unit()) })
	check("two lamps moved", 4)
	move(1, func(e *scene.Emitter) { e.Toward = vec{X: -0.4, Y: -1, Z: 1}.Unit() })
	check("the sun moved", 4)
	move(0, func(e *scene.Emitter) { e.Overcast = false })
	check("the sky changed", 4)

	// A round from 4 to 8 that was stopped after one row.
	c, err := f.light(context.Background(), nil, 4)
	if err != nil {
		t.Fatal(err)
	}
	w := &tracer{world: f.world, pass: f.world.all(), cache: c, tally: newTally(s)}
	w.exposeRow(f, 3, 8)
	move(3, func(e *scene.Emitter) { e.Centre.X -= 0.1 })
	check("moved after a broken round", 8)
}

// Where a lamp that moved is seen in the picture, or was, it hid or hides what else is there: the film begins anew.
func TestAMovedLampThatIsSeen(t *testing.T) {
	s, q := litRoom()
	q.Samples = 2
	for name, by := range map[string]vec{"comes into the picture": {X: -1.5, Y: 2.2, Z: -0.9}, "stays out of it": {X: -0.1}} {
		f := NewFilm(s, q, nil)
		stepped(t, f, 2)
		to := shifted(s, 4, by)
		f.Move(to, []int{4})
		anew, err := f.Step(context.Background(), 2)
		if err != nil {
			t.Fatal(err)
		}
		if anew == (name == "stays out of it") || anew == f.Late(4) {
			t.Errorf("a lamp that %s: begun anew %v, late %v", name, anew, f.Late(4))
		}
		sameImage(t, name, stepped(t, f, 2), pictureOf(t, to, q))
		f.Move(s, []int{4})
		sameImage(t, name+", and back", stepped(t, f, 2), pictureOf(t, s, q))
	}
}

// A film that was stopped goes on where it was.
func TestAStoppedFilmGoesOn(t *testing.T) {
	s, q := litRoom()
	f := NewFilm(s, q, nil)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if _, err := f.Step(stopped, 8); err == nil {
		t.Error("a stopped step says nothing")
	}
	sameImage(t, "stopped", stepped(t, f, 8), pictureOf(t, s, q))
}

// A glance sees the surfaces that a first sample sees, and a film like another does not build what still stands anew.
func TestAGlanceSeesTheSurfaces(t *testing.T) {
	s, q := litRoom()
	f := NewFilm(s, q, nil)
	glance, err := f.Glance(context.Background(), q.Width, q.Height)
	if err != nil {
		t.Fatal(err)
	}
	want := stepped(t, f, 1)
	if len(glance.Layers) != 0 || !slices.Equal(glance.Depth, want.Depth) || !slices.Equal(glance.Albedo, want.Albedo) || !slices.Equal(glance.Normal, want.Normal) {
		t.Error("the glance sees other surfaces than the first sample")
	}
	if NewFilm(s, q, f).world != f.world {
		t.Error("the same scene is built anew")
	}
	q.Samples = 2
	to := shifted(s, 3, vec{X: 0.1})
	sameImage(t, "like another", stepped(t, NewFilm(to, q, f), 2), pictureOf(t, to, q))
}
