package plan

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

var shop = unit.Size3{Width: 5, Depth: 4, Height: 3}

// TestFindWall: +y has the azimuth north; right of it, clockwise from above, lies +x.
func TestFindWall(t *testing.T) {
	cases := []struct {
		name  string
		north unit.Bearing
		word  string
		want  string // "" for none
	}{
		{"a wall by its place", 0, "left", "left"},
		{"the ceiling", 0, "ceiling", "ceiling"},
		{"north is far", 0, "north", "far"},
		{"east is right", 0, "east", "right"},
		{"south is near", 0, "south", "near"},
		{"west is left", 0, "west", "left"},
		{"+y looks east: far is east", 90, "east", "far"},
		{"+y looks east: right is south", 90, "south", "right"},
		{"+y looks east: left is north", 90, "north", "left"},
		{"+y looks a little west: far is still north", 330, "north", "far"},
		{"+y looks north-east: far is north-east", 45, "north-east", "far"},
		{"halfway", 45, "north", ""},
		{"halfway round a square room", 0, "south-west", ""},
		{"no such word", 0, "upper", ""},
		{"the floor", 0, "floor", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w, ok := FindWall(Walls(geometry.Vector{}, shop), c.word, c.north)
			if ok != (c.want != "") || ok && w.Name != c.want {
				t.Errorf("%s with north at %v is %v, %v; want %q", c.word, c.north, w, ok, c.want)
			}
		})
	}
}

// TestWallsFaceOut: a wall's way right and way up make it face into the room, and its azimuth is that of the way out.
func TestWallsFaceOut(t *testing.T) {
	corner := geometry.Vector{X: 1, Y: 2, Z: 3}
	middle := corner.Add(geometry.Vector{X: 2.5, Y: 2, Z: 1.5})
	for _, w := range Walls(corner, shop) {
		centre := Hole{0, 0, w.Width, w.Height}.Centre(&w)
		in := w.Basis.Z
		if d := middle.Sub(centre).Unit().Sub(in).Length(); d > 1e-12 {
			t.Errorf("%s does not face into the room", w.Name)
		}
		if w.Name == "ceiling" {
			continue
		}
		s, c := math.Sincos(w.Azimuth * math.Pi / 180)
		if d := in.Add(geometry.Vector{X: s, Y: c}).Length(); d > 1e-12 {
			t.Errorf("%s has the wrong azimuth %v", w.Name, w.Azimuth)
		}
	}
}

func TestHoleIn(t *testing.T) {
	metre := func(x unit.Metre) *unit.Metre { return &x }
	all := Walls(geometry.Vector{}, shop)
	opening := Opening{Size: unit.Size2{Width: 2, Height: 1}}
	cases := []struct {
		name     string
		wall     string
		at, sill *unit.Metre
		want     geometry.Vector // the opening's centre
	}{
		{"centred, common sill", "far", nil, nil, geometry.Vector{X: 2.5, Y: 4, Z: 1.4}},
		{"from the left, seen from inside", "far", metre(0.5), metre(1), geometry.Vector{X: 1.5, Y: 4, Z: 1.5}},
		{"right wall: left is far", "right", metre(0.5), metre(1), geometry.Vector{X: 5, Y: 2.5, Z: 1.5}},
		{"near wall: left is right", "near", metre(0.5), metre(1), geometry.Vector{X: 3.5, Y: 0, Z: 1.5}},
		{"left wall: left is near", "left", metre(0.5), metre(1), geometry.Vector{X: 0, Y: 1.5, Z: 1.5}},
		{"ceiling, centred", "ceiling", nil, nil, geometry.Vector{X: 2.5, Y: 2, Z: 3}},
		{"ceiling, from left and near", "ceiling", metre(0.5), metre(0.25), geometry.Vector{X: 1.5, Y: 0.75, Z: 3}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w, _ := FindWall(all, c.wall, 0)
			o := opening
			o.At, o.Sill = c.at, c.sill
			if got := o.HoleIn(w).Centre(w); got.Sub(c.want).Length() > 1e-12 {
				t.Errorf("the opening is at %v, want %v", got, c.want)
			}
		})
	}
}

// TestInside moves a point through a wall with a window and through a turned box.
func TestInside(t *testing.T) {
	cases := []struct {
		name, at string
		inside   bool
	}{
		{"on the wall", "0 1 1", true},
		{"2 mm off the wall", "0.0019 1 1", true},
		{"1 cm off the wall", "0.01 1 1", false},
		{"behind the wall", "-0.01 1 1", false},
		{"in the plane of the wall, beyond its end", "0 4.5 1", false},
		{"in the window", "2.5 4 1.5", false},
		{"in the wall beside the window", "0.5 4 1.5", true},
		{"in the ceiling", "1 1 3", true},
		{"on the floor", "1 1 0", false},
		{"in the box", "3 2 0.5", true},
		{"in the corner that the turn leads to", "3 2.6 0.5", true},
		{"in the corner that the turn leads away from", "3.45 2.45 0.5", false},
		{"on the box", "3 2 1", false},
		{"under the box", "3 2 0", true},
		{"over the box", "3 2 1.2", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := changed(t, change{"2 1 1, faces: sill", c.at + ", faces: E"}, change{"2 3.5 1, faces: near side", "2 3.5 1, faces: E"},
				change{"set: {", "set: {objects: {crate: {kind: box, size: 1 x 1 x 1 m, at: 3 2, turn: 45 deg}}, "}, change{"bench: 3 2", "bench: 1 3"})
			if _, faults := readText(text); (len(faults) > 0) != c.inside {
				t.Errorf("faults are %v, inside %v", faults, c.inside)
			}
		})
	}
}

// TestLocate holds places against sums by hand.
func TestLocate(t *testing.T) {
	const text = `gloam: 1
title: Places
set:
  north: 30 deg # the azimuth of +y
  rooms: {shop: {size: 5 x 4 x 3 m, corner: 10 20 1, openings: {window: {wall: far, size: 2 x 1 m}}}}
  objects: {crate: {kind: box, size: 1 x 1 x 0.8 m, at: a}}
marks:
  a: 1 2
  b: 3 m from a bearing 120
  c: 5 m from a toward b
  d: 2 m from b bearing 30
  stage: 1 2 0.5
points: {p: {at: crate, height: 0.9 m, faces: up}}
lamps:
  l: {kit: B12-D60, at: b, height: 2.5 m, aim: window, dim: 50 %}
  m: {kit: B12-D60, at: 1 m from l bearing 120, aim: a, dim: 50 %}
people: {maker: {at: stage, faces: l, key: left, face: 1.5 m}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`
	p := sound(t, text)
	l := NewLocator(&p.Document)
	for name, want := range map[string]geometry.Vector{
		"a":      {X: 1, Y: 2, Z: faceHeight}, // azimuth 120 is 90° clockwise of +y: +x
		"b":      {X: 4, Y: 2, Z: faceHeight},
		"c":      {X: 6, Y: 2, Z: faceHeight},
		"d":      {X: 4, Y: 4, Z: faceHeight}, // azimuth 30 is +y
		"stage":  {X: 1, Y: 2, Z: 0.5},
		"p":      {X: 1, Y: 2, Z: 0.9},
		"crate":  {X: 1, Y: 2, Z: 0.4},
		"l":      {X: 4, Y: 2, Z: 2.5},
		"m":      {X: 5, Y: 2, Z: 2.5},
		"maker":  {X: 1 + geometry.Person{Height: 1.72, Face: 1.5}.Front().Y, Y: 2, Z: 2}, // on a mark 0.5 m up, looks along +x
		"window": {X: 12.5, Y: 24, Z: 2.4},
	} {
		if at, ok := l.middle(Name{Thing: name}); !ok || at.Sub(want).Length() > 1e-9 {
			t.Errorf("%s is at %v (%v), want %v", name, at, ok, want)
		}
	}
}

// TestLongChains: a chain of places is followed once, not once for each way to get there.
func TestLongChains(t *testing.T) {
	text := "marks:\n  m0: 0 0\n  m1: 1 0\n"
	for i := 2; i < 3000; i++ {
		text += fmt.Sprintf("  m%d: 1 m from m%d toward m%d\n", i, i-2, i-1)
	}
	sound(t, changed(t, change{"marks: {stool: 2 2, bench: 3 2}\n", text + "  stool: 2 2\n  bench: 3 2\n"}))
}
