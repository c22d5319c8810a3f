package cli

import (
	"fmt"
	"regexp"

	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// pairs tells which option lacks the one that it goes with.
func (call *quickCall) pairs() (faults fault.List) {
	for _, p := range []struct{ option, value, with, its, such string }{
		{"--within", call.within, "--cover", call.cover, "--cover 3m"}, {"--cover", call.cover, "--within", call.within, "--within 1/2"},
		{"--swing", call.swing, "--walk", call.walk, "--walk 10m"}, {"--walk", call.walk, "--swing", call.swing, "--swing 1"},
		{"--height", call.height, "--sun", call.sun, "--sun 4deg"}, {"--sun", call.sun, "--height", call.height, "--height 1.6m"},
	} {
		if p.value != "" && p.its == "" {
			faults = append(faults, fault.Fault{Kind: fault.Call, Path: p.with, Text: "is missing, and " + p.option + " goes with it", Allowed: p.such})
		}
	}
	return faults
}

// reach reads what is asked about width, walk and height.
func (call *quickCall) reach(read func(option, text string, into quantity) bool) (c *pipeline.QuickCover, w *pipeline.QuickWalk, s *pipeline.QuickSun) {
	if call.cover != "" && call.within != "" {
		c = &pipeline.QuickCover{}
		read("--cover", call.cover, &c.Width)
		read("--within", call.within, &c.Within)
	}
	if call.walk != "" && call.swing != "" {
		w = &pipeline.QuickWalk{}
		read("--walk", call.walk, &w.Length)
		read("--swing", call.swing, &w.Swing)
	}
	if call.sun != "" && call.height != "" {
		s = &pipeline.QuickSun{}
		read("--sun", call.sun, (*sunAltitude)(&s.Altitude))
		read("--height", call.height, &s.Height)
	}
	return c, w, s
}

// sunAltitude reads an angle, or what throws how long a shadow on level ground.
type sunAltitude unit.Degree

var shadowText = regexp.MustCompile(`^(\S.*?)\s+throws\s+(\S.*)$`)

func (s *sunAltitude) Parse(text string) error {
	m := shadowText.FindStringSubmatch(text)
	if m == nil {
		return (*unit.Degree)(s).Parse(text)
	}
	var height, shadow unit.Metre
	if err := height.Parse(m[1]); err != nil {
		return err
	}
	if err := shadow.Parse(m[2]); err != nil {
		return err
	}
	*s = sunAltitude(solve.ShadowAltitude(height, shadow))
	return nil
}

func (sunAltitude) Forms() string {
	return `an angle such as 4 deg, or a height and its shadow such as "1.7m throws 24m"`
}

// printReach prints what was asked about width, walk and height.
func (t *terminal) printReach(a *pipeline.QuickAnswer) {
	if a.Cover != nil {
		t.printCover(a.Cover)
	}
	if a.Walk != nil {
		t.printWalk(a.Walk, a.Ambient > 0)
	}
	if s := a.Sun; s != nil {
		t.line("  hang it  %s high: a sun at %.1f°, the point at %s", s.Height.WithFeet(), float64(s.Altitude), s.Point)
		t.line("           the light goes %s", s.Way.WithFeet())
	}
}

func (t *terminal) printCover(c *pipeline.CoverAnswer) {
	beam := fmt.Sprintf("%.1f°", float64(c.Beam))
	if c.Chosen {
		beam = "set to " + beam
	}
	if c.Half > 0 {
		beam += fmt.Sprintf(": %s wide at half intensity", c.Half.WithFeet())
	}
	t.line("  beam     %s", beam)
	edge := "no light at its edges"
	if c.Edge != nil {
		edge = fmt.Sprintf("its edges %.2f stops under the middle", float64(*c.Edge))
	}
	if c.Covers {
		edge += fmt.Sprintf(", within %.2f", float64(c.Within))
	}
	t.line("  cover    %s: %s", c.Width.WithFeet(), edge)
	if c.From != nil {
		t.line("           not within %.2f: this beam does from %s on", float64(c.Within), c.From.WithFeet())
	}
}

func (t *terminal) printWalk(w *pipeline.WalkAnswer, ambient bool) {
	t.line("  walk     %s, from %s to %s off", w.Length.WithFeet(), w.Near+w.Length, w.Near)
	if w.Swing == nil || w.SwingAlone == nil {
		t.line("           no light")
		return
	}
	swing := fmt.Sprintf("%.2f stops", float64(*w.Swing))
	if ambient {
		swing += fmt.Sprintf(", %.2f without the ambient", float64(*w.SwingAlone))
	}
	judged := "within"
	if !w.Keeps {
		judged = "not within"
	}
	t.line("  swing    %s: %s %.2f", swing, judged, float64(w.Most))
	t.line("  nearest  %s to its near end", w.Nearest.WithFeet())
	if ambient {
		t.line("           %s without the ambient", w.NearestAlone.WithFeet())
	}
}
