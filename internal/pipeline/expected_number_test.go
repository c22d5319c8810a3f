package pipeline

import (
	"fmt"
	"math"
	"slices"

	"gloam/internal/meter"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// number is one reading and its standard error in stops.
type number struct{ value, stderr float64 }

// from takes the check's number from the results of a plan's set-ups.
func (c *check) from(results map[string]*Result) (number, error) {
	r := results[c.At.Setup]
	if r == nil {
		return number{}, fmt.Errorf("no set-up %q", c.At.Setup)
	}
	switch c.Read {
	case "swing":
		return r.swing(c.At.Walk, c.At.Source)
	case "ratio":
		return r.ratio(c.At.Person)
	case "tone":
		return r.tone(c.At.Tone)
	case "reserve", "needed":
		return r.lamp(c.At.Source, c.Read)
	case "take off":
		return r.stops(&r.Levels.ND, r.Levels.Exposure.Reference)
	case "over ambient":
		return r.overAmbient(c.At.Point)
	case "over key":
		if reading := r.reading(c.At.Point); reading != nil {
			return r.stops(reading.OverKey, c.At.Point)
		}
		return number{}, fmt.Errorf("no point %q", c.At.Point)
	case "stops":
		return c.stopsOver(results)
	}
	return c.At.level(results, c.Read)
}

// stopsOver takes the stops from another level to the check's.
func (c *check) stopsOver(results map[string]*Result) (number, error) {
	n, err := c.At.level(results, "level")
	if err != nil {
		return n, err
	}
	if c.Over == nil {
		return n, fmt.Errorf("stops over what?")
	}
	base := number{}
	if c.Over.Lux != nil {
		base.value = float64(*c.Over.Lux)
	} else if base, err = c.Over.level(results, "level"); err != nil {
		return n, err
	}
	return number{math.Log2(n.value / base.value), math.Hypot(n.stderr, base.stderr)}, nil
}

// level is the level at a point, of one source or of all; the direct part of it, or with the source at full dim, where
// so asked.
func (p *place) level(results map[string]*Result, read string) (number, error) {
	r := results[p.Setup]
	if r == nil {
		return number{}, fmt.Errorf("no set-up %q", p.Setup)
	}
	reading := r.reading(p.Point)
	if reading == nil {
		return number{}, fmt.Errorf("no point %q in %q", p.Point, p.Setup)
	}
	stderr := r.stderr(p.Point, p.Source)
	if p.Source == "" {
		return number{either(reading.Lux, reading.Luminance), stderr}, nil
	}
	for _, s := range reading.By {
		if s.Source != p.Source {
			continue
		}
		switch read {
		case "direct level":
			return number{either(s.Direct, s.DirectLuminance), stderr}, nil
		case "full level":
			return number{either(s.Lux, s.Luminance) / r.dim(p.Source), stderr}, nil
		}
		return number{either(s.Lux, s.Luminance), stderr}, nil
	}
	return number{}, fmt.Errorf("no source %q at %q", p.Source, p.Point)
}

func either(lux *unit.Lux, luminance *unit.Nit) float64 {
	if lux != nil {
		return float64(*lux)
	}
	return float64(*luminance)
}

func (r *Result) dim(lamp string) float64 {
	for _, l := range r.Levels.Lamps {
		if l.Name == lamp {
			return float64(l.Dim)
		}
	}
	return math.NaN()
}

// reading finds a point, or a place of a walk: `approach 5.00 m`.
func (r *Result) reading(name string) *meter.Reading {
	for i := range r.Levels.Points {
		if r.Levels.Points[i].Name == name {
			return &r.Levels.Points[i]
		}
	}
	for _, w := range r.Levels.Walks {
		for i := range w.Points {
			if w.Points[i].Name == name {
				return &w.Points[i].Reading
			}
		}
	}
	return nil
}

// stderr is the standard error in stops of what a source, or all together, gives a point. The strength of an ambient
// brings its own, which the trace of its reading left open.
func (r *Result) stderr(point, source string) float64 {
	for i, receiver := range r.Setup.Scene.Receivers {
		if receiver.Name != point {
			continue
		}
		p := &r.Layers.Points[i]
		level, stderr := p.Level(r.weights(func(s *scene.Source) bool { return source == "" || s.Name == source }))
		ambient, _ := p.Level(r.weights(func(s *scene.Source) bool { return s.Ambient && (source == "" || s.Name == source) }))
		if level > 0 {
			return math.Hypot(float64(transport.StopError(level, stderr)), float64(calibrationGoal)*ambient/level)
		}
	}
	return 0
}

// weights are those of the set-up's dials with only some sources lit.
func (r *Result) weights(lit func(*scene.Source) bool) []spectrum.Band {
	dials := slices.Clone(r.Setup.Dials)
	for i := range r.Setup.Sources {
		for _, e := range r.Setup.Sources[i].Emitters {
			if !lit(&r.Setup.Sources[i]) {
				dials[e].Level = 0
			}
		}
	}
	return r.Setup.Scene.Weights(dials)
}

func (r *Result) stops(s *unit.Stop, point string) (number, error) {
	if s == nil {
		return number{}, fmt.Errorf("%q is dark", point)
	}
	return number{float64(*s), r.stderr(point, "")}, nil
}

func (r *Result) overAmbient(point string) (number, error) {
	for _, target := range r.Levels.Targets {
		if target.Of == point && target.Over == "ambient" {
			return r.stops(target.Level, point)
		}
	}
	return number{}, fmt.Errorf("no target of %q over ambient", point)
}

// swing is that of a walk, with the error of two of its places.
func (r *Result) swing(walk, source string) (number, error) {
	for _, w := range r.Levels.Walks {
		if w.Name != walk {
			continue
		}
		swing := w.Swing
		for _, s := range w.By {
			if s.Source == source {
				swing = s.Swing
			}
		}
		n, err := r.stops(swing, w.Points[0].Name)
		n.stderr = 0
		for _, p := range w.Points {
			n.stderr = max(n.stderr, math.Sqrt2*r.stderr(p.Name, source))
		}
		return n, err
	}
	return number{}, fmt.Errorf("no walk %q", walk)
}

func (r *Result) ratio(person string) (number, error) {
	for _, ratio := range r.Levels.Ratios {
		if ratio.Name == person {
			n, err := r.stops(ratio.Stops, ratio.Shadow)
			n.stderr = math.Hypot(n.stderr, r.stderr(ratio.Key, ""))
			return n, err
		}
	}
	return number{}, fmt.Errorf("no person %q", person)
}

func (r *Result) tone(name string) (number, error) {
	for _, tone := range r.Levels.Tones {
		if tone.Name == name {
			return r.stops(tone.OverGrey, tone.In)
		}
	}
	return number{}, fmt.Errorf("no tone %q", name)
}

// lamp is a lamp's reserve, or the share of its output that is needed. What the total may be off by, the lamp makes up.
func (r *Result) lamp(name, read string) (number, error) {
	for _, lamp := range r.Levels.Lamps {
		at := r.reading(lamp.For)
		if lamp.Name != name || at == nil || lamp.Reserve == nil || lamp.Needed == nil {
			continue
		}
		n := number{*lamp.Needed, r.stderr(lamp.For, "")}
		if read == "reserve" {
			n.value = float64(*lamp.Reserve)
		}
		for _, s := range at.By {
			if s.Source == name {
				n.stderr /= s.Share
			}
		}
		return n, nil
	}
	return number{}, fmt.Errorf("lamp %q carries no target", name)
}
