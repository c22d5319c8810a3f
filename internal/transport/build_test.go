package transport

import (
	"context"
	"reflect"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// ballAndBook is a book light with a ball of many triangles at a place.
func ballAndBook(at vec) *scene.Scene {
	s := bookAndBulb()
	for _, c := range []vec{{X: 1, Y: 4, Z: 0.5}, at} {
		ball := geometry.Sphere(0.3, 16, 24).Transform(geometry.About(geometry.Up), c, 1)
		s.Surfaces = append(s.Surfaces, surface(ball, scene.Matt(grey(0.4))))
	}
	return s
}

// What stands as it did keeps its tree; the layers have the digits that a world built anew has.
func TestLikeKeepsWhatStands(t *testing.T) {
	before, after := ballAndBook(vec{X: 2, Y: 2, Z: 1}), ballAndBook(vec{X: 2.5, Y: 2, Z: 1})
	q := Request{Seed: 1, Weights: evenly(before), MostPaths: 1 << 10, Keep: 8}
	old := must(Trace(context.Background(), before, q))
	anew := must(Trace(context.Background(), after, q))
	q.Like = old
	like := must(Trace(context.Background(), after, q))
	for i := range like.Points {
		if !reflect.DeepEqual(like.Points[i], anew.Points[i]) {
			t.Errorf("%s differs", after.Receivers[i].Name)
		}
	}
	kept := 0
	for m, tree := range like.world().trees {
		if old.world().trees[m] == tree {
			kept++
		}
	}
	if n := len(like.world().trees); n != 4 || kept != 3 {
		t.Errorf("%d of %d trees kept, want all but the moved ball's of 4: the small, the passing, two balls", kept, n)
	}
}
