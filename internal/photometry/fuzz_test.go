package photometry

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gloam/internal/fault"
)

// Whatever the bytes: a fault.List, or a table whose every answer is a number, which samples, and which is read again
// after writing.
func FuzzReadFile(f *testing.F) {
	names, err := filepath.Glob("testdata/*.*")
	if err != nil || len(names) == 0 {
		f.Fatal("no seeds")
	}
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := ReadFile("fuzz", bytes.NewReader(data))
		if err != nil {
			var list fault.List
			if !errors.As(err, &list) || len(list) > maxFaults {
				t.Fatalf("error %v", err)
			}
			return
		}
		flux, peak := float64(file.Table.Flux()), float64(file.Table.Peak())
		if !(flux > 0) || math.IsInf(flux, 0) || flux > peak*4*math.Pi*(1+1e-9) {
			t.Fatalf("flux %g lm, peak %g cd", flux, peak)
		}
		for i := range 64 {
			v, pdf := file.Table.Sample(float64(i%8)/8, float64(i/8)/8)
			if cd := file.Table.At(v); !(pdf > 0) || !v.Finite() || !(cd >= 0 && cd <= peak*(1+1e-9)) {
				t.Fatalf("toward %v: %g cd with density %g", v, cd, pdf)
			}
		}
		Summarise(file, nil)
		file.TiltFactor(30)
		var b bytes.Buffer
		if err := WriteLM63(&b, file, "2019"); err != nil {
			t.Fatal(err)
		}
		again, err := ReadFile("again", &b)
		if err != nil {
			t.Fatalf("written and refused: %v", err)
		}
		near(t, "flux after writing", float64(again.Table.Flux()), flux, 1e-9)
	})
}
