package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/unit"
)

// hour is one row of the weather file.
type hour struct {
	at                      time.Time   // of the row, in any zone
	altitude                unit.Degree // of the sun at mid-hour
	brightness              float64     // Δ of [Perez1990]: the sky's irradiance × air mass over the sun's outside the air
	global, direct, diffuse unit.Lux
}

// read reads the weather file.
func read(name string) ([]hour, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	column := map[string]int{}
	for i, title := range lines[0] {
		column[title] = i
	}
	var hours []hour
	for _, line := range lines[1:] {
		at, err := time.Parse("2006-01-02 15:04", "2025-"+line[0][:min(11, len(line[0]))])
		if err != nil {
			return nil, err
		}
		value := func(title string) float64 {
			v, e := strconv.ParseFloat(line[column[title]], 64)
			if e != nil {
				err = fmt.Errorf("%s: %s: %w", name, title, e)
			}
			return v
		}
		hours = append(hours, hour{at, unit.Degree(value("sun_alt_deg")), value("delta"),
			unit.Lux(value("E_global_lx")), unit.Lux(value("E_dn_lx")), unit.Lux(value("E_diffuse_lx"))})
		if err != nil {
			return nil, err
		}
	}
	return hours, nil
}

var (
	kinds = []daylight.Kind{daylight.Clear, daylight.Hazy, daylight.PartlyCloudy, daylight.Broken, daylight.BrightOvercast, daylight.Overcast}
	parts = []string{"global", "direct", "diffuse"}
)

// named names an hour's sky as a crew would, by its shadows: the stops between sun and shade as a share of what a clear sky
// makes at that altitude, 0.8 and more clear, from 0.6 hazy, from 0.3 partly cloudy, from 0.07 broken. Without shadows the
// sky is bright overcast where it dazzles (Δ from 0.2) and else overcast: that is named by the level itself, so those hours
// test only the width of the classes.
func named(h hour) daylight.Kind {
	clear := daylight.LevelsAt(h.altitude, h.at.YearDay(), daylight.Clear)
	contrast := math.Log2(float64(h.global/h.diffuse)) / math.Log2(float64(clear.Global/clear.Diffuse))
	switch {
	case contrast >= 0.8:
		return daylight.Clear
	case contrast >= 0.6:
		return daylight.Hazy
	case contrast >= 0.3:
		return daylight.PartlyCloudy
	case contrast >= 0.07:
		return daylight.Broken
	case h.brightness >= 0.2:
		return daylight.BrightOvercast
	}
	return daylight.Overcast
}

// comparison is one figure of an hour, modelled and from the file.
type comparison struct {
	hour               *hour
	kind               daylight.Kind
	part               string
	modelled, measured unit.Lux
	half               float64 // width of the interval, stops
}

// off returns the file over the model, in stops.
func (c comparison) off() float64 { return math.Log2(float64(c.measured / c.modelled)) }

// compare holds the model against the file. A sun that the kind of sky does not have is not compared.
func compare(hours []hour, name func(hour) daylight.Kind) []comparison {
	var all []comparison
	for i := range hours {
		h := &hours[i]
		k := name(*h)
		l := daylight.LevelsAt(h.altitude, h.at.YearDay(), k)
		all = append(all,
			comparison{h, k, "global", l.Global, h.global, float64(l.Interval.Global)},
			comparison{h, k, "diffuse", l.Diffuse, h.diffuse, float64(l.Interval.Diffuse)})
		if l.Direct > 0 {
			all = append(all, comparison{h, k, "direct", l.Direct, h.direct, float64(l.Interval.Direct)})
		}
	}
	return all
}

func filter(all []comparison, keep func(comparison) bool) (some []comparison) {
	for _, c := range all {
		if keep(c) {
			some = append(some, c)
		}
	}
	return some
}

func hoursIn(some []comparison) int {
	seen := map[*hour]bool{}
	for _, c := range some {
		seen[c.hour] = true
	}
	return len(seen)
}

// inside returns the share of figures inside the interval.
func inside(some []comparison) float64 {
	return float64(len(filter(some, func(c comparison) bool { return math.Abs(c.off()) <= c.half }))) / float64(len(some))
}

func medianHalf(some []comparison) float64 {
	return median(some, func(c comparison) float64 { return c.half })
}

func medianError(some []comparison) float64 { return median(some, comparison.off) }

func median(some []comparison, value func(comparison) float64) float64 {
	var values []float64
	for _, c := range some {
		values = append(values, value(c))
	}
	slices.Sort(values)
	n := len(values)
	return (values[(n-1)/2] + values[n/2]) / 2
}
