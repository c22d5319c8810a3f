package server

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"gloam/internal/document"
	"gloam/internal/server/desk"
)

func handleOf(t *testing.T, d *Drawing, name string) *Handle {
	t.Helper()
	for _, h := range d.Handles {
		if h.Name == name {
			return h
		}
	}
	t.Fatalf("nothing called %q can be taken by hand", name)
	return nil
}

const handled = `gloam: 1
title: Handles
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 1 1 1.5, aim: ann}
set:
  rooms: {hall: 5 x 4 x 2.8 m}
  objects: {box: {kind: box, size: 1 x 2 x 0.5 m, at: 4 2, turn: 90 deg}}
marks: {door: 0.5 0.5, stool: {at: 3 3}}
walks: {in: {marks: [door, 2 1.5, stool]}}
people: {ann: {at: stool, faces: E, key: left}}
points: {table: {at: 1 2 0.8, faces: up}, seen: {at: box, receptor: spot}}
lamps:
  key: {kit: B12-D26, at: ann, height: 2 m, aim: box, dim: 60 %}
  fill: {kit: B3-D55, at: 0.5 3 1.2, aim: ann}
setups:
  day: {uses: [ann, key, fill, box]}
  dusk: {uses: [ann, key, box], lamps: {key: {dim: 20 %}}, points: {lap: {at: 3 3 0.6, faces: up}}}
`

// Where things are, how that is edited in a set-up, and what would take them out of the whole plan.
func TestHandlesByHand(t *testing.T) {
	d := drawn(t, handled, "dusk")
	key := handleOf(t, d, "key")
	if key.At != [3]float64{3, 3, 2} || key.Path != "setups.dusk.lamps.key" || key.Move.Path != "setups.dusk.lamps.key.at" {
		t.Errorf("the key is %+v, moved by %+v", key, key.Move)
	}
	if got := fmt.Sprint(key.Remove); got != "[lamps.key setups.day.uses[1] setups.dusk.lamps.key setups.dusk.uses[1]]" {
		t.Errorf("without the key: %s", got)
	}
	if got := fmt.Sprint(key.Copy); got != "[{ .dim 20 %} { .kit B12-D26} { .at ann} { .height 2 m} { .aim box}]" {
		t.Errorf("a copy of the key says %s", got)
	}
	if door := handleOf(t, d, "door"); door.Move.Path != "setups.dusk.marks.door" || !door.Move.Floor {
		t.Errorf("the door is moved by %+v", door.Move)
	}
	if step := handleOf(t, d, "in, place 2"); step.Move.Path != "walks.in.marks[1]" || step.At != [3]float64{2, 1.5, 0} {
		t.Errorf("the walk's second place is %+v", step)
	}
	if seen := handleOf(t, d, "seen"); seen.Move != nil {
		t.Error("a point at a thing is moved")
	}
	if lap := handleOf(t, d, "lap"); fmt.Sprint(lap.Remove) != "[setups.dusk.points.lap]" {
		t.Errorf("without the set-up's own point: %v", lap.Remove)
	}
	if hall := d.Rooms[0]; fmt.Sprintf("%s %s", hall.First[0].Path, *hall.First[0].Value) != "setups.dusk.set.rooms.hall.size 5 x 4 x 2.8 m" || len(hall.First) != 1 {
		t.Errorf("before a field of the hall: %+v", hall.First)
	}
	// Turned by 90° clockwise, what looked along +y looks along +x.
	if box := handleOf(t, drawn(t, handled, "day"), "box"); math.Hypot(box.Turn.Looks[0]-1, box.Turn.Looks[1]) > 1e-12 || !box.Turn.Degree {
		t.Errorf("the box is turned by %+v", box.Turn)
	}
	if got := strings.Join(d.Stock.Taken, ", "); !strings.Contains(got, "fill") || !strings.Contains(got, "lap") || !strings.Contains(got, "hall") {
		t.Errorf("taken are %s", got)
	}
}

// A room written as one value, in a plan without set-ups, is taken apart before a window is put in.
func TestARoomWrittenShortTakesAWindow(t *testing.T) {
	text := handled[:strings.Index(handled, "setups:")]
	d := drawn(t, text, "")
	changes := append(d.Rooms[0].First, change("set.rooms.hall.openings.window.wall", "far"), change("set.rooms.hall.openings.window.size", "1 x 1 m"))
	out := []byte(text)
	for _, c := range changes {
		source, err := document.Parse("", out)
		if err == nil && c.Value == nil {
			out, err = source.Remove(c.Path)
		} else if err == nil {
			out, err = source.Edit(c.Path, *c.Value)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if w := drawn(t, string(out), "").Rooms[0].Openings; len(w) != 1 || w[0].From != (Spot{2, 4}) || w[0].To != (Spot{3, 4}) {
		t.Errorf("the window is %+v, in\n%s", w, out)
	}
}

// The lamp hangs 3 m up and looks straight down; half its 26° is 13°.
func TestABeamOnTheFloorByHand(t *testing.T) {
	d := drawn(t, strings.Replace(handled, "at: ann, height: 2 m, aim: box", "at: 1 1 3, aim: down", 1), "day")
	key := d.Lamps[0]
	radius := 3 * math.Tan(13*math.Pi/180)
	if len(key.Floor) != round {
		t.Fatalf("%d places outline the beam", len(key.Floor))
	}
	for _, s := range key.Floor {
		if r := math.Hypot(s[0]-1, s[1]-1); math.Abs(r-radius) > 0.01*radius {
			t.Errorf("%v is %.3f m off, want %.3f", s, r, radius)
		}
	}
	for _, s := range d.Sides.Far { // in section its edges are at the end of its throw, as far to either side as that makes it
		if half := openThrow * math.Tan(13*math.Pi/180); s.Name == "key" && (math.Abs(math.Abs(s.Edges[0][0]-1)-half) > 0.01*half || math.Abs(s.Edges[0][1]+1) > 1e-9) {
			t.Errorf("in section its edges end at %v", s.Edges)
		}
	}
}

// A sun in the south-west, 45° up, through a window 1 m wide in the wall toward −x, 1 to 2 m up, whose middle is at y 2. In 1 m
// of height it comes 1 m along the ground, √½ m of it along +x and as much along +y: the patch lies from x √½ to √2.
func TestASunPatchByHand(t *testing.T) {
	d := drawn(t, `gloam: 1
title: Sun
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
set: {rooms: {hall: {size: 5 x 4 x 2.8 m, openings: {window: {wall: left, size: 1 x 1 m, sill: 1 m, glass: none}}}}}
points: {floor: {at: 2 2 0.1, faces: up}}
ambient: {sun: {reading: 80000 lx, point: floor, shape: sun, altitude: 45 deg, azimuth: 225 deg}}
`, "")
	if d.Sun == nil || math.Abs(float64(d.Sun.Altitude)-45) > 1e-9 || math.Abs(float64(d.Sun.Azimuth)-225) > 1e-9 {
		t.Fatalf("the sun is %+v", d.Sun)
	}
	for _, p := range d.Sun.Patches {
		if p.Plane != "floor" {
			continue
		}
		low, high := [2]float64{9, 9}, [2]float64{-9, -9}
		for _, c := range p.Outline {
			low, high = [2]float64{min(low[0], c[0]), min(low[1], c[1])}, [2]float64{max(high[0], c[0]), max(high[1], c[1])}
		}
		want := [4]float64{math.Sqrt(0.5), 1.5 + math.Sqrt(0.5), math.Sqrt2, 2.5 + math.Sqrt2}
		for i, got := range [4]float64{low[0], low[1], high[0], high[1]} {
			if math.Abs(got-want[i]) > 1e-6 {
				t.Errorf("the patch lies from %v to %v", low, high)
			}
		}
		return
	}
	t.Errorf("no sun on the floor: %+v", d.Sun.Patches)
}

// What can't be read is drawn as far as it can be, in figures that JSON can hold.
func TestWhatHasFaultsIsDrawn(t *testing.T) {
	const bare = "gloam: 1\ntitle: Bare\n"
	const camera = "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"
	for name, text := range map[string]string{
		"nothing":              bare + camera,
		"too much dim":         bare + camera + "lamps: {l: {kit: B12-D26, at: 0 0 2, aim: 1 1 1, mode: quiet}}\n",
		"a globe without flux": bare + camera + "practicals: {g: {kind: globe, at: 1 1 1, diameter: 0.1 m, flux: 0.001 lm}}\n",
	} {
		if text, err := json.Marshal(drawn(t, text, "")); err != nil || strings.Contains(string(text), "null") {
			t.Errorf("%s: %v %s", name, err, text)
		}
	}
	if d := drawn(t, bare+camera, ""); d.High != (Spot{emptyWidth, emptyDepth}) {
		t.Errorf("an empty sheet reaches to %v", d.High)
	}
}

func change(path document.Path, value string) desk.Change {
	return desk.Change{Path: path, Value: &value}
}
