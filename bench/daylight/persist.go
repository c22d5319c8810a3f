package main

import (
	"fmt"
	"math"
	"time"

	"gloam/internal/daylight"
)

// forecast is the level on the ground an hour after a reading of it under the same state of the sky: by the model alone and
// by the model that learnt the reading.
type forecast struct{ alone, learnt comparison }

// forecasts takes every hour that follows another of the same state as if the one before had been read.
func forecasts(hours []hour) (all []forecast, err error) {
	at := map[time.Time]*hour{}
	for i := range hours {
		at[hours[i].at] = &hours[i]
	}
	model := func(t time.Time, k daylight.Kind) daylight.Levels {
		return daylight.LevelsAt(at[t].altitude, t.YearDay(), k)
	}
	for i := range hours {
		h := &hours[i]
		before, follows := at[h.at.Add(-time.Hour)]
		k := named(*h)
		if !follows || named(*before) != k {
			continue
		}
		day, err := daylight.Learn(model, []daylight.Reading{{At: before.at, Kind: k, Lux: before.global}})
		if err != nil {
			return nil, err
		}
		l, m := day.LevelsAt(h.at, k), model(h.at, k)
		all = append(all, forecast{
			alone:  comparison{h, k, "global", m.Global, h.global, float64(m.Interval.Global)},
			learnt: comparison{h, k, "global", l.Global, h.global, float64(l.Interval.Global)},
		})
	}
	return all, nil
}

// persistence says in a line what a reading an hour before is worth.
func persistence(hours []hour) (string, error) {
	all, err := forecasts(hours)
	if err != nil || len(all) == 0 {
		return "", err
	}
	var alone, learnt []comparison
	for _, f := range all {
		alone, learnt = append(alone, f.alone), append(learnt, f.learnt)
	}
	return fmt.Sprintf("An hour after a reading under the same sky (%d hours): %.0f %% inside, median half-width %.2f stop, rms error %.2f stop; without it %.0f %%, %.2f and %.2f.\n",
		len(all), 100*inside(learnt), medianHalf(learnt), rms(learnt), 100*inside(alone), medianHalf(alone), rms(alone)), nil
}

func rms(some []comparison) float64 {
	sum := 0.0
	for _, c := range some {
		sum += c.off() * c.off()
	}
	return math.Sqrt(sum / float64(len(some)))
}
