package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// twoWindows is a box room with a window in the wall at y = 0 and a skylight. open tells which of them are holes; the
// other is shut with a black board.
func twoWindows(open ...bool) *scene.Scene {
	size := vec{X: 4, Y: 3, Z: 2.5}
	s := scenery(nil, sky(true), sun(vec{X: 0.3, Y: -1, Z: 1}), sky(false))
	// walls in strips about the holes
	matt := scene.Matt(grey(0.6))
	add := func(c, z vec, w, h float64, o scene.Optics, opening int) {
		b := board(c, z, w, h, o)
		b.Opening = opening
		s.Surfaces = append(s.Surfaces, b)
	}
	add(vec{X: 2, Y: 1.5}, geometry.Up, 4, 3, matt, -1)
	add(vec{X: 2, Y: 3, Z: 1.25}, vec{Y: -1}, 4, 2.5, matt, -1)
	add(vec{X: 0, Y: 1.5, Z: 1.25}, toX, 3, 2.5, matt, -1)
	add(vec{X: 4, Y: 1.5, Z: 1.25}, vec{X: -1}, 3, 2.5, matt, -1)
	add(vec{X: 0.5, Z: 1.25}, vec{Y: 1}, 1, 2.5, matt, -1) // window x 1 to 2.5, z 0.5 to 2
	add(vec{X: 3.25, Z: 1.25}, vec{Y: 1}, 1.5, 2.5, matt, -1)
	add(vec{X: 1.75, Z: 0.25}, vec{Y: 1}, 1.5, 0.5, matt, -1)
	add(vec{X: 1.75, Z: 2.25}, vec{Y: 1}, 1.5, 0.5, matt, -1)
	add(vec{X: 1.25, Y: 1.5, Z: size.Z}, down, 2.5, 3, matt, -1) // skylight x 2.5 to 3.5, y 1 to 2
	add(vec{X: 3.75, Y: 1.5, Z: size.Z}, down, 0.5, 3, matt, -1)
	add(vec{X: 3, Y: 0.5, Z: size.Z}, down, 1, 1, matt, -1)
	add(vec{X: 3, Y: 2.5, Z: size.Z}, down, 1, 1, matt, -1)
	fill := func(i int, c, z vec, w, h float64) {
		o := scene.Void()
		if !open[i] {
			o = scene.Matt(grey(0))
		}
		add(c, z, w, h, o, i)
		b := geometry.About(z)
		s.Openings = append(s.Openings, scene.Opening{Centre: c, U: b.X.Mul(w / 2), V: b.Y.Mul(h / 2), Gel: scene.Clear})
	}
	fill(0, vec{X: 1.75, Z: 1.25}, vec{Y: 1}, 1.5, 1.5)
	fill(1, vec{X: 3, Y: 1.5, Z: size.Z}, down, 1, 1)
	s.Receivers = []scene.Receiver{flatAt(vec{X: 2, Y: 2, Z: 1}, geometry.Up), domeAt(vec{X: 3, Y: 1, Z: 1.2}, vec{Y: -1})}
	return s
}

// Columns keep light apart by the opening it came in by: each is what the room with the other shut has, but for light
// that comes in by one and would have gone out by the other, which here meets black in its place in both.
func TestColumnsByOpening(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	both := twoWindows(true, true)
	all := traced(t, both, 1, 1, 1<<15)
	for opening := range 2 {
		alone := twoWindows(opening == 0, opening == 1)
		one := traced(t, alone, 2, 1, 1<<15)
		for i := range both.Receivers {
			for e := range both.Emitters {
				got, a := all.Points[i].LevelOf(evenly(both), both.Column(e, opening))
				want, b := one.Points[i].LevelOf(evenly(both), both.Column(e, opening))
				compare(t, both.Receivers[i].Name+both.Emitters[e].Name, got, math.Hypot(a, b), want, 0)
				if other, _ := one.Points[i].LevelOf(evenly(both), both.Column(e, 1-opening), both.Column(e, -1)); other != 0 {
					t.Errorf("opening %d alone: %v came in elsewhere", opening, other)
				}
				if want > 0 && b > 0.03*want {
					t.Errorf("standard error %.2g", b/want)
				}
			}
		}
	}
	for i := range all.Points {
		whole, _ := all.Points[i].Level(evenly(both))
		sum := 0.0
		for c := range both.Columns() {
			part, _ := all.Points[i].LevelOf(evenly(both), c)
			sum += part
		}
		compare(t, "sum of columns", sum, 0, whole, 1e-12)
	}
}

// A sky said to come in by one opening does so and no other; its column is the same as without the saying.
func TestThroughOneOpening(t *testing.T) {
	free, bound := twoWindows(true, true), twoWindows(true, true)
	bound.Emitters[0].Through = []int{1}
	a, b := traced(t, free, 1, 0.01, 1<<15), traced(t, bound, 1, 0.01, 1<<15)
	for i := range a.Points {
		want, e := a.Points[i].LevelOf(evenly(free), free.Column(0, 1))
		got, f := b.Points[i].LevelOf(evenly(free), free.Column(0, 1))
		compare(t, "by the skylight", got, math.Hypot(e, f), want, 0)
		if by, _ := b.Points[i].LevelOf(evenly(free), free.Column(0, 0), free.Column(0, -1)); by != 0 || got == 0 {
			t.Errorf("%v by the window, %v by the skylight", by, got)
		}
	}
}

// A gel on an opening is a dial over its columns.
func TestGelOnAnOpening(t *testing.T) {
	s := twoWindows(true, true)
	s.Openings[0].Gel = spectrum.Flat(0.5)
	dials := make([]scene.Dial, len(s.Emitters))
	for i := range dials {
		dials[i] = scene.Dial{Level: 1, Light: spectrum.Flat(1), Gel: scene.Clear}
	}
	p := &traced(t, s, 1, 0.05, 1024).Points[0]
	window, _ := p.LevelOf(evenly(s), s.Column(0, 0))
	skylight, _ := p.LevelOf(evenly(s), s.Column(0, 1))
	got, _ := p.LevelOf(s.Weights(dials), s.Column(0, 0), s.Column(0, 1), s.Column(0, -1))
	compare(t, "half a window and a skylight", got, 0, window/2+skylight, 1e-12)
}

// One opening behind another, overlapping as seen: however the sky is looked for, the answer is that of the hole that
// both leave, here the smaller one behind (4·B-4 of [HOWELL]).
func TestOpeningsInARow(t *testing.T) {
	front, near := hole(vec{Z: 2}, down, 3, 3, scene.Void())
	roof, far := hole(vec{Z: 3}, down, 2, 2, scene.Void())
	roof[4].Opening = 1
	s := scenery(append(front, roof...), sky(false))
	s.Openings = []scene.Opening{near, far}
	known{name: "overlapping", scene: s, within: 1e-4, sure: 2e-3, ask: []scene.Receiver{flatAt(vec{}, geometry.Up)},
		want: []float64{0.123318 * math.Pi}}.run(t)
	// Both in one plane, one within the other, as a sash within its frame.
	whole, frame := hole(vec{Z: 3}, down, 2, 2, scene.Void())
	s = scenery(whole, sky(false))
	s.Openings = []scene.Opening{frame, {Centre: vec{X: 0.3, Z: 3}, U: vec{X: 0.4}, V: vec{Y: 0.4}, Gel: scene.Clear}}
	known{name: "one in the other", scene: s, within: 1e-4, sure: 2e-3, ask: []scene.Receiver{flatAt(vec{}, geometry.Up)},
		want: []float64{0.123318 * math.Pi}}.run(t)
}
