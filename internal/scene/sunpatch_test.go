package scene

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

// A window 0.9 m wide and 1.2 m high with its sill at 2.4 m, the sun 30° high square to it: on the floor the patch begins
// 2.4/tan 30° = 4.157 m inside and is 1.2/tan 30° = 2.078 m long and 0.9 m wide; by plane trigonometry.
func TestSunPatchOnFloorAndWall(t *testing.T) {
	s := built(t, "set: {rooms: {barn: {size: 12 x 8 x 5 m, openings: {window: {wall: left, size: 0.9 x 1.2 m, sill: 2.4 m}}}}}\n")
	toward := vec{X: -math.Cos(math.Pi / 6), Z: 0.5}
	room := &viewed(t, "set: {rooms: {barn: {size: 12 x 8 x 5 m}}}\n", nil).Document.Set.Rooms[0].Value
	for _, p := range RoomPlanes(vec{}, room) {
		patch := SunPatch(&s.Scene.Openings[0], toward, &p)
		if (len(patch) > 0) != (p.Name == "floor") {
			t.Errorf("the sun on the %s: %v", p.Name, patch)
		}
		if p.Name != "floor" {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, c := range patch {
			low, high = math.Min(low, c[0]), math.Max(high, c[0])
		}
		within(t, "where it begins", low, 2.4*math.Sqrt(3), 1e-9)
		within(t, "where it ends", high, 3.6*math.Sqrt(3), 1e-9)
		within(t, "its area", outlineArea(patch), 0.9*1.2*math.Sqrt(3), 1e-9)
	}
	// In a room 5 m deep the rest of it climbs the wall opposite: there a line at height z meets the sun from z + 5 tan 30°.
	room.Size.Width = unit.Metre(5)
	for _, p := range RoomPlanes(vec{}, room) {
		switch patch := SunPatch(&s.Scene.Openings[0], toward, &p); p.Name {
		case "floor":
			within(t, "on the floor", outlineArea(patch), 0.9*(5-2.4*math.Sqrt(3)), 1e-9)
		case "right":
			within(t, "on the wall", outlineArea(patch), 0.9*(3.6-5/math.Sqrt(3)), 1e-9)
		}
	}
}

// A sun behind the wall makes no patch; a house opposite hides it until it stands high enough.
func TestSunReaches(t *testing.T) {
	s := built(t, "set: {rooms: {barn: {size: 12 x 8 x 5 m, openings: {window: {wall: left, size: 0.9 x 1.2 m, sill: 2.4 m}}}}}\n")
	o := &s.Scene.Openings[0]
	house := []Block{{Foot: vec{X: -20, Y: 4}, Basis: upright, Size: vec{X: 4, Y: 30, Z: 12}}}
	at := func(altitude float64) vec { return vec{X: -math.Cos(altitude), Z: math.Sin(altitude)} }
	// From the window's head, 3.6 m up, the near roof edge 18 m off stands atan(8.4/18) = 25.0° high.
	for _, row := range []struct {
		degrees float64
		reaches bool
	}{{24, false}, {26, true}} {
		if got := o.SunReaches(at(row.degrees*math.Pi/180), house); got != row.reaches {
			t.Errorf("at %v° the sun reaches the window: %v", row.degrees, got)
		}
	}
	if o.SunReaches(vec{X: 1, Z: 1}.Unit(), nil) || !o.SunReaches(at(0.1), nil) {
		t.Error("the sun comes from outside alone")
	}
}
