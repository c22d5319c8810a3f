package cli

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// seenPlan is a room in daylight and lamplight whose camera looks straight at a place on the far wall.
const seenPlan = `gloam: 1
title: A wall
set: {rooms: {shop: {size: 5 x 4 x 3 m, walls: 0.4, openings: {window: {wall: west, size: 1.6 x 1.2 m}}}}}
people: {maker: {at: 4 3, faces: S, key: left}}
points: {wall: {at: 2 4 1.4, receptor: spot}}
lamps: {lamp: {kit: B12-D60, at: 4 1 2, aim: 3 4 2.2, dim: 50 %, colour: 3200 K}}
ambient: {sky: {reading: 640 lx, point: maker.front, shape: overcast, through: window}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 2 0.5 1.4, aim: 2 4 1.4, lens: 35 mm}
`

// The middle pixel of the picture and the spot meter's reading of the same place, each as gloam prints it: the same stops,
// within the standard error that levels gives and what is left of the grain.
func TestProbeAgreesWithLevels(t *testing.T) {
	slow(t)
	folder := t.TempDir()
	write(t, folder, "plan.yaml", seenPlan)
	file := filepath.Join(folder, "plan.yaml")
	var levels struct {
		Points []struct {
			Name      string  `json:"name"`
			Luminance float64 `json:"luminance_cd_m2"`
			Error     float64 `json:"stderr_stops"`
		} `json:"points"`
	}
	answered(t, &levels, "levels", file, "--json")
	want, doubt := 0.0, 0.0
	for _, p := range levels.Points {
		if p.Name == "wall" {
			want, doubt = p.Luminance, p.Error
		}
	}
	var seen struct {
		Setup     string  `json:"setup"`
		Width     int     `json:"width_px"`
		Height    int     `json:"height_px"`
		X         int     `json:"x"`
		Luminance float64 `json:"luminance_cd_m2"`
		Stops     float64 `json:"over_grey_stops"`
		Like      float64 `json:"reflectance_at_key"`
	}
	answered(t, &seen, "picture", file, "--width", "161", "--samples", "32", "--probe", "80,45", "--json")
	if !(want > 0) || math.Abs(math.Log2(seen.Luminance/want)) > 4*doubt+0.06 {
		t.Errorf("the pixel is %.3f cd/m², the spot reading %.3f ± %.3f stops", seen.Luminance, want, doubt)
	}
	if got := math.Log2(seen.Like / 0.18); math.Abs(got-seen.Stops) > 1e-3 {
		t.Errorf("ρ %.4f is %.3f stops over grey, printed are %.3f", seen.Like, got, seen.Stops)
	}
	if seen.Width != 161 || seen.Height < 88 || seen.Height > 92 || seen.X != 80 || seen.Setup == "" {
		t.Errorf("the answer is %+v", seen)
	}
}

// answered carries out a call and reads its JSON.
func answered(t *testing.T, into any, args ...string) {
	t.Helper()
	code, out, told := run(t, t.Context(), args...)
	if code != 0 {
		t.Fatalf("%q ends with %d: %s", args, code, told)
	}
	if err := json.Unmarshal([]byte(out), into); err != nil {
		t.Fatalf("%q prints %q: %v", args, out, err)
	}
}

func TestPictureCallsAtFault(t *testing.T) {
	plan := plainPlan(t)
	for _, c := range []struct{ call, told string }{
		{"--width 15", "--width: is out of range"},
		{"--width 8193", "--width: is out of range"},
		{"--samples 0", "--samples: is out of range"},
		{"--samples 65537", "--samples: is out of range"},
		{"--stops -o seen.exr", "--stops: a map of stops"},
		{"--probe -1,4", "--probe: is no pixel"},
		{"--probe 4", "--probe: is no pixel"},
		{"--probe 4,x", "--probe: is no pixel"},
		{"--probe 4,4,4", "--probe: is no pixel"},
		{"--probe 960,4", "--probe: is no pixel"},
	} {
		t.Run(c.call, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "seen.png")
			code, printed, told := run(t, t.Context(), append([]string{"picture", plan, "-o", out}, strings.Fields(c.call)...)...)
			if code != 2 || printed != "" || !strings.Contains(told, c.told) {
				t.Errorf("ends with %d, prints %q, tells %q", code, printed, told)
			}
			if _, err := os.Stat(out); err == nil {
				t.Error("a file is left")
			}
		})
	}
}

// A picture that was stopped leaves nothing behind.
func TestPictureCancelled(t *testing.T) {
	stopped, stop := context.WithCancel(t.Context())
	stop()
	folder := t.TempDir()
	write(t, folder, "plan.yaml", seenPlan)
	code, out, told := run(t, stopped, "picture", filepath.Join(folder, "plan.yaml"), "-o", filepath.Join(folder, "seen.png"))
	if code != 4 || out != "" || !strings.Contains(told, "stopped before the end") {
		t.Errorf("ends with %d, prints %q, tells %q", code, out, told)
	}
	if left, _ := os.ReadDir(folder); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}
