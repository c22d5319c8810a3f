package cli

import (
	"context"
	"fmt"
	"math"
	"strings"

	lightclock "gloam/internal/clock"
	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
)

// readingForms is how an ambient reading of a call is written.
const readingForms = `a time or name, a level and a colour, such as "09:30 3100 lx 7200 K"`

// readAmbients reads the ambient readings of a call.
func readAmbients(texts []string) (readings []lightclock.Ambient, err error) {
	var faults fault.List
	for _, text := range texts {
		a, ok := readAmbient(strings.TrimSpace(text))
		if !ok {
			faults = append(faults, fault.Fault{Kind: fault.Call, Path: "--reading", Text: "is no reading of ambient", Read: text, Allowed: readingForms})
		}
		readings = append(readings, a)
	}
	return readings, faults.Err()
}

func readAmbient(text string) (a lightclock.Ambient, ok bool) {
	name, rest, _ := strings.Cut(text, " ")
	for i := range rest {
		if rest[i] == ' ' && a.Lux.Parse(rest[:i]) == nil && a.Colour.Parse(rest[i:]) == nil {
			a.Name = name
			return a, true
		}
	}
	return a, false
}

// hold answers the call that asks what to set as the ambient changes.
func (t *terminal) hold(ctx context.Context, title string, view *plan.View, call *clockCall) error {
	if call.hold != "ratio" && call.hold != "exposure" {
		return fault.Fault{Kind: fault.Call, Path: "--hold", Text: "is nothing that can be held", Read: call.hold, Allowed: "ratio, exposure"}
	}
	readings, err := readAmbients(call.readings)
	if err != nil {
		return err
	}
	if len(readings) == 0 {
		return fault.Fault{Kind: fault.Call, Path: "--reading", Text: "holding needs a reading of the ambient or more", Allowed: readingForms}
	}
	o := pipeline.Defaults()
	o.Seed, o.Black = call.seed, call.black
	o.Progress = t.progress(view.Name)
	h, err := pipeline.HoldReadings(ctx, view, call.hold == "exposure", readings, o)
	t.endProgress()
	if err != nil {
		return err
	}
	if t.json {
		err = t.printJSON(h)
	} else {
		t.printHold(title, h)
	}
	var out []string
	for _, s := range h.Settings {
		if !s.InReach || !s.InTolerance {
			out = append(out, s.Name)
		}
	}
	if err == nil && len(out) > 0 {
		return no{"not held at " + strings.Join(out, ", ")}
	}
	return err
}

func (t *terminal) printHold(title string, h *pipeline.Hold) {
	t.line("%s", t.style.bold(wrapped(title+", "+h.Setup, lineWidth, 2)))
	t.line("%s", wrapped(fmt.Sprintf("Hold the %s at %s: %s over ambient ±%.2g; %s can give %s", h.Hold, h.Point, h.Ratio,
		float64(h.Tolerance), strings.Join(h.Lamps, " and "), h.Full), lineWidth, 2))
	t.heading(pad("Ambient", 28) + right("light", 7) + right("colour", 9) + right("ratio", 7) + right("exposure", 10) + "  off by ND, iris")
	for _, s := range h.Settings {
		row := pad(fmt.Sprintf("%s  %s %s", s.Name, s.Ambient, s.Colour), 28) + right(fmt.Sprintf("%.0f %%", 100*s.Level), 7) +
			right(s.LampColour.String(), 9) + right(fmt.Sprintf("%.2f", float64(s.Ratio)), 7) + right(signed(float64(s.Exposure)), 10) +
			fmt.Sprintf("  ND %.1f, %.2f", float64(s.ND), math.Abs(float64(s.Rest)))
		switch {
		case !s.InReach:
			row = tail(row, "  out of reach")
		case !s.InTolerance:
			row = tail(row, "  out of tolerance")
		}
		t.line("%s", row)
	}
	t.line("%s", wrapped("Light is the share of all the lamps can give at that colour; move the balance with the lamps' colour.", lineWidth, 2))
}
