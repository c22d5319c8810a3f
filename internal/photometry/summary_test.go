package photometry

import (
	"encoding/json"
	"math"
	"testing"

	"gloam/internal/unit"
)

// The field names are what scripts read.
func TestSummaryJSON(t *testing.T) {
	s := Summarise(open(t, "s09_absolute_minus1.ies"), [][2]unit.Degree{{100, 45}})
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	near(t, "flux_lm", got["flux_lm"].(float64), 4809.449, 1e-4)
	near(t, "peak_cd", got["peak_cd"].(float64), 2000, 1e-12)
	// By the file: 1600 cd at 30° and 600 cd at 60° pass 1000 cd at 48°; 600 and 0 pass 200 cd at 80°.
	near(t, "beam_deg", got["beam_deg"].(float64), 96, 1e-6)
	near(t, "field_deg", got["field_deg"].(float64), 160, 1e-6)
	near(t, "watts", got["watts"].(float64), 150, 1e-12)
	if got["symmetry"] != "axial" {
		t.Errorf("symmetry %v", got["symmetry"])
	}
	at := got["at"].([]any)[0].(map[string]any)
	near(t, "cd", at["cd"].(float64), 1100, 1e-12)
	if at["c_deg"] != 100.0 || at["g_deg"] != 45.0 {
		t.Errorf("at %v", at)
	}
	if data, _ := json.Marshal(Summarise(open(t, "s01_isotropic_typeC.ies"), nil)); !json.Valid(data) || len(data) == 0 {
		t.Errorf("without --at: %s", data)
	}
}

// A type B file is asked in the direction (C, γ): V 22.5°, H 22.5° has X = sin H, Y = cos H·sin V, Z = cos H·cos V.
func TestSummaryOfTypeB(t *testing.T) {
	d := towardB(22.5, 22.5)
	c := unit.Degree(math.Atan2(d.Y, d.X) / degree)
	g := unit.Degree(math.Acos(d.Z) / degree)
	s := Summarise(open(t, "s12_typeB.ies"), [][2]unit.Degree{{c, g}, {0, 22.5}, {90, 22.5}, {0, 0}})
	for i, want := range []float64{728.5534, 853.5534, 853.5534, 1000} {
		near(t, "cd", float64(s.At[i].Intensity), want, 1e-6)
	}
}

// An oblong beam: the two planes are averaged. Type A, 1000 cd ahead, 200 cd at H 30°, 300 cd at V 30°.
func TestBeamAngleAveragesPlanes(t *testing.T) {
	f := open(t, "s14_typeA.ies")
	// 500 cd is passed at H = 30·500/800 = 18.75° and V = 30·500/700 = 21.43°.
	near(t, "beam", float64(BeamAngle(f.Table, 0.5)), 18.75+30*5./7, 1e-6)
	// A tenth is reached up to the last angle measured on both.
	near(t, "field", float64(BeamAngle(f.Table, 0.1)), 60, 1e-6)
}
