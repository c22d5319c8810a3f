package cli

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/pipeline"
)

// printClock prints the light clock as a crew reads it.
func (t *terminal) printClock(title string, c *pipeline.Clock) {
	t.line("%s", t.style.bold(wrapped(title, lineWidth, 2)))
	t.line("%s", wrapped(fmt.Sprintf("%s (%s): sunrise %s, transit %s, sunset %s, dusk %s", c.Sun.Date, c.Sun.Zone,
		hour(c.Sun.Rise), hour(c.Sun.Transit), hour(c.Sun.Set), hour(c.Sun.Dusk)), lineWidth, 2))
	if len(c.Constant) > 0 {
		t.line("%s", wrapped("Taken as read all day, for want of a clock or a state of the sky: "+strings.Join(c.Constant, ", "), lineWidth, 2))
	}
	for _, o := range c.Openings {
		t.line("%s", wrapped(fmt.Sprintf("A clear sun can come in by %s: %s", o.About, clockSpans(o.Times)), lineWidth, 2))
	}
	last := ""
	for i := range c.Windows {
		w := &c.Windows[i]
		if w.Setup != last {
			t.heading(wrapped(w.Setup, lineWidth, 2))
			last = w.Setup
		}
		t.printWindow(w)
	}
	if len(c.Windows) == 0 {
		t.line("\nNo set-up has a target, so nothing has a window.")
	}
	t.printOrder(c)
	for i, about := range c.Cautions {
		if i == 0 {
			t.heading("Sun into a lens")
		}
		t.line("  %s", wrapped(fmt.Sprintf("%s, %s, %s: %s", about.Setup, about.About, clockSpans(about.Times), about.Text), lineWidth-2, 4))
	}
}

// printWindow prints one window.
func (t *terminal) printWindow(w *pipeline.ClockWindow) {
	mark, word := "■", "never holds"
	switch {
	case w.Opens != nil && len(w.Sure) > 0:
		mark, word = "●", ""
	case w.Opens != nil:
		mark, word = "◐", ""
	}
	name := w.Target + ", lamps " + modes[w.Mode]
	if w.Opens == nil {
		t.line("%s", tail(fmt.Sprintf("  %s %s", mark, column(name, 42, 4)), word))
	} else {
		t.printHeld(w, fmt.Sprintf("  %s %s", mark, column(name, 42, 4)))
	}
	var rest []string
	for _, part := range []struct {
		text  string
		spans []pipeline.ClockSpan
	}{{"also", w.Others}, {"sure", w.Sure}, {"maybe", w.Maybe}} {
		if len(part.spans) > 0 {
			rest = append(rest, part.text+" "+clockSpans(part.spans))
		}
	}
	if w.Remeter != nil {
		rest = append(rest, fmt.Sprintf("half the sky %s, double %s", clockSpan(w.Half), clockSpan(w.Double)), "re-meter from "+hour(w.Remeter))
	}
	if len(rest) > 0 {
		t.line("      %s", t.style.dim(wrapped(strings.Join(rest, "; "), lineWidth-6, 6)))
	}
	t.printSchedule(w)
}

// printHeld prints a window that there is.
func (t *terminal) printHeld(w *pipeline.ClockWindow, row string) {
	if w.RigBy == nil && w.Minutes >= pipeline.WholeDay {
		t.line("%s", tail(row, "all day"))
		return
	}
	t.line("%s", tail(row, fmt.Sprintf("%s–%s, best %s, %.0f min", hour(w.Opens), hour(w.Closes), hour(w.Best), w.Minutes)))
	text := fmt.Sprintf("slack %s min (%.0f to shoot); %s as it opens, %s as it closes",
		strings.Replace(fmt.Sprintf("%.0f", float64(*w.Slack)), "-", "−", 1), float64(w.Shoot), rate(w.Opening), rate(w.Closing))
	if w.RigBy != nil {
		text = fmt.Sprintf("rig by %s (%.0f min), ", hour(w.RigBy), float64(w.Rig)) + text
	}
	t.line("      %s", wrapped(text, lineWidth-6, 6))
}

// mostSteps is how many settings of a schedule are printed; JSON has all.
const mostSteps = 8

// printSchedule prints what lamps that follow are set to, where that is not what was printed before.
func (t *terminal) printSchedule(w *pipeline.ClockWindow) {
	last := ""
	for i := range w.Follow {
		if len(w.Follow) > mostSteps && i%(1+len(w.Follow)/mostSteps) != 0 {
			continue
		}
		var parts []string
		for _, l := range w.Follow[i].Lamps {
			part := l.Lamp + " " + l.Dim.String()
			if l.Colour != nil {
				part += ", " + l.Colour.String()
			}
			parts = append(parts, part)
		}
		text := strings.Join(parts, "; ")
		if text != last {
			t.line("      %s", wrapped(hour(&w.Follow[i].At)+"  "+text, lineWidth-6, 6))
		}
		last = text
	}
}

func (t *terminal) printOrder(c *pipeline.Clock) {
	if len(c.Order) == 0 {
		return
	}
	t.heading("Order in which all targets hold, one crew")
	for _, s := range c.Order {
		t.line("  %s", wrapped(fmt.Sprintf("%s: rig %s, roll %s, done %s, slack %.0f min", s.Setup, hour(&s.Rig), hour(&s.Roll), hour(&s.Done), float64(s.Slack)), lineWidth-2, 4))
	}
	if len(c.LeftOut) > 0 {
		t.line("  %s", wrapped("not in it: "+strings.Join(c.LeftOut, "; "), lineWidth-2, 4))
	}
}

// rate prints stops a minute; an edge of the sun passes at once.
func rate(x float64) string {
	if math.Abs(x) >= 1 {
		return "at once"
	}
	return strings.Replace(fmt.Sprintf("%+.3f stop a minute", x), "-", "−", 1)
}

func clockSpan(s *pipeline.ClockSpan) string {
	if s == nil {
		return "never"
	}
	return hour(&s.Opens) + "–" + hour(&s.Closes)
}

func clockSpans(spans []pipeline.ClockSpan) string {
	if len(spans) == 0 {
		return "never"
	}
	var texts []string
	for _, s := range spans {
		texts = append(texts, hour(&s.Opens)+"–"+hour(&s.Closes))
	}
	return strings.Join(texts, ", ")
}
