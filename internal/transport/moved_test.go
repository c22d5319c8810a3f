package transport

import (
	"context"
	"math"
	"slices"
	"testing"

	"gloam/internal/scene"
)

// A lamp that stands as it did has the very digits it had: the walks that were kept are the walks that were traced.
func TestMovedNowhere(t *testing.T) {
	s := bookAndBulb()
	q := Request{Seed: 3, Weights: evenly(s), Goal: 0.02, MostPaths: 1 << 14, Keep: 1 << 9}
	l := must(Trace(context.Background(), s, q))
	q.Goal = 0
	for e := range s.Emitters {
		to := must(l.Moved(context.Background(), s, []int{e}, q))
		for i := range l.Points {
			for _, c := range s.ColumnsOf(e) {
				if to.Points[i].Response[c] != l.Points[i].Response[c] {
					t.Errorf("%s at %s: %v, was %v", s.Emitters[e].Name, s.Receivers[i].Name, to.Points[i].Response[c], l.Points[i].Response[c])
				}
			}
		}
	}
}

// A moved lamp has the layer that tracing afresh finds, and the others keep theirs; moved a second time as well.
func TestMovedIsAsTracedAfresh(t *testing.T) {
	s := bookAndBulb()
	q := Request{Seed: 3, Weights: evenly(s), MostPaths: 1 << 15, Keep: 1 << 10}
	l := must(Trace(context.Background(), s, q))
	for _, by := range []vec{{X: 0.4, Y: -0.3}, {X: 0.8, Y: 0.9, Z: 0.3}} {
		s = shifted(s, 0, by)
		l = must(l.Moved(context.Background(), s, []int{0}, q))
		anew := q
		anew.Seed = 9
		fresh := must(Trace(context.Background(), s, anew))
		for i := range s.Receivers {
			for e := range s.Emitters {
				got, a := l.Points[i].LevelOf(q.Weights, s.ColumnsOf(e)...)
				want, b := fresh.Points[i].LevelOf(q.Weights, s.ColumnsOf(e)...)
				compare(t, s.Receivers[i].Name+" "+s.Emitters[e].Name, got, math.Hypot(a, b), want, 0)
				if want > 0 && a > 0.05*want {
					t.Errorf("%s at %s: standard error %v of %v", s.Emitters[e].Name, s.Receivers[i].Name, a, want)
				}
			}
		}
	}
}

// An eye that no longer sees the lamp, or comes to see it, is traced from the start.
func TestMovedOutOfViewAndBack(t *testing.T) {
	s := scenery([]scene.Surface{board(vec{Y: 5}, vec{Y: -1}, 4, 4, scene.Matt(grey(0.5)))}, matt(vec{Y: 2}, vec{Y: -1}, 100, disc(0.1)))
	s.Receivers = []scene.Receiver{{Name: "eye", Kind: scene.Spot, Normal: vec{Y: 1}}}
	q := Request{Seed: 1, Weights: evenly(s), Goal: 0.01, MostPaths: 1 << 14, Keep: 64}
	seen := must(Trace(context.Background(), s, q))
	level := func(l *Layers) float64 { x, _ := l.Points[0].Level(q.Weights); return x }
	compare(t, "in view", level(seen), 0, 100, 1e-9)
	unseen := must(seen.Moved(context.Background(), shifted(s, 0, vec{X: 3}), []int{0}, q))
	compare(t, "out of view, facing away from the wall", level(unseen), 0, 0, 0)
	back := must(unseen.Moved(context.Background(), s, []int{0}, q))
	compare(t, "back", level(back), 0, 100, 1e-9)
}

func TestMovedCanBeCancelled(t *testing.T) {
	s := bookAndBulb()
	q := Request{Seed: 3, Weights: evenly(s), Goal: 0.02, MostPaths: 1 << 14, Keep: 1 << 9}
	l := must(Trace(context.Background(), s, q))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := l.Moved(ctx, s, []int{0}, q); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

// bookAndBulb is a book light with a bare bulb behind it, before receivers of every kind.
func bookAndBulb() *scene.Scene {
	s := studyScenes()["book"]
	s.Emitters[0].Name = "lamp"
	bulb := point(vec{X: 4.5, Y: 4, Z: 1.8}, 50)
	bulb.Name = "bulb"
	s.Emitters = append(s.Emitters, bulb)
	return s
}

// shifted is a scene with one emitter moved.
func shifted(s *scene.Scene, emitter int, by vec) *scene.Scene {
	to := *s
	to.Emitters = slices.Clone(s.Emitters)
	to.Emitters[emitter].Centre = s.Emitters[emitter].Centre.Add(by)
	return &to
}

func must(l *Layers, err error) *Layers {
	if err != nil {
		panic(err)
	}
	return l
}
