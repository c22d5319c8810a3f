package scene

import (
	"math"
	"testing"

	"gloam/internal/geometry"
)

func TestHaze(t *testing.T) {
	for _, row := range []struct {
		name, haze string
		extinction float64
		low        geometry.Vector
	}{
		{"in a room", "{extinction: 0.05 /m, in: shed}", 0.05, geometry.Vector{X: 1, Y: 2}},
		{"one value, everywhere", "0.015 /ft", 0.0492126, geometry.Vector{X: -hazeReach, Y: -hazeReach, Z: -hazeReach}},
		{"by sight", "{visibility: 50 m}", 0.07824, geometry.Vector{X: -hazeReach, Y: -hazeReach, Z: -hazeReach}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "set:\n  haze: "+row.haze+"\n  rooms: {shed: {size: 6 x 4 x 3 m, corner: 1 2 0}}\nlamps:\n  key: {kit: B12-FS, at: 5 4 2, aim: 1 4 2}\n")
			h := s.Scene.Haze
			if math.Abs(h.Extinction-row.extinction) > 1e-6 || h.Low != row.low || h.Forward != 0.7 || h.Albedo != 1 {
				t.Errorf("%+v", *h)
			}
		})
	}
}

// A lamp that shines 4 m through haze that may be half as thick again is that unsure: 0.05·4·log2 e·0.5 stops.
func TestHazeIsDoubted(t *testing.T) {
	s := built(t, "set:\n  haze: {extinction: 0.05 /m, in: shed}\n  rooms: {shed: {size: 6 x 4 x 3 m, corner: 1 2 0}}\nlamps:\n  key: {kit: B12-FS, at: 5 4 2, aim: 1 4 2}\n")
	for _, d := range s.Sources[0].Doubts {
		if d.Cause == "how thick the haze is" {
			if want := 0.05 * 4 * math.Log2E / 2; math.Abs(float64(d.Stops)-want) > 1e-9 {
				t.Errorf("%v stops, want %v", d.Stops, want)
			}
			return
		}
	}
	t.Error("not doubted")
}
