package meter

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/exposure"
	"gloam/internal/gear"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// Explanation opens a point's number: each step's formula, what went into it, what came out and where the formula is
// from; then what each doubt adds to the interval.
type Explanation struct {
	Point  string  `json:"point"`
	Steps  []Step  `json:"steps"`
	Doubts []Cause `json:"doubts"`
}

// Step is one formula at work.
type Step struct {
	What    string   `json:"what"`
	Formula string   `json:"formula"`
	Inputs  []string `json:"inputs"`
	Result  string   `json:"result"`
	Source  string   `json:"source"`
}

// Cause is one doubt's part of an interval, in stops; the interval is the root of the sum of their squares.
type Cause struct {
	Cause string    `json:"cause"`
	Stops unit.Stop `json:"stops"`
}

// Explain opens the number of a point by name; ok is false when the set-up has no such point.
func Explain(s *scene.Setup, l *transport.Layers, name string) (e Explanation, ok bool) {
	r := newReader(s, l)
	for _, p := range s.Points {
		if p.Name == name {
			return r.explain(name, &p), true
		}
	}
	for _, w := range s.Walks {
		for _, receiver := range w.Receivers {
			if s.Scene.Receivers[receiver].Name == name {
				return r.explain(name, &scene.PointUse{Name: name, Receiver: receiver}), true
			}
		}
	}
	return e, false
}

func (r *reader) explain(name string, p *scene.PointUse) Explanation {
	l := r.at(p.Receiver)
	e := Explanation{Point: name, Steps: []Step{r.sumStep(p.Receiver, &l)}}
	for i := range r.setup.Sources {
		if l.source[i].level > 0 {
			e.Steps = append(e.Steps, r.sourceStep(p, i, &l))
		}
	}
	e.Steps = append(e.Steps, r.keyStep(), r.overStep(p.Receiver, &l))
	for _, c := range l.doubts.causes() {
		e.Doubts = append(e.Doubts, Cause{c, unit.Stop(l.doubts[c])})
	}
	e.Doubts = append(e.Doubts, Cause{"the meter that checks it", gear.MeterDoubt},
		Cause{fmt.Sprintf("sampling, %d paths", r.layers.Points[p.Receiver].Paths), l.sampling()},
		Cause{"together", l.interval()})
	return e
}

// show prints a level in the receptor's unit.
func (r *reader) show(receiver int, level float64) string {
	if r.setup.Scene.Receivers[receiver].Kind == scene.Spot {
		return unit.Nit(level).String()
	}
	return unit.Lux(level).WithFootCandles()
}

func (r *reader) sumStep(receiver int, l *light) Step {
	s := Step{What: "level", Formula: "sum of what each source gives", Result: r.show(receiver, l.level),
		Source: "light adds up"}
	for i, source := range r.setup.Sources {
		s.Inputs = append(s.Inputs, fmt.Sprintf("%s %s, %.0f %%", source.Name, r.show(receiver, l.source[i].level), 100*l.share(i)))
	}
	return s
}

// sourceStep says how one source gets there: a lamp by its intensity and the inverse square for what comes straight,
// path tracing for the rest; an ambient by its reading.
func (r *reader) sourceStep(p *scene.PointUse, i int, l *light) Step {
	source := &r.setup.Sources[i]
	part := l.source[i]
	s := Step{What: source.Name, Result: r.show(p.Receiver, part.level), Source: "path tracing, Veach 1997"}
	for _, a := range r.setup.Ambients {
		if source.Emitters[0] == a.Emitter {
			s.Formula = "strength × layer here; strength = reading ÷ layer where it was read, gels aside"
			s.Inputs = append(s.Inputs, "reading "+a.Reading.WithFootCandles())
			if a.Seen != nil && r.setup.Scene.Receivers[p.Receiver].Kind == scene.Spot {
				s.Inputs = append(s.Inputs, "seen in its openings: "+a.Seen.String()+" bare, as read")
			}
			return s
		}
	}
	if d := r.setup.Daylight; d != nil && (source.Emitters[0] == d.Sun || source.Emitters[0] == d.Sky[0]) {
		r.daylightStep(&s, d, source.Emitters[0] == d.Sun)
		return s
	}
	s.Formula = "straight: I(θ)·level·cos α ÷ d², less what it passes; the rest by paths over cloth and surfaces"
	for u := range r.setup.Lamps {
		if r.setup.Lamps[u].Emitter == source.Emitters[0] {
			s.Inputs = append(r.lampInputs(&r.setup.Lamps[u], p.Receiver),
				"straight "+r.show(p.Receiver, part.direct), "over cloth and surfaces "+r.show(p.Receiver, part.level-part.direct))
			s.Inputs = append(s.Inputs, r.overCloths(p.Receiver, source.Emitters[0], part.level)...)
		}
	}
	return s
}

// daylightStep says what the model's sun or sky is at the hour.
func (r *reader) daylightStep(s *Step, d *scene.Daylight, sun bool) {
	levels := d.Model.LevelsAt(d.At, d.Kind)
	s.Inputs = []string{d.Kind.String() + " at " + d.At.Format("15:04 -07:00")}
	if sun {
		s.Formula = "the model's sun × layer here"
		s.Inputs = append(s.Inputs, "square-on "+levels.Direct.WithFootCandles()+" "+levels.Interval.Direct.Interval())
		return
	}
	s.Formula = "sum over 145 patches: the model's luminance × layer here"
	s.Inputs = append(s.Inputs, "on open level ground "+levels.Diffuse.WithFootCandles()+" "+levels.Interval.Diffuse.Interval())
}

// overCloths lists how much of a lamp's light met each cloth on its way; light that met two is in both.
func (r *reader) overCloths(receiver, emitter int, level float64) (lines []string) {
	p := &r.layers.Points[receiver]
	all := meanResponse(r.setup.Scene, p, emitter)
	for c, name := range r.setup.Scene.Cloths {
		if met := p.Via[emitter][c] / all; met > 0.005 {
			lines = append(lines, fmt.Sprintf("  of it by %s %s", name, r.show(receiver, level*met)))
		}
	}
	return lines
}

// lampInputs lists distance, angle and intensity from a lamp to a receiver.
func (r *reader) lampInputs(u *scene.LampUse, receiver int) []string {
	e := &r.setup.Scene.Emitters[u.Emitter]
	at := &r.setup.Scene.Receivers[receiver]
	way := at.Position.Sub(e.Centre)
	d := way.Length()
	inputs := []string{fmt.Sprintf("d %.2f m", d), "dim " + u.Dim.String(), fmt.Sprintf("output at this colour %.2f", u.Output)}
	if at.Kind != scene.Spot {
		incidence := math.Acos(math.Max(-1, math.Min(1, -way.Unit().Dot(at.Normal))))
		inputs = append(inputs, fmt.Sprintf("α %.0f°", incidence*180/math.Pi))
	}
	if e.Beam != nil {
		theta := math.Acos(math.Max(-1, math.Min(1, way.Unit().Dot(e.Basis.Z))))
		intensity := unit.Candela(e.Beam.At(e.Basis.In(way.Unit())))
		inputs = append(inputs, fmt.Sprintf("θ %.1f°", theta*180/math.Pi), "I(θ) "+intensity.String()+" at full")
	}
	if e.Offset > 0 {
		inputs = append(inputs, fmt.Sprintf("source seems %.2f m behind the front", e.Offset))
	}
	return inputs
}

func (r *reader) keyStep() Step {
	c := r.setup.Camera
	constant := c.Constant
	if constant == 0 {
		constant = exposure.UsualConstant
	}
	return Step{
		What: "key", Formula: "C·T²·2^ND ÷ (EI·t)", Result: c.Key().WithFootCandles(), Source: "ISO 2720",
		Inputs: []string{"C " + constant.String(), fmt.Sprintf("T %.3f", float64(c.Stop)), fmt.Sprintf("ND %.2f stops", float64(c.ND)),
			c.EI.String(), fmt.Sprintf("t 1/%.1f s", 1/float64(c.ExposureTime()))},
	}
}

func (r *reader) overStep(receiver int, l *light) Step {
	s := Step{What: "over key", Formula: "log2(level ÷ key)", Source: "definition"}
	if r.setup.Scene.Receivers[receiver].Kind == scene.Spot {
		s.Formula = "log2(π·L ÷ (0.18·key))"
	}
	s.Result = "dark"
	if over := r.over(receiver, l); over != nil {
		s.Result = strings.Replace(fmt.Sprintf("%+.2f stops", float64(*over)), "-", "−", 1)
	}
	return s
}
