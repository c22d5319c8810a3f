package cli

import (
	"context"
	"fmt"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// dusk answers the call that asks what makes a window look like dusk by day.
func (t *terminal) dusk(ctx context.Context, title string, view *plan.View, call *clockCall) error {
	var wanted unit.Stop
	if err := wanted.Parse(call.dusk); err != nil {
		return fault.Fault{Kind: fault.Call, Path: "--dusk", Text: err.Error(), Read: call.dusk, Allowed: wanted.Forms()}
	}
	o := pipeline.Defaults()
	o.Seed, o.Black = call.seed, call.black
	o.Progress = t.progress(view.Name)
	d, err := pipeline.DayForDusk(ctx, view, wanted, o)
	t.endProgress()
	if err != nil {
		return err
	}
	if t.json {
		err = t.printJSON(d)
	} else {
		t.printDusk(title, d)
	}
	for _, s := range d.Steps {
		if s.Level != nil && *s.Level <= 1 {
			return err
		}
	}
	if err != nil {
		return err
	}
	return no{"no step of gel brings the dusk into the lamps' reach"}
}

func (t *terminal) printDusk(title string, d *pipeline.Dusk) {
	t.line("%s", t.style.bold(wrapped(title+", "+d.Setup, lineWidth, 2)))
	t.line("%s", wrapped(fmt.Sprintf("The sky by %s stands %.2f stops over grey in its own light at %s, whatever the gel or the stop: gel alone never makes dusk. For %s the light there must be %.0f times the window's; the lamps of the plan can give %s.",
		d.Ambient, float64(d.Sky), d.Point, d.Wanted, d.Times, d.Full), lineWidth, 2))
	t.heading(pad("Window gel", 12) + right("window's light", 16) + right("sky seen", 14) + right("all light", 12) + right("lamps", 12) + right("of full", 10))
	for _, s := range d.Steps {
		level := "none"
		if s.Level != nil {
			level = fmt.Sprintf("%.0f %%", 100**s.Level)
		}
		row := pad(strings.TrimPrefix(fmt.Sprintf("ND %.1f", float64(s.ND)), "ND 0.0"), 12) + right(s.Ambient.String(), 16) + right(s.Sky.String(), 14) +
			right(s.Key.String(), 12) + right(s.Lamp.String(), 12) + right(level, 10)
		t.line("%s", row)
	}
	if o := d.Orange; o != nil {
		t.line("%s", wrapped(fmt.Sprintf("To the lamps' colour the window wants %+.0f mired: nearest %s, %+.0f, passing %s.", float64(o.Wanted), o.Gel, float64(o.Shift), o.Transmittance), lineWidth, 2))
	}
	t.line("%s", wrapped(fmt.Sprintf("Panes %.2f m² of each gel, with spare %.2f m²: all that are seen and all that light.", d.Area, d.Order), lineWidth, 2))
}
