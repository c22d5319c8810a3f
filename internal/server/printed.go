package server

import (
	"fmt"
	"strings"

	"gloam/internal/colour"
	"gloam/internal/meter"
	"gloam/internal/unit"
)

// Printed is a point as the terminal prints it, so that a page need not know how anything is rounded.
type Printed struct {
	Over     string   `json:"over" doc:"stops over key: +1⅓, at stop, dark"`
	Interval string   `json:"interval" doc:"±⅓"`
	Level    string   `json:"level" doc:"in both units"`
	Mired    string   `json:"mired" doc:"mired from balance, and the word for it; empty where light has no colour temperature"`
	Warm     string   `json:"warm" enum:"warm,cool,neutral"`
	By       []string `json:"by" doc:"what each source gives, in both units"`
}

func printed(points []meter.Reading) []Printed {
	all := []Printed{}
	for i := range points {
		p := &points[i]
		out := Printed{Over: "dark", Interval: p.Interval.Interval(), Level: level(p.Lux, p.Luminance), Warm: "neutral", By: []string{}}
		if p.OverKey != nil {
			out.Over = p.OverKey.String()
		}
		if p.Mired != nil {
			word := colour.Warmth(*p.Mired)
			out.Mired = strings.TrimSuffix(p.Mired.Shift(), " mired") + " " + word
			switch {
			case word == "neutral":
			case *p.Mired > 0:
				out.Warm = "warm"
			default:
				out.Warm = "cool"
			}
		}
		for _, s := range p.By {
			out.By = append(out.By, level(s.Lux, s.Luminance))
		}
		all = append(all, out)
	}
	return all
}

func level(lux *unit.Lux, luminance *unit.Nit) string {
	if lux != nil {
		return lux.WithFootCandles()
	}
	return luminance.WithFootLamberts()
}

// Line is an answer that stands beside the points: a name and what is said of it.
type Line struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// lines are how far walks swing and how a key side stands to its shadow side.
func lines(l *meter.Levels) []Line {
	all := []Line{}
	for _, w := range l.Walks {
		text := "is dark in places"
		if w.Swing != nil {
			text = fmt.Sprintf("swings %.2f stop %s", float64(*w.Swing), w.Interval.Interval())
		}
		all = append(all, Line{"walk " + w.Name, text})
	}
	for _, r := range l.Ratios {
		text := "dark on one side"
		if r.Stops != nil {
			text = fmt.Sprintf("key to shadow %.3g : 1, %s %s", *r.Ratio, strings.TrimPrefix(r.Stops.String(), "+"), r.Interval.Interval())
		}
		all = append(all, Line{r.Name, text})
	}
	return all
}
