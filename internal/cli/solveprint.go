package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// search returns what shows how far a search is and the best so far, on a terminal; nothing elsewhere.
func (t *terminal) search() func(share float64, best string) {
	if !styleFor(t.err).on {
		return nil
	}
	return func(share float64, best string) {
		text := fmt.Sprintf("%3.0f %% looked through", 100*share)
		if best != "" {
			text += "; best so far: " + best
		}
		fmt.Fprintf(t.err, "\r\x1b[K%s", clipped(text, lineWidth-1))
	}
}

// keepReserve is what is left in hand before a lamp's surplus is spent: half a stop (common practice, no source).
const keepReserve unit.Stop = 0.5

func (t *terminal) printProposals(title string, view *plan.View, p *pipeline.Proposals, call *solveCall) {
	t.line("%s", t.style.bold(title+", "+p.Setup))
	t.line("%s", wrapped(summary(p), lineWidth, 2))
	if len(p.Answers) == 0 {
		t.line("  no choice keeps to the limits of the plan")
		return
	}
	t.heading("Side by side")
	t.sideBySide(p)
	for i := range p.Answers {
		t.printAnswer(i+1, &p.Answers[i])
	}
	first := &p.Answers[0]
	t.printLamps(first.Lamps)
	t.afterwards(view, first)
	end := "The plan is as it was: --take N -o NEW.yaml writes one with an answer in."
	if call.out != "" {
		end = fmt.Sprintf("Answer %d is written to %s.", call.take, call.out)
	}
	t.line("\n%s", wrapped("Each answer is run forward with another seed; ± is 95 %. Hands and minutes are rough, lamps at full output. "+end, lineWidth, 0))
}

// summary is the outcome in words.
func summary(p *pipeline.Proposals) string {
	met := 0
	for i := range p.Answers {
		if p.Answers[i].Outcome == solve.Met {
			met++
		}
	}
	doubt := ""
	if met > 0 && slices.ContainsFunc(p.Answers[0].Targets, func(t meter.Target) bool { return t.Outcome != "met" }) {
		doubt = ", doubt aside"
	}
	text := fmt.Sprintf("%s looked through: ", oneOf(p.Choices, "choice", "choices"))
	switch {
	case p.Outcome == solve.Stopped:
		return text + "stopped, the best so far"
	case met == 0:
		return text + "none meets all targets; the best possible"
	}
	return text + fmt.Sprintf("%s all targets%s", oneOf(met, "way meets", "ways meet"), doubt)
}

func oneOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Widths of the table of answers.
const (
	rowName  = 30
	perWay   = 10
	mostWays = 4
)

// sideBySide sets the plan and the answers next to each other.
func (t *terminal) sideBySide(p *pipeline.Proposals) {
	ways := p.Answers[:min(len(p.Answers), mostWays)]
	row := func(name, planned string, of func(*pipeline.Proposal) string) {
		line := pad(clipped(name, rowName-1), rowName) + right(planned, perWay)
		for i := range ways {
			line += right(of(&ways[i]), perWay)
		}
		t.line("%s", line)
	}
	takes := func(name string, of func(*pipeline.Takes) string) {
		row(name, of(&p.Takes), func(a *pipeline.Proposal) string { return of(&a.Takes) })
	}
	n := 0
	row("", "planned", func(*pipeline.Proposal) string { n++; return fmt.Sprint(n) })
	for i := range ways[0].Targets {
		cell := func(targets []meter.Target) string {
			if i >= len(targets) {
				return ""
			}
			_, is := wish(&targets[i])
			is, _, _ = strings.Cut(is, " ±")
			return shapes[targets[i].Outcome] + " " + is
		}
		row(asked(&ways[0].Targets[i]), cell(p.Planned.Levels.Targets), func(a *pipeline.Proposal) string { return cell(a.Targets) })
	}
	row("least reserve, stops", leastOf(p.Planned.Levels.Lamps), func(a *pipeline.Proposal) string { return leastOf(a.Lamps) })
	row("softness, degrees", "", func(a *pipeline.Proposal) string { return fmt.Sprintf("%.0f", float64(a.Softness)) })
	takes("current", func(x *pipeline.Takes) string { return x.Current.String() })
	takes("power", func(x *pipeline.Takes) string { return x.Power.String() })
	takes("mass of lamps", func(x *pipeline.Takes) string { return x.Mass.String() })
	takes("hands, minutes", func(x *pipeline.Takes) string { return fmt.Sprintf("%.0f, %.0f", x.Hands, x.Minutes) })
	takes("noise at 1 m", func(x *pipeline.Takes) string {
		if x.Noise <= 0 {
			return "none"
		}
		return x.Noise.String()
	})
	if slices.ContainsFunc(ways, func(a pipeline.Proposal) bool { return a.Takes.Hire > 0 }) {
		takes("hire", func(x *pipeline.Takes) string { return fmt.Sprintf("%.0f", x.Hire) })
	}
}

// asked is a target in so few words that it heads a row.
func asked(t *meter.Target) string {
	wanted, _ := wish(t)
	wanted, _, _ = strings.Cut(wanted, " ±")
	wanted, _, _ = strings.Cut(wanted, ", within")
	of := t.Of
	switch {
	case t.Over == meter.DarkestPlace:
		of += " swing"
	case t.Over == meter.DarkestPoint:
		of += " apart"
	case t.Over == "ambient":
		of += "/ambient"
	case t.Colour == nil && t.Over != "key":
		of += "/" + t.Over
	}
	return clipped(of, rowName-2-utf8.RuneCountInString(wanted)-1) + ", " + wanted
}

// leastOf is the least reserve of lamps that are on.
func leastOf(lamps []meter.Lamp) string {
	least := math.Inf(1)
	for _, l := range lamps {
		if l.Outcome == "out of reach" && l.Dim > 0 {
			return l.Outcome
		}
		if l.Reserve != nil && l.Dim > 0 {
			least = math.Min(least, float64(*l.Reserve))
		}
	}
	if math.IsInf(least, 1) {
		return "–"
	}
	return signed(least)
}

func stopsOr(s *unit.Stop, none string) string {
	if s == nil {
		return none
	}
	return s.String()
}

func (t *terminal) printAnswer(n int, a *pipeline.Proposal) {
	what := strings.Join(a.What, "; ")
	if what == "" {
		what = "as planned, but for dims"
	}
	t.heading(wrapped(fmt.Sprintf("%d  %s", n, what), lineWidth, 3))
	for _, s := range a.Settings {
		now := s.Now
		if now == "" {
			now = "–"
		}
		t.line("   %s%s%s  →  %s", column(s.Of, 24, 2), pad(s.Field, 9), right(clipped(now, 20), 10), s.New)
	}
	if len(a.Settings) == 0 {
		t.line("   nothing to change")
	}
	for _, through := range a.Through {
		t.line("   all that time, %s: %s to %s", through.Of, stopsOr(through.Low, "dark"), stopsOr(through.High, "dark"))
	}
	for _, limit := range a.Limits {
		t.line("   ▲ %s", wrapped(limit, lineWidth-5, 5))
	}
	for i, c := range a.Cameras {
		if i == 0 {
			continue // among the settings
		}
		text := fmt.Sprintf("or %s, T%.1f, %s, %s", c.ND, float64(c.Stop), c.EI, c.Shutter)
		if c.Near != nil {
			far := "far off"
			if c.Far != nil {
				far = c.Far.String()
			}
			text += fmt.Sprintf(", sharp from %s to %s", c.Near, far)
		}
		if c.Infrared {
			text += "; take a filter that cuts infrared too"
		}
		t.line("   %s", wrapped(text, lineWidth-3, 5))
	}
}

// afterwards says what the first answer has to spare and what to measure before it is trusted.
func (t *terminal) afterwards(view *plan.View, a *pipeline.Proposal) {
	proposed, err := view.With(a.Changes()...)
	if err != nil {
		return
	}
	var words []string
	for _, l := range a.Lamps {
		if l.Dim == 0 {
			continue
		}
		if s, ok := pipeline.Spare(proposed, a.Forward, l.Name, keepReserve); ok {
			for _, w := range s.Words {
				words = append(words, l.Name+": "+w)
			}
		}
	}
	if len(words) > 0 {
		t.heading("To spare, with half a stop kept")
		for _, w := range words {
			t.line("  %s", wrapped(w, lineWidth-2, 4))
		}
	}
	if doubts := pipeline.Doubtful(a.Forward); len(doubts) > 0 {
		t.heading("To be surer")
		for _, d := range doubts[:min(len(doubts), 3)] {
			t.line("  %s", wrapped(d.Words, lineWidth-2, 4))
		}
	}
}
