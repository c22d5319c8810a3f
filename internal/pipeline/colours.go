package pipeline

import (
	"fmt"
	"strings"

	"gloam/internal/chart"
	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/meter"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// NamedWhite is the light of a source or at a point.
type NamedWhite struct {
	Name string
	meter.White
}

// Whites returns the sources of a set-up as they leave the head, then the mixtures at its points.
func Whites(l *meter.Levels) (all []NamedWhite) {
	for _, s := range l.Sources {
		all = append(all, NamedWhite{s.Source, s.White})
	}
	for _, p := range l.Points {
		all = append(all, NamedWhite{"at " + p.Name, p.White})
	}
	return all
}

// Balance names the camera's balance with its tint.
func Balance(r *Result) string {
	text := fmt.Sprintf("%.0f K", float64(r.Setup.Balance))
	if r.Setup.Tint != 0 {
		text += ", Duv " + colour.DuvText(r.Setup.Tint)
	}
	return text
}

// Chromaticity draws where a set-up's lights stand.
func Chromaticity(r *Result, f chart.Frame) chart.Drawing {
	f.Note = "balance " + Balance(r)
	var c chart.Chromaticity
	for _, w := range Whites(&r.Levels) {
		if w.CCT != nil {
			at, _ := colour.At(*w.CCT, *w.Duv) // a white has a place
			c.Whites = append(c.Whites, chart.White{Name: w.Name, Text: fmt.Sprintf("%.0f K, Duv %s", float64(*w.CCT), colour.DuvText(*w.Duv)), At: at})
		}
	}
	return c.Draw(f)
}

// Mireds draws how a set-up's lights stand to the balance.
func Mireds(r *Result, f chart.Frame) chart.Drawing {
	m := chart.Mireds{Balance: "balance " + Balance(r)}
	for _, w := range Whites(&r.Levels) {
		if w.Mired != nil {
			m.Sources = append(m.Sources, chart.Source{Name: w.Name, Text: w.Mired.Shift() + " " + w.Words, FromBalance: *w.Mired})
		}
	}
	return m.Draw(f)
}

// LampDial is a lamp's control of colour; green is how far that of green and pink goes, as Duv, 0 for none.
func LampDial(kit *gear.Lamp, green float64) colour.Dial {
	low, high := kit.Colours()
	return colour.Dial{Low: low, High: high, Green: green, Pink: green,
		Spectrum: func(k unit.Kelvin, duv float64) (spectrum.Curve, error) { return kit.Light(k, &duv) }}
}

// MatchLamp returns what a lamp of a set-up is to be set to, kelvin alone, to match another of its lights, named as Whites names
// it. Of that light the colour is taken and no spectrum. The error is a fault.
func MatchLamp(r *Result, lamp, to string) (*colour.MatchReport, error) {
	var kit *gear.Lamp
	for i := range r.Setup.Lamps {
		if u := &r.Setup.Lamps[i]; u.Name == lamp {
			kit = u.Kit
		}
	}
	if kit == nil {
		return nil, fault.Fault{Kind: fault.Call, Path: "lamp", Text: "there is no lamp of the kit so called", Read: lamp}
	}
	var names []string
	for _, w := range Whites(&r.Levels) {
		if w.CCT == nil {
			continue
		}
		names = append(names, w.Name)
		if w.Name != to {
			continue
		}
		light, err := spectrum.BiColour(*w.CCT, *w.Duv)
		if err != nil {
			return nil, fault.Of(err, fault.Input).Err()
		}
		camera := r.Setup.Recorder.Camera()
		target, err := colour.TargetAt(colour.MixtureOf([]spectrum.Light{light}, []unit.Lux{1}).Chromaticity())
		if err != nil {
			return nil, fault.Of(err, fault.Input).Err()
		}
		var report colour.Report
		if notes := report.Matched(kit.Name, LampDial(kit, 0), target, camera); len(notes) > 0 {
			notes[0].Kind = fault.Input
			return nil, notes[0]
		}
		return report.Match, nil
	}
	return nil, fault.Fault{Kind: fault.Call, Path: "to", Text: "there is no white light so called", Read: to, Allowed: strings.Join(names, ", ")}
}
