package photometry

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// samples is where public sample files and the numbers an independent reader found in them may stand beside the
// repository. They carry other licences and are not part of it.
const samples = "../../../shared/reference"

func TestPublicSamples(t *testing.T) {
	r, err := os.Open(filepath.Join(samples, "data", "F_sample_expected.csv"))
	if errors.Is(err, os.ErrNotExist) {
		t.Skip("no public samples beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	c := csv.NewReader(r)
	c.Comment = '#'
	rows, err := c.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		t.Run(row[0], func(t *testing.T) { checkSample(t, row) })
	}
}

// checkSample compares one row: file, kind, n_vertical, n_planes, lamp_lumens, max_cd, flux_lm, four intensities, watts.
func checkSample(t *testing.T, row []string) {
	number := func(i int) float64 {
		x, err := strconv.ParseFloat(row[i], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	f := openPath(t, filepath.Join(samples, "files", row[0]))
	if v, h := len(f.Table.vertical), len(f.Table.horizontal); float64(v) != number(2) {
		t.Errorf("%d vertical angles in %d planes, want %s", v, h, row[2])
	}
	if lumens := number(4); lumens >= 0 {
		near(t, "lamps' flux", float64(f.LampFlux), lumens, 1e-12)
	} else if !f.Absolute {
		t.Error("not read as absolute")
	}
	s := Summarise(f, [][2]unit.Degree{{0, 0}, {0, 32}, {100, 47}, {250, 20}})
	near(t, "flux", float64(s.Flux), number(6), 1e-3)
	near(t, "peak", float64(s.Peak), number(5), 1e-3)
	for i, a := range s.At {
		// The numbers are rounded to two or three decimals.
		if got, want := float64(a.Intensity), number(7+i); abs(got-want) > 1e-3*want+0.006 {
			t.Errorf("C %g γ %g: %g cd, want %g", a.C, a.Gamma, got, want)
		}
	}
	if watts, err := strconv.ParseFloat(row[11], 64); err == nil && float64(f.Watts) != watts {
		t.Errorf("%g W, want %g", f.Watts, watts)
	}
}

// The public samples without a row: multipliers 1.5 on the same table of 2200 cd, an absolute EULUMDAT file of 500 lm.
func TestPublicSamplesWithoutRow(t *testing.T) {
	if _, err := os.Stat(samples); err != nil {
		t.Skip("no public samples beside the repository")
	}
	for name, peak := range map[string]float64{"ies/pv_abs_mult.ies": 3300, "ies/pv_rel_mult.ies": 3300, "ldt/pv_absolute.ldt": 1100} {
		f := openPath(t, filepath.Join(samples, "files", name))
		near(t, name, float64(f.Table.Peak()), peak, 1e-12)
		if notes := f.Absolute == (len(f.Notes) > 0); notes {
			t.Errorf("%s: absolute %v, notes %v", name, f.Absolute, f.Notes)
		}
	}
	r, err := os.Open(filepath.Join(samples, "files/ies/misc_format_error.ies"))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if _, err = ReadFile("misc_format_error.ies", r); len(fault.Of(err, fault.Input)) != 1 || !strings.Contains(err.Error(), ":3:1:") {
		t.Errorf("text behind TILT=: %v", err)
	}
}

func abs(x float64) float64 { return max(x, -x) }
