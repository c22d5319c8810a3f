package main

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"gloam/internal/daylight"
)

// The zenith's luminance in the hours of Greensboro, which the file has from [Perez1990], against the patch there when the
// sky lights level ground as the file says: the distribution alone is tested. Half the hours lie within a quarter of a stop,
// all within two thirds.
func TestZenithOfMeasuredHours(t *testing.T) {
	hours, err := read("testdata/greensboro.csv")
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open("testdata/greensboro.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := slices.Index(lines[0], "Lzenith_cdm2")
	var off []float64
	for i, h := range hours {
		zenith, err := strconv.ParseFloat(lines[i+1][column], 64)
		if err != nil {
			t.Fatal(err)
		}
		sky := daylight.LuminancesAt(h.altitude, 180, h.diffuse, named(h))
		stops := math.Abs(math.Log2(zenith / float64(sky[daylight.PatchCount-1])))
		if stops > 0.67 {
			t.Errorf("hour %d, %v: %.2f stop", i, named(h), stops)
		}
		off = append(off, stops)
	}
	if slices.Sort(off); off[len(off)/2] > 0.25 {
		t.Errorf("the median is %.2f stop", off[len(off)/2])
	}
}
