package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
)

// Swapped, a small matt source and a small receptor change nothing: not in a room of unlike walls with a heavy, a light
// and a spreading cloth between them.
func TestReciprocity(t *testing.T) {
	room := closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0.8, 0.5)
	kit := map[string][]scene.Surface{
		"walls": nil,
		"heavy cloth": {board(vec{X: 2, Y: 1.5, Z: 1}, toX, 1.5, 1.5,
			scene.Optics{Transmit: grey(0.4), ReflectFront: grey(0.5), ReflectBack: grey(0.1)})},
		"light cloth": {board(vec{X: 2, Y: 1.5, Z: 1}, vec{X: 1, Y: 0.5}, 2, 2,
			scene.Optics{Straight: grey(0.5), Transmit: grey(0.2), ReflectFront: grey(0.2), ReflectBack: grey(0.1)})},
		"spreading cloth": {board(vec{X: 2, Y: 1.5, Z: 1}, vec{X: 1, Y: 0.8}, 2, 2,
			scene.Optics{Straight: grey(0.6), Spread: 0.7, ReflectFront: grey(0.3)})},
		"glass": {board(vec{X: 2, Y: 1.5, Z: 1}, vec{X: 1, Y: 0.8}, 2, 2, scene.Optics{Panes: 2, PaneClarity: 0.9})},
	}
	a, aFaces := vec{X: 0.7, Y: 1, Z: 1}, vec{X: 1, Y: 0.4}
	b, bFaces := vec{X: 3.2, Y: 1.8, Z: 1.4}, vec{X: -1, Z: 0.6}
	level := func(t *testing.T, things []scene.Surface, at, z, from, fromZ vec) (float64, float64) {
		s := scenery(append(things, room...), matt(from, fromZ, 1e4, panel(0.02, 0.02)))
		s.Receivers = []scene.Receiver{flatAt(at, z)}
		return traced(t, s, 1, 0.01, 1<<17).Points[0].Level(evenly(s))
	}
	for _, name := range []string{"walls", "heavy cloth", "light cloth", "spreading cloth", "glass"} {
		t.Run(name, func(t *testing.T) {
			there, e := level(t, kit[name], a, aFaces, b, bFaces)
			back, f := level(t, kit[name], b, bFaces, a, aFaces)
			compare(t, "swapped", back, math.Hypot(e, f), there, 1e-4) // of the source's size
			if e > 0.02*there {
				t.Errorf("standard error %.2g", e/there)
			}
		})
	}
}

// What a surface hands on from one direction to another, over the cosine, is the same backwards: also where one side
// reflects otherwise than the other, and on a slant.
func TestSurfaceIsReciprocal(t *testing.T) {
	o := scene.Optics{ReflectFront: grey(0.3), ReflectBack: grey(0.1), Transmit: grey(0.2), Straight: grey(0.3), Spread: 0.8}
	n := geometry.Up
	hands := func(out, in vec) float64 { // path came along −out; light comes from in
		v, _ := surfaceOf(&o, vec{}, out.Neg(), &hit{normal: n, front: out.Dot(n) > 0})
		f, _ := v.value(in)
		return f[0] / math.Abs(in.Dot(n))
	}
	for i := range uint32(2000) {
		path := numeric.Path(9, i)
		u, v := path.Next()
		x, y := path.Next()
		a, b := about(n, 2*u-1, 2*math.Pi*v), about(n, 2*x-1, 2*math.Pi*y)
		if p, q := hands(a, b), hands(b, a); math.Abs(p-q) > 1e-9*(p+q) {
			t.Fatalf("%v to %v: %v, back %v", a, b, p, q)
		}
	}
}
