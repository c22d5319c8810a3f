package meter

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// bright and dark hold all there is to print, in light and without any.
const bright = `time: 18:35
people: {maker: {at: 0 0, faces: N, key: left}}
lamps: {lamp: {kit: spot, at: 0 5 1, aim: S}, off: {kit: P20, at: 1 5 1, aim: S, dim: 0 %}}
practicals: {globe: {kind: globe, at: 1 3 1, diameter: 0.14 m, flux: 470 lm}}
supply: {mains: 50 Hz}
ambient: {sky: {reading: 100 lx, shape: everywhere, ripple: 10 %}}
cloths: {card: {kind: white card, size: 1 x 1 m, at: -2 2 1, faces: maker}}
walks: {in: {marks: [3 0, 3 2]}}
points: {seen: {at: globe, receptor: spot}, dome: {at: 0 -1 1, faces: N, receptor: dome}}
tones: {snow: snow in maker.front}
targets: [{point: maker.front, level: 0}, {point: seen, level: +2}, {walk: in, swing: 1}, {point: dome, level: 0, over: ambient}]
` + atNorth

const dark = `lamps: {lamp: {kit: spot, at: 0 5 1, aim: N}}
people: {maker: {at: 0 0, faces: N, key: left}}
walks: {in: {marks: [3 0, 3 2]}}
points: {seen: {at: 0 3 1, receptor: spot}, dome: {at: 0 -1 1, faces: S, receptor: flat}}
tones: {snow: snow in maker.front}
targets: [{point: maker.front, level: 0}, {point: seen, level: +2}, {walk: in, swing: 1}, {point: dome, level: 0, over: ambient}]
` + atNorth

const atNorth = "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 3 -3 1, aim: N}\n"

// document marshals levels as the terminal does. A NaN or an infinity anywhere is an error of json.Marshal.
func document(t *testing.T, l Levels) map[string]any {
	t.Helper()
	text, err := json.Marshal(l)
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]any
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// The field names are what scripts read: they are the design's, and no others.
func TestFieldNames(t *testing.T) {
	const white = " cct_k duv mired_from_balance words"
	const reading = "name receptor lux luminance_cd_m2 over_key_stops interval_stops stderr_stops by" + white
	fields := map[string]string{
		"":                  "setup at key_lux nd_stops exposure sources flicker notes points lamps walks ratios tones targets",
		".exposure":         "reference wanted_stops nd_stops choices",
		".exposure.choices": "nd_density rest_stops t_stop ei shutter_s",
		".sources":          "source camera" + white,
		".sources.camera":   "mired_from_balance duv_from_balance words",
		".flicker":          "mains_hz sources ripple_stops point beat_hz steady steady_angles_deg steady_times_s steady_at_any_angle",
		".points":           "camera " + reading,
		".points.camera":    "mired_from_balance duv_from_balance words",
		".points.by":        "source lux direct_lux luminance_cd_m2 direct_luminance_cd_m2 share" + white,
		".lamps":            "name dim reserve_stops interval_stops for needed_share outcome",
		".walks":            "name points swing_stops interval_stops by",
		".walks.points":     "along_m " + reading,
		".walks.points.by":  "source lux direct_lux luminance_cd_m2 direct_luminance_cd_m2 share" + white,
		".walks.by":         "source swing_stops",
		".ratios":           "name key_point shadow_point ratio stops interval_stops",
		".tones":            "name material reflectance in over_grey_stops interval_stops",
		".targets":          "of over bound wanted_stops tolerance_stops level_stops interval_stops outcome",
	}
	seen := map[string]bool{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			got := slices.Sorted(maps.Keys(v))
			want := slices.Sorted(slices.Values(strings.Fields(fields[path])))
			if !slices.Equal(got, want) {
				t.Errorf("%q has the fields %q, want %q", path, got, want)
			}
			seen[path] = true
			for name, value := range v {
				walk(path+"."+name, value)
			}
		case []any:
			for _, item := range v {
				walk(path, item)
			}
		}
	}
	walk("", document(t, put(t, 0.05, bright).levels))
	for path := range fields {
		if !seen[path] {
			t.Errorf("nothing was printed at %q", path)
		}
	}
}

var lists = []string{"sources", "notes", "steady_angles_deg", "steady_times_s", "points", "lamps", "walks", "ratios", "tones", "targets", "by", "choices"}

// A list is a list even when it is empty; a number that does not exist is null, and no other is.
func TestNulls(t *testing.T) {
	for _, row := range []struct {
		name, plan string
		null       []string // paths that hold null, in one item or more
	}{
		{"in light", bright, []string{".points[seen].lux", ".points[seen].by[].lux", ".points[seen].by[].direct_lux", ".points[].luminance_cd_m2", ".points[].by[].luminance_cd_m2",
			".points[].by[].direct_luminance_cd_m2", ".walks[].points[].luminance_cd_m2", ".walks[].points[].by[].luminance_cd_m2",
			".walks[].points[].by[].direct_luminance_cd_m2", ".lamps[off].reserve_stops", ".lamps[off].needed_share", ".walks[].by[].swing_stops"}},
		{"in the dark", dark, []string{".points[seen].lux", ".points[seen].by[].lux", ".points[seen].by[].direct_lux", ".points[].luminance_cd_m2",
			".points[].by[].luminance_cd_m2", ".points[].by[].direct_luminance_cd_m2", ".walks[].points[].luminance_cd_m2", ".walks[].points[].by[].luminance_cd_m2",
			".walks[].points[].by[].direct_luminance_cd_m2", ".points[seen].over_key_stops", ".points[].over_key_stops", ".points[].cct_k", ".points[].duv",
			".points[].mired_from_balance", ".points[].camera.mired_from_balance", ".points[].camera.duv_from_balance", ".points[seen].camera.mired_from_balance",
			".points[seen].camera.duv_from_balance", ".points[seen].cct_k", ".points[seen].duv", ".points[seen].mired_from_balance", ".walks[].points[].over_key_stops",
			".walks[].points[].cct_k", ".walks[].points[].duv", ".walks[].points[].mired_from_balance", ".walks[].swing_stops", ".walks[].by[].swing_stops",
			".ratios[].ratio", ".ratios[].stops", ".tones[].over_grey_stops", ".targets[].level_stops", ".lamps[].needed_share"}},
		{"with next to nothing", "lamps: {lamp: {kit: spot, at: 0 5 1, aim: N}}\n" + camera, []string{".lamps[].needed_share"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			levels := document(t, put(t, 0.05, row.plan).levels)
			null := map[string]bool{}
			var walk func(path string, v any)
			walk = func(path string, v any) {
				switch v := v.(type) {
				case nil:
					null[path] = true
				case map[string]any:
					for name, value := range v {
						if _, list := value.([]any); !list && slices.Contains(lists, name) {
							t.Errorf("%s.%s is no list but %v", path, name, value)
						}
						walk(path+"."+name, value)
					}
				case []any:
					for _, item := range v {
						which := "[]"
						if m, ok := item.(map[string]any); ok && (m["name"] == "seen" || m["name"] == "off") {
							which = fmt.Sprintf("[%v]", m["name"])
						}
						walk(path+which, item)
					}
				}
			}
			walk("", levels)
			for path := range null {
				if strings.Contains(path, ".by[].") && (strings.HasSuffix(path, "cct_k") || strings.HasSuffix(path, "duv") || strings.HasSuffix(path, "from_balance")) {
					continue // a source that gives a point nothing has no colour there
				}
				if !slices.Contains(row.null, path) {
					t.Errorf("%s is null", path)
				}
			}
			for _, path := range row.null {
				if !null[path] {
					t.Errorf("%s is not null", path)
				}
			}
		})
	}
}

// The same plan and seed print the same bytes.
func TestSameBytes(t *testing.T) {
	first, err := json.Marshal(put(t, 0.05, bright).levels)
	if err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(put(t, 0.05, bright).levels)
	if err != nil {
		t.Fatal(err)
	}
	if string(first) != string(again) {
		t.Error("twice the same plan reads differently")
	}
}
