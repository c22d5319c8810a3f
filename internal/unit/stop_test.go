package unit

import (
	"math"
	"testing"
)

func TestStop(t *testing.T) {
	fresh := func() quantity { return new(Stop) }
	reads(t, fresh, map[string][]float64{
		"+1": {1}, "-2/3": {-2. / 3}, "+1 1/3": {4. / 3}, "+1⅓": {4. / 3}, "−⅔": {-2. / 3}, "1.5 stops": {1.5}, "1/2": {0.5},
		"-1 1/3": {-4. / 3}, "−1⅓": {-4. / 3}, "1 stop": {1}, "at stop": {0}, "0": {0}, "4:1": {2}, "1:1": {0}, "2,5:1": {1.3219280948873623},
		"1/2 under": {-0.5}, "⅔ stop under": {-2. / 3}, "1 1/3 stops over": {4. / 3}, "+0,7": {0.7}, "+1,333": {1.333},
	})
	refuses(t, fresh, map[string]string{
		"-1 over": "has a sign and a word for it; write one of them",
		"18:35":   "is not a number of stops; a colon stands in a time of day",
		"0:1":     "is not a number of stops; a colon stands in a time of day",
		"T2.8":    "is a T-stop, a number of stops is wanted",
		"60 %":    "is a fraction, a number of stops is wanted",
		"100":     "100 stops is above 60 stops",
	})
	prints(t, map[string]Stop{
		"+1⅓": 1.3, "−⅔": -0.7, "at stop": 0.1, "+2": 2.14, "+⅓": 0.4, "−1": -0.9, "+½": 0.5, "−1½": -1.5, "+2⅔": 2.83,
		"no light": Stop(math.Inf(-1)), "+∞": Stop(math.Inf(1)), "+6": 6.03,
	})
	for want, s := range map[string]Stop{"+1.3": 1.32, "−0.7": -0.7, "at stop": -0.04, "no light": Stop(math.Inf(-1)), "+2": 2.04} {
		if got := s.Tenths(); got != want {
			t.Errorf("%v in tenths: %s, want %s", float64(s), got, want)
		}
	}
	for want, s := range map[string]Stop{"±⅓": 0.37, "±⅔": 0.63, "±1⅓": 1.23, "±0.1": 0.03, "±0.2": 0.16, "±0": 0} {
		if got := s.Interval(); got != want {
			t.Errorf("interval of %v: %s, want %s", float64(s), got, want)
		}
	}
	if got := Stops(4); got != 2 {
		t.Errorf("a ratio of 4 is %v stops", float64(got))
	}
	if got := Stop(1. / 3).Factor(); math.Abs(got-1.259921) > 1e-6 { // the cube root of 2
		t.Errorf("a third of a stop is a factor of %v", got)
	}
}

// The engraved numbers stand for powers of √2 [ISO517].
func TestFullStopsAreExact(t *testing.T) {
	for n, engraved := range []string{"1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22"} {
		var got TStop
		if err := got.Parse("T" + engraved); err != nil {
			t.Fatal(err)
		}
		if want := math.Pow(math.Sqrt2, float64(n)); math.Abs(float64(got)-want) > 1e-14*want {
			t.Errorf("T%s is %v, want %v", engraved, float64(got), want)
		}
		if got.String() != "T"+engraved {
			t.Errorf("T%s prints as %s", engraved, got)
		}
	}
}

func TestLensOpening(t *testing.T) {
	fresh := func() quantity { return new(TStop) }
	reads(t, fresh, map[string][]float64{
		"T2.8": {math.Sqrt(8)}, "2.8": {math.Sqrt(8)}, "T 4": {4}, "5,6": {math.Sqrt(32)}, "T6.5": {6.5}, "T3.7": {3.7},
		"T4 2/3": {5.039684199579493}, "T4⅔": {5.039684199579493}, "T2.8 1/3": {3.1748021039363987}, "4 1/2": {4.756828460010884},
		"T0.7": {math.Sqrt2 / 2}, "T5.0": {5},
	})
	refuses(t, fresh, map[string]string{
		"f/2.8":  "is an f-number, a T-stop is wanted; glass loses 0.1 to 0.5 stop between them",
		"F2.8":   "is an f-number, a T-stop is wanted; glass loses 0.1 to 0.5 stop between them",
		"T0":     "0 is below 0.5",
		"T800":   "800 is above 128",
		"T2.8 m": "is a length, a T-stop is wanted",
		"T4 3/2": "is not a T-stop; it closes by less than a stop",
		"T":      "is not a T-stop",
		"T-4":    "is not a T-stop",
		"ND 0.6": "is a neutral density, a T-stop is wanted",
	})
	reads(t, func() quantity { return new(FNumber) }, map[string][]float64{
		"f/2.8": {math.Sqrt(8)}, "2.8": {math.Sqrt(8)}, "f8": {8}, "f/4 1/3": {4.489848193237491},
	})
	refuses(t, func() quantity { return new(FNumber) }, map[string]string{"T2.8": "is a T-stop, an f-number is wanted"})
	prints(t, map[string]TStop{
		"T4⅔": 5.04, "T2.8⅓": 3.17, "T5.6⅓": 6.5, "T2.8⅔": 3.7, "T2.8": 2.8, "T0.7": 0.7, "T128": 128, "T0.5": 0.5,
	})
	prints(t, map[string]FNumber{"f/5.6⅓": 6.3, "f/16": 16})
	if got := TStop(4).Closed(2. / 3).Decimal(); got != "T5.0" {
		t.Errorf("T4 closed by two thirds is %s, want T5.0", got)
	}
	if got := TStop(4).Closed(-2); got != 2 {
		t.Errorf("T4 opened by two stops is %v", float64(got))
	}
}

func TestDensity(t *testing.T) {
	fresh := func() quantity { return new(Density) }
	reads(t, fresh, map[string][]float64{
		"ND 0.6": {0.6}, "ND0.6": {0.6}, "nd.6": {0.6}, "ND 0,9": {0.9}, "ND6": {0.6}, "ND9": {0.9}, "ND 12": {1.2}, "ND24": {2.4},
		"1.5": {1.5}, "0": {0}, "2 stops": {0.6}, "ND 2 stops": {0.6}, "1⅓ stops": {0.4}, "3 stops": {0.9}, "ND 0.3": {0.3},
	})
	refuses(t, fresh, map[string]string{
		"ND8":     "8 may be a density, a factor or stops; write it with a point or as stops",
		"ND64":    "64 may be a density, a factor or stops; write it with a point or as stops",
		"2":       "2 may be a density, a factor or stops; write it with a point or as stops",
		"-1.5":    "is not a neutral density",
		"ND 12.0": "12 is above 10",
		"T2.8":    "is a T-stop, a neutral density is wanted",
		"60 %":    "is a fraction, a neutral density is wanted",
	})
	prints(t, map[string]Density{"ND 0.6": 0.6, "ND 0.45": 0.45, "ND 1.0": 1, "ND 0.0": 0})
	// stops = D/log10 2 and τ = 10^−D, from the definition of optical density; one stop for each 0.3 is common practice.
	rows := []struct {
		density                       Density
		stops, transmittance, nominal float64
	}{
		{0.3, 0.9966, 0.50119, 1}, {0.6, 1.9932, 0.25119, 2}, {0.9, 2.9897, 0.12589, 3}, {1.2, 3.9863, 0.06310, 4},
		{1.5, 4.9829, 0.03162, 5}, {1.8, 5.9795, 0.01585, 6}, {2.1, 6.9760, 0.00794, 7},
	}
	for _, row := range rows {
		if got := float64(row.density.Stops()); math.Abs(got-row.stops) > 1e-4 {
			t.Errorf("%v takes %v stops, want %v", row.density, got, row.stops)
		}
		if got := float64(row.density.Transmittance()); math.Abs(got-row.transmittance) > 1e-5 {
			t.Errorf("%v passes %v, want %v", row.density, got, row.transmittance)
		}
		if got := float64(row.density.NominalStops()); math.Abs(got-row.nominal) > 1e-12 {
			t.Errorf("%v counts as %v stops, want %v", row.density, got, row.nominal)
		}
	}
}
