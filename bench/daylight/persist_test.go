package main

import "testing"

// What a reading is worth an hour later, on days the law's figures were not chosen by: nearer, narrower, and still inside.
func TestAReadingHelpsAnHourOn(t *testing.T) {
	for _, s := range stations[1:] {
		hours, err := read("testdata/" + s.file)
		if err != nil {
			t.Fatal(err)
		}
		all, err := forecasts(hours)
		if err != nil {
			t.Fatal(err)
		}
		var alone, learnt []comparison
		for _, f := range all {
			alone, learnt = append(alone, f.alone), append(learnt, f.learnt)
		}
		if len(all) < 15 {
			t.Fatalf("%s: only %d hours", s.name, len(all))
		}
		if inside(learnt) < 0.9 || rms(learnt) > 0.8*rms(alone) || medianHalf(learnt) > 0.8*medianHalf(alone) {
			t.Errorf("%s: %.0f %% inside ±%.2f, rms %.2f stop; without a reading ±%.2f and %.2f",
				s.name, 100*inside(learnt), medianHalf(learnt), rms(learnt), medianHalf(alone), rms(alone))
		}
	}
}
