package meter

import (
	"math"
	"strings"

	"gloam/internal/scene"
	"gloam/internal/unit"
)

// Target is a wish and how it stands. Level is what the set-up gives, in the same stops as Wanted; of a wanted colour both
// are nothing, and Colour holds them. Outcome is `met` when all of the interval lies inside the tolerance, or beyond on the
// side that the bound leaves free, `missed` when none of it does, `maybe` between, `dark` without light.
type Target struct {
	Of        string        `json:"of"`
	Over      string        `json:"over"`
	Bound     scene.Bound   `json:"bound"`
	Wanted    unit.Stop     `json:"wanted_stops"`
	Tolerance unit.Stop     `json:"tolerance_stops"`
	Level     *unit.Stop    `json:"level_stops"`
	Interval  unit.Stop     `json:"interval_stops"`
	Colour    *ColourTarget `json:"colour,omitempty"`
	Outcome   string        `json:"outcome"`
}

// ColourTarget is a wanted distance from the balance in colour. The interval is what the sources' levels leave open in their
// mixture; the colour of each is taken as stated.
type ColourTarget struct {
	Wanted   unit.Mired  `json:"wanted_mired"`
	Within   unit.Mired  `json:"tolerance_mired"`
	Level    *unit.Mired `json:"level_mired"`
	Interval unit.Mired  `json:"interval_mired"`
}

func (r *reader) targets(lights []light, walks []Walk) (out []Target) {
	for i := range r.setup.Targets {
		t := &r.setup.Targets[i]
		switch {
		case t.Walk >= 0:
			w := &walks[t.Walk]
			out = append(out, judgeSwing(w.Name, w.Swing, w.Interval, t.Wanted))
		case len(t.Across) > 0:
			out = append(out, r.evenness(t, lights))
		case t.Colour != nil:
			out = append(out, r.tinge(t, &lights[t.Point]))
		default:
			out = append(out, r.levelTarget(t, lights))
		}
	}
	return out
}

func (r *reader) levelTarget(t *scene.TargetUse, lights []light) Target {
	l := &lights[t.Point]
	target := Target{Of: r.setup.Points[t.Point].Name, Bound: t.Bound, Wanted: t.Wanted, Tolerance: t.Tolerance}
	switch t.Over {
	case scene.OverKey:
		target.Over, target.Level, target.Interval = "key", r.over(r.setup.Points[t.Point].Receiver, l), l.interval()
	case scene.OverAmbient:
		alone := r.ambient(l)
		target.Over, target.Level, target.Interval = "ambient", stopsBetween(l.level, alone.level), intervalBetween(l, &alone)
	default:
		other := &lights[t.Over]
		target.Over, target.Level = r.setup.Points[t.Over].Name, stopsBetween(l.level, other.level)
		target.Interval = intervalBetween(l, other)
	}
	target.judge()
	return target
}

// judge holds a level against what is wanted.
func (t *Target) judge() {
	if t.Level == nil {
		t.Outcome = "dark"
		return
	}
	off := float64(*t.Level - t.Wanted)
	switch t.Bound {
	case scene.AtLeast:
		off = -off
	case scene.At:
		off = math.Abs(off)
	}
	t.Outcome = judge(off, float64(t.Interval), float64(t.Tolerance))
}

// judge says whether what is off by so much lies inside the tolerance with all of its doubt.
func judge(off, doubt, tolerance float64) string {
	switch {
	case off+doubt <= tolerance:
		return "met"
	case off-doubt <= tolerance:
		return "maybe"
	}
	return "missed"
}

// What the brightest place of a walk, or of some points, is measured over.
const (
	DarkestPlace = "its darkest place"
	DarkestPoint = "the darkest of them"
)

// judgeSwing holds how far places differ against the most they may.
func judgeSwing(of string, level *unit.Stop, interval, most unit.Stop) Target {
	t := Target{Of: of, Over: DarkestPlace, Bound: scene.AtMost, Wanted: most, Level: level, Interval: interval, Outcome: "dark"}
	if level != nil {
		t.Outcome = judge(float64(*level-most), float64(interval), 0)
	}
	return t
}

// evenness is how far the points of a target differ.
func (r *reader) evenness(t *scene.TargetUse, lights []light) Target {
	names := make([]string, len(t.Across))
	for i, point := range t.Across {
		names[i] = r.setup.Points[point].Name
	}
	of := strings.Join(names, ", ")
	dark, bright, lit := r.ends(t, lights)
	if !lit {
		return Target{Of: of, Over: DarkestPoint, Bound: scene.AtMost, Wanted: t.Wanted, Outcome: "dark"}
	}
	level := *r.over(r.setup.Points[bright].Receiver, &lights[bright]) - *r.over(r.setup.Points[dark].Receiver, &lights[dark])
	target := judgeSwing(of, &level, intervalBetween(&lights[bright], &lights[dark]), t.Wanted)
	target.Over = DarkestPoint
	return target
}

// ends finds the darkest and the brightest of the points of a target; lit is false where one has no light.
func (r *reader) ends(t *scene.TargetUse, lights []light) (dark, bright int, lit bool) {
	dark, bright = t.Across[0], t.Across[0]
	var least, most unit.Stop
	for i, point := range t.Across {
		over := r.over(r.setup.Points[point].Receiver, &lights[point])
		if over == nil {
			return 0, 0, false
		}
		if i == 0 || *over < least {
			least, dark = *over, point
		}
		if i == 0 || *over > most {
			most, bright = *over, point
		}
	}
	return dark, bright, true
}

// tinge is how far the light at a point lies from the balance in colour.
func (r *reader) tinge(t *scene.TargetUse, l *light) Target {
	c := &ColourTarget{Wanted: t.Colour.Wanted, Within: t.Colour.Within, Level: r.white(l.xyz).Mired}
	target := Target{Of: r.setup.Points[t.Point].Name, Over: "balance", Bound: scene.At, Colour: c, Outcome: "dark"}
	if c.Level == nil {
		return target
	}
	sum := 0.0
	for i := range r.setup.Sources {
		doubts := sensitivity{}
		for _, d := range r.setup.Sources[i].Doubts {
			doubts[d.Cause] += float64(d.Stops)
		}
		off := float64(r.mixed(l, i, rootSum(doubts))-r.mixed(l, i, -rootSum(doubts))) / 2
		sum += off * off
	}
	c.Interval = unit.Mired(math.Sqrt(sum))
	target.Outcome = judge(math.Abs(float64(*c.Level-c.Wanted)), float64(c.Interval), float64(c.Within))
	return target
}

// mixed is the light's distance from the balance with one source stronger by so much.
func (r *reader) mixed(l *light, source int, by unit.Stop) unit.Mired {
	xyz := l.xyz.Add(l.source[source].xyz.Scale(by.Factor() - 1))
	if m := r.white(xyz).Mired; m != nil {
		return *m
	}
	return *r.white(l.xyz).Mired
}

// Miss returns by how many stops a level lies outside its tolerance, doubt aside; of a colour and in the dark it is 0.
func (t *Target) Miss() unit.Stop {
	if t.Level == nil {
		return 0
	}
	off := *t.Level - t.Wanted
	switch {
	case t.Bound == scene.AtLeast:
		off = -off
	case t.Bound == scene.At && off < 0:
		off = -off
	}
	return max(off-t.Tolerance, 0)
}
