package cli

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/exposure"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// lineWidth is how many columns an answer fits.
const lineWidth = 80

func (t *terminal) line(format string, values ...any) {
	fmt.Fprintln(t.out, strings.TrimRight(fmt.Sprintf(format, values...), " "))
}

func (t *terminal) heading(text string) { t.line("\n%s", t.style.bold(text)) }

// printLevels prints one set-up for people: points first, as they are read out.
func (t *terminal) printLevels(title string, r *pipeline.Result, call *levelsCall) {
	l := &r.Levels
	head := title
	if l.Setup != "plan" {
		head += ", " + l.Setup
	}
	if l.At != "" && !strings.Contains(l.Setup, l.At) {
		head += ", " + l.At
	}
	t.line("%s", t.style.bold(wrapped(head, lineWidth, 2)))
	c := r.Setup.Camera
	t.line("Key %s: %s, %s, %s, %s%s", l.Key.WithFootCandles(), tStop(c.Stop), c.EI, c.FPS, c.Shutter, filter(c))
	t.line("Stops are over key; ± is 95 %%")
	if call.black {
		t.line("Surroundings black: no light back from room, ground, people or backs of cloths.")
	}
	t.printPoints(l.Points, call.point != "")
	if call.point != "" {
		return
	}
	t.printColours(r)
	t.printWalks(l.Walks)
	t.printRatios(l.Ratios)
	t.printTones(l.Tones)
	t.printTargets(l.Targets)
	t.printLamps(l.Lamps)
	t.printExposure(&l.Exposure)
	t.printFlicker(l.Flicker)
}

// tStop prints the opening as it is set: an engraved number, or three figures.
func tStop(t unit.TStop) string {
	if text := t.String(); !strings.ContainsAny(text, "⅓⅔") && unit.TStop(math.Abs(float64(t-nominal(text)))) < 1e-9 {
		return text
	}
	return fmt.Sprintf("T%.3g", float64(t))
}

// nominal reads a printed T-stop back.
func nominal(text string) (t unit.TStop) {
	if t.Parse(text) != nil {
		return 0
	}
	return t
}

func filter(c exposure.Camera) string {
	if c.ND == 0 {
		return ""
	}
	return fmt.Sprintf(", ND %.1f stops in", float64(c.ND))
}

// over prints stops over key with their interval.
func over(s *unit.Stop, interval unit.Stop) string {
	if s == nil {
		return "dark"
	}
	return s.String() + " " + interval.Interval()
}

func (t *terminal) printPoints(points []meter.Reading, whole bool) {
	if len(points) == 0 {
		return
	}
	t.heading(pad("Points", 26) + pad("over key", 15) + right("level", 11) + right("fc", 8) + "  mired from balance")
	for _, p := range points {
		level, foot := "", ""
		if p.Lux != nil {
			level, foot = p.Lux.String(), number(p.Lux.FootCandles().String())
		} else {
			level, foot = p.Luminance.String(), number(p.Luminance.FootLamberts().String())+" fL"
		}
		name := p.Name
		if p.Receptor == "dome" {
			name += " (dome)"
		}
		t.line("%s%s%s%s  %s", t.style.bold(column(name, 26, 0)), pad(over(p.OverKey, p.Interval), 15), right(level, 11), right(foot, 8), balance(p.Mired, p.Duv))
		if whole {
			t.printShares(p.By)
			continue
		}
		t.line("  %s", t.style.dim(wrapped(madeOf(p.By), lineWidth-2, 4)))
	}
}

// number drops the unit behind a printed quantity.
func number(text string) string {
	n, _, _ := strings.Cut(text, " ")
	return n
}

// balance says how warm or green a light is against the camera's balance.
func balance(m *unit.Mired, duv *float64) string {
	if m == nil {
		return ""
	}
	text := "neutral"
	switch shift := math.Round(float64(*m)); {
	case shift > 0:
		text = fmt.Sprintf("%.0f warm", shift)
	case shift < 0:
		text = fmt.Sprintf("%.0f cool", -shift)
	}
	switch {
	case *duv > 0.006:
		text += ", green"
	case *duv < -0.006:
		text += ", pink"
	}
	return text
}

// madeOf is the sources in short, those of a hundredth and more.
func madeOf(by []meter.Share) string {
	var parts []string
	for _, s := range by {
		if s.Share >= 0.01 {
			parts = append(parts, fmt.Sprintf("%s %.0f %%", s.Source, 100*s.Share))
		}
	}
	if len(parts) == 0 {
		return "no light"
	}
	return strings.Join(parts, ", ")
}

// printShares is the whole contribution table of a point.
func (t *terminal) printShares(by []meter.Share) {
	t.line("  %s%s%s%s%s%s", pad("from", 26), right("level", 12), right("straight", 12), right("stops", 9), right("share", 8), right("mired", 7))
	for _, s := range by {
		level, direct := "", ""
		if s.Lux != nil {
			level, direct = s.Lux.String(), s.Direct.String()
		} else {
			level, direct = s.Luminance.String(), s.DirectLuminance.String()
		}
		stops := "dark"
		if s.Share > 0 {
			stops = fmt.Sprintf("%.1f", math.Log2(s.Share))
		}
		from := ""
		if s.Mired != nil {
			from = strings.TrimSuffix(s.Mired.Shift(), " mired")
		}
		t.line("  %s%s%s%s%s%s", column(s.Source, 26, 2), right(level, 12), right(direct, 12), right(strings.Replace(stops, "-", "−", 1), 9), right(fmt.Sprintf("%.1f %%", 100*s.Share), 8), right(from, 7))
	}
}

func (t *terminal) printWalks(walks []meter.Walk) {
	for _, w := range walks {
		swing := "dark in places"
		if w.Swing != nil {
			swing = fmt.Sprintf("swings %.2f stop %s", float64(*w.Swing), w.Interval.Interval())
		}
		t.heading(wrapped(fmt.Sprintf("Walk %s: %s", w.Name, swing), lineWidth, 2))
		for _, p := range w.Points {
			t.line("  %s%s%s%s  %s", right(fmt.Sprintf("%.2f m", float64(p.Along)), 8), pad("   "+over(p.OverKey, p.Interval), 18),
				right(p.Lux.String(), 13), right(p.Lux.FootCandles().String(), 13), balance(p.Mired, p.Duv))
		}
		var alone []string
		for _, s := range w.By {
			if s.Swing != nil {
				alone = append(alone, fmt.Sprintf("%s %.2f", s.Source, float64(*s.Swing)))
			}
		}
		if len(alone) > 0 {
			t.line("  %s", t.style.dim(wrapped("alone would swing: "+strings.Join(alone, ", "), lineWidth-2, 4)))
		}
	}
}

func (t *terminal) printRatios(ratios []meter.Ratio) {
	if len(ratios) == 0 {
		return
	}
	t.heading("Key side against shadow side")
	for _, r := range ratios {
		if r.Stops == nil {
			t.line("  %s dark on one side", column(r.Name, 24, 2))
			continue
		}
		t.line("  %s%s   %s %s", column(r.Name, 24, 2), pad(fmt.Sprintf("%.3g : 1", *r.Ratio), 12), apart(*r.Stops), r.Interval.Interval())
	}
}

func (t *terminal) printTones(tones []meter.Tone) {
	if len(tones) == 0 {
		return
	}
	t.heading("Tones, over grey")
	for _, tone := range tones {
		row := fmt.Sprintf("  %s%s%s", column(tone.Name, 24, 2), pad(over(tone.OverGrey, tone.Interval), 16), pad(fmt.Sprintf("ρ %.2f", float64(tone.Reflectance)), 9))
		t.line("%s", tail(row, " in "+tone.In))
	}
}

// shapes stand beside the word, so that the word need not be read to see which needs a look.
var shapes = map[string]string{"met": "●", "maybe": "◐", "missed": "■", "dark": "○"}

func (t *terminal) printTargets(targets []meter.Target) {
	if len(targets) == 0 {
		return
	}
	t.heading("Targets")
	for _, target := range targets {
		wanted, is := wish(&target)
		t.line("  %s %s %s wanted %s, is %s", shapes[target.Outcome], pad(target.Outcome, 7), column(wished(&target), 32, 12), wanted, is)
	}
}

// wished names what a target is about.
func wished(t *meter.Target) string {
	switch {
	case t.Colour != nil:
		return t.Of + " from balance"
	case t.Over == "key":
		return t.Of
	}
	return t.Of + " over " + t.Over
}

// wish prints what a target asks for, a level with its tolerance or the most that places may differ, and what there is.
func wish(t *meter.Target) (wanted, is string) {
	is = over(t.Level, t.Interval)
	switch {
	case t.Colour != nil:
		c := t.Colour
		if is = "dark"; c.Level != nil {
			is = fmt.Sprintf("%s ±%.0f", c.Level, math.Ceil(float64(c.Interval)))
		}
		return fmt.Sprintf("%s ±%.0f", c.Wanted, float64(c.Within)), is
	case t.Over == meter.DarkestPlace, t.Over == meter.DarkestPoint:
		return "at most " + strings.TrimPrefix(t.Wanted.String(), "+"), is
	case t.Bound != scene.At:
		return fmt.Sprintf("%s %s, within %.2g", t.Bound, t.Wanted, float64(t.Tolerance)), is
	}
	return fmt.Sprintf("%s ±%.2g", t.Wanted, float64(t.Tolerance)), is
}

func (t *terminal) printLamps(lamps []meter.Lamp) {
	if len(lamps) == 0 {
		return
	}
	t.heading(pad("Lamps", 26) + "   dim   reserve in stops")
	for _, l := range lamps {
		t.line("%s", tail(column(l.Name, 26, 0)+right(l.Dim.String(), 6)+"   ", reserve(&l)))
	}
}

// reserve says how much a lamp has left, in numbers and in a word.
func reserve(l *meter.Lamp) string {
	switch {
	case l.Outcome == "not needed":
		return "its targets are met without it"
	case l.Reserve == nil:
		return l.Outcome
	case l.Outcome == "planned":
		return signed(float64(*l.Reserve)) + " over the planned dim"
	}
	return fmt.Sprintf("%s %s for %s: %s", signed(float64(*l.Reserve)), l.Interval.Interval(), l.For, l.Outcome)
}

func signed(x float64) string {
	text := fmt.Sprintf("%+.2f", x)
	if text == "-0.00" || text == "+0.00" {
		return "0.00"
	}
	return strings.Replace(text, "-", "−", 1)
}

// apart prints the stops between two levels, of which none is no special one.
func apart(s unit.Stop) string {
	text := fmt.Sprintf("%.1f", float64(s))
	if text == "-0.0" {
		text = "0.0"
	}
	return strings.Replace(strings.TrimSuffix(text, ".0"), "-", "−", 1)
}

func (t *terminal) printExposure(e *meter.Exposure) {
	if len(e.Choices) == 0 {
		return
	}
	wanted := "at stop"
	if e.Wanted != 0 {
		wanted = "at " + e.Wanted.String()
	}
	if e.Needed < 0 {
		t.heading(wrapped(fmt.Sprintf("Exposure, %s %s: lacks %.2f stops", e.Reference, wanted, -float64(e.Needed)), lineWidth, 2))
	} else {
		t.heading(wrapped(fmt.Sprintf("Exposure, %s %s: take off %.2f stops", e.Reference, wanted, float64(e.Needed)), lineWidth, 2))
	}
	for _, c := range e.Choices {
		t.line("  %s", wrapped(choice(&c), lineWidth-2, 4))
	}
}

func choice(c *meter.ExposureChoice) string {
	text := "no ND"
	if c.ND > 0 {
		text = fmt.Sprintf("ND %.1f", float64(c.ND))
	}
	if math.Abs(float64(c.Rest)) < 0.01 {
		return text + ", no more"
	}
	way := "off"
	if c.Rest < 0 {
		way = "back"
	}
	text += fmt.Sprintf(", then %.2f %s by T%.3g, EI %.0f", math.Abs(float64(c.Rest)), way, float64(c.Stop), float64(c.EI))
	if c.Shutter > 0 {
		text += fmt.Sprintf(" or 1/%.3g s", 1/float64(c.Shutter))
	}
	return text
}

func (t *terminal) printExplanation(setup string, e *meter.Explanation) {
	t.line("%s", t.style.bold(wrapped(e.Point+" in "+setup, lineWidth, 2)))
	for _, s := range e.Steps {
		t.line("\n%s = %s", t.style.bold(wrapped(s.What, lineWidth-24, 2)), s.Result)
		t.line("  %s", wrapped(s.Formula+"  ["+s.Source+"]", lineWidth-2, 4))
		for _, input := range s.Inputs {
			t.line("    %s", wrapped(input, lineWidth-4, 6))
		}
	}
	t.line("\n%s", t.style.bold("Interval, 95 %: root of the sum of squares"))
	for _, c := range e.Doubts {
		if math.Abs(float64(c.Stops)) < 0.005 {
			continue
		}
		t.line("  %s ±%.2f stop", column(c.Cause, 44, 2), math.Abs(float64(c.Stops)))
	}
}
