package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"gloam/internal/chart"
	"gloam/internal/exchange"
	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
)

// clockCall is one call of `gloam clock`.
type clockCall struct {
	setup, out, hold, dusk string
	readings               []string
	black                  bool
	seed                   uint32
}

func clockCommand(t *terminal) *cobra.Command {
	var call clockCall
	c := &cobra.Command{
		Use:   "clock PLAN",
		Short: "Between which times each target holds, and when to rig",
		Long: `Tells between which clock times each target of each set-up holds, with the lamps
as planned and with lamps that follow, when rigging must begin and what the
lamps do meanwhile. Daylight is the plan's sky by the model, or its readings
carried on through the day where they have a clock and a state of the sky.

With --hold it says what readings of the ambient ask of the lamps of the first
set-up, or of the one that is named; with --dusk what gel and lamps make dusk of
a window by day.

Ends with 3 where a target is never in reach, or a reading not held.`,
		Args: exactly(1, "one plan file"),
		RunE: func(c *cobra.Command, args []string) error { return t.clock(c.Context(), args[0], &call) },
	}
	f := c.Flags()
	f.StringVar(&call.setup, "setup", "", "one set-up by name; all if not given")
	f.StringVarP(&call.out, "output", "o", "", "file to write: the chart of one set-up as day.svg or day.png, the windows of all as day.ics")
	f.StringVar(&call.hold, "hold", "", "instead: what the lamps are set to as the ambient changes, to hold ratio or exposure")
	f.StringArrayVar(&call.readings, "reading", nil, "with --hold, an ambient reading, once for each: \"09:30 3100 lx 7200 K\"")
	f.StringVar(&call.dusk, "dusk", "", "instead: what makes a window look like dusk by day, its sky at some stops over grey: +1")
	f.BoolVar(&call.black, "black", false, "count no light back from surroundings, as sums by hand do")
	f.Uint32Var(&call.seed, "seed", 1, "seed of the sampling: same plan and seed, same digits")
	c.RegisterFlagCompletionFunc("setup", completeSetups)
	return c
}

func (t *terminal) clock(ctx context.Context, file string, call *clockCall) error {
	kind := strings.ToLower(filepath.Ext(call.out))
	if call.out != "" && kind != ".svg" && kind != ".png" && kind != ".ics" {
		return fault.Fault{Kind: fault.Call, Path: "--output", Text: "is no chart and no calendar", Read: call.out, Allowed: "a name that ends in .svg, .png or .ics"}
	}
	p, faults := readPlan(file)
	t.note(faults)
	if err := faults.Err(); err != nil {
		return err
	}
	names := p.Setups()
	if call.setup != "" {
		names = []string{call.setup}
	}
	if len(names) > 1 && (kind == ".svg" || kind == ".png") {
		return fault.Fault{Kind: fault.Call, Path: "--setup", Text: "a chart is of one set-up: name it", Allowed: strings.Join(names, ", ")}
	}
	var views []*plan.View
	for _, name := range names {
		view, faults := p.Setup(name)
		if err := faults.Err(); err != nil {
			return err
		}
		views = append(views, view)
	}
	if call.dusk != "" {
		return t.dusk(ctx, p.Document.Title, views[0], call)
	}
	if call.hold != "" {
		return t.hold(ctx, p.Document.Title, views[0], call)
	}
	o := pipeline.Defaults()
	o.Seed, o.Black = call.seed, call.black
	o.Progress = t.progress("light clock")
	c, err := pipeline.LightClock(ctx, views, o)
	t.endProgress()
	if err != nil {
		return err
	}
	if call.out != "" {
		if err := saveClock(call.out, kind, p, c); err != nil {
			return err
		}
	}
	if t.json {
		err = t.printJSON(c)
	} else {
		t.printClock(p.Document.Title, c)
	}
	if missed := c.Missed(); err == nil && len(missed) > 0 {
		return no{"never in reach: " + strings.Join(missed, "; ")}
	}
	return err
}

// no is an answer that was found and is no: exit code 3.
type no struct{ text string }

func (n no) Error() string { return n.text }

func saveClock(name, kind string, p *plan.Plan, c *pipeline.Clock) error {
	var b bytes.Buffer
	var err error
	switch kind {
	case ".ics":
		err = exchange.WriteCalendar(&b, clockEvents(p, c))
	default:
		d := c.Days[0].Chart().Draw(chart.Frame{ID: "clock", Title: p.Document.Title + ", " + c.Days[0].Setup, Note: c.Sun.Date + ", " + c.Sun.Zone,
			Width: 1000, Height: 640, Theme: chart.Paper})
		if err = d.SVG(&b); kind == ".png" {
			b.Reset()
			err = d.PNG(&b, 2)
		}
	}
	if err == nil {
		err = os.WriteFile(name, b.Bytes(), 0o644)
	}
	if err != nil {
		return fault.Fault{Kind: fault.Unfinished, Text: "could not write: " + err.Error()}
	}
	return nil
}

// clockEvents is a calendar entry for each window with the lamps as planned, or where they must follow.
func clockEvents(p *plan.Plan, c *pipeline.Clock) (events []exchange.Event) {
	for i := range c.Windows {
		w := &c.Windows[i]
		opens, ok := pipeline.ClockTime(w.Opens, time.UTC)
		if !ok || w.Mode == "following" && i > 0 && c.Windows[i-1].Opens != nil {
			continue
		}
		closes, _ := pipeline.ClockTime(w.Closes, time.UTC)
		rig, _ := pipeline.ClockTime(w.RigBy, time.UTC)
		e := exchange.Event{
			Identity: []string{p.Document.Title, w.Setup, w.Target, c.Sun.Date}, Summary: w.Setup + ": " + w.Target,
			Description: clockSays(w), Start: opens, End: closes, Alarm: rig, Stamp: c.Days[0].Grid.From,
		}
		if place := p.Document.Place; place != nil {
			e.Location = place.String()
		}
		events = append(events, e)
	}
	return events
}

// clockSays tells a window in a sentence or two.
func clockSays(w *pipeline.ClockWindow) string {
	text := fmt.Sprintf("Lamps %s. Best at %s, slack %.0f min.", modes[w.Mode], hour(w.Best), float64(*w.Slack))
	if w.RigBy != nil {
		text += " Rig by " + hour(w.RigBy) + "."
	}
	if w.Remeter != nil {
		text += " A forecast: re-meter from " + hour(w.Remeter) + "."
	}
	return text
}

var modes = map[string]string{"fixed": "as planned", "following": "following"}

// hour is the clock time of a stamp.
func hour(text *string) string {
	if text == nil {
		return "never"
	}
	t, err := time.Parse(time.RFC3339, *text)
	if err != nil {
		return *text
	}
	return t.Round(time.Minute).Format("15:04")
}
