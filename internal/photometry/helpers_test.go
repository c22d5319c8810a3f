package photometry

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// open reads one of the files under testdata, which were made for these tests so that their answers can be worked out
// by hand.
func open(t *testing.T, name string) *File {
	t.Helper()
	return openPath(t, filepath.Join("testdata", name))
}

func openPath(t *testing.T, path string) *File {
	t.Helper()
	r, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	f, err := ReadFile(filepath.Base(path), r)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// near fails unless got is within a relative tolerance of want (absolute where want is 0).
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	limit := tolerance * math.Abs(want)
	if want == 0 {
		limit = tolerance
	}
	if !(math.Abs(got-want) <= limit) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// towardB is the direction of vertical and horizontal angle of type B (Type).
func towardB(v, h float64) geometry.Vector {
	sv, cv := math.Sincos(v * degree)
	sh, ch := math.Sincos(h * degree)
	return geometry.Vector{X: sh, Y: ch * sv, Z: ch * cv}
}

// towardA is that of type A.
func towardA(v, h float64) geometry.Vector {
	sv, cv := math.Sincos(v * degree)
	sh, ch := math.Sincos(h * degree)
	return geometry.Vector{X: cv * sh, Y: sv, Z: cv * ch}
}

type atC struct{ c, gamma, cd float64 }

func checkAt(t *testing.T, f *File, rows []atC, tolerance float64) {
	t.Helper()
	for _, r := range rows {
		c, g := unit.Degree(r.c), unit.Degree(r.gamma)
		near(t, "Intensity", float64(f.Table.Intensity(c, g)), r.cd, tolerance)
		if r.gamma > 0 && r.gamma < 180 {
			near(t, "At", f.Table.At(Direction(c, g)), r.cd, tolerance)
		}
	}
}
