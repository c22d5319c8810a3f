package server

import (
	"gloam/internal/colour"
	"gloam/internal/meter"
	"gloam/internal/unit"
)

// Printed is a point as the terminal prints it, so that a page need not know how anything is rounded.
type Printed struct {
	Over     string   `json:"over" doc:"stops over key: +1⅓, at stop, dark"`
	Interval string   `json:"interval" doc:"±⅓"`
	Level    string   `json:"level" doc:"in both units"`
	Mired    string   `json:"mired" doc:"from balance, and its word; empty where light has no colour temperature"`
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
			out.Mired = p.Mired.Shift() + " " + word
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
