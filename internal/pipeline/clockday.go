package pipeline

import (
	"context"
	"math"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// hours is a set-up made ready for its day: layers once, then what each source gives each receiver at each minute.
type hours struct {
	*heaven
	doc    *plan.Document
	setup  *scene.Setup
	layers *transport.Layers
	day    *clock.Day
	levels []daylight.Levels      // of the model's sun and sky by instant; nil without them
	skies  []*daylight.Luminances // of the model's sky by instant
	kind   daylight.Kind          // of the sky for the colour of daylight
	under  bool                   // kind is known

	constants []string // ambients that are taken as read all day
}

func newHours(ctx context.Context, view *plan.View, o Options) (*hours, error) {
	s := &Session{}
	setup, err := s.build(ctx, view, o)
	if err != nil {
		return nil, err
	}
	layers, err := transport.Trace(ctx, setup.Scene, s.request(setup, o))
	if err != nil {
		return nil, unfinished(err)
	}
	return hoursOf(ctx, view, setup, layers, o)
}

// hoursOf makes the day of a set-up that was traced.
func hoursOf(ctx context.Context, view *plan.View, setup *scene.Setup, layers *transport.Layers, o Options) (*hours, error) {
	heaven, err := newHeaven(&view.Document)
	if err != nil {
		return nil, err
	}
	h := &hours{heaven: heaven, doc: &view.Document, setup: setup, layers: layers}
	h.heavens()
	h.day = &clock.Day{Grid: h.Grid}
	weights := h.setup.Scene.Weights(h.setup.Dials)
	for i := range h.layers.Points {
		level, stderr := h.layers.Points[i].Level(weights)
		h.day.Sampling = append(h.day.Sampling, 1.96*transport.StopError(level, stderr))
	}
	for i := range h.setup.Sources {
		if err := h.addSource(&h.setup.Sources[i], weights); err != nil {
			return nil, err
		}
	}
	if h.setup.Daylight != nil {
		return h, h.addSun(ctx, o)
	}
	return h, nil
}

// heavens works out the model's sun and sky at every instant.
func (h *hours) heavens() {
	d := h.setup.Daylight
	if d == nil {
		return
	}
	h.kind, h.under = d.Kind, true
	for i, s := range h.suns {
		levels := d.Model.LevelsAt(h.At(i), h.kind)
		azimuth := unit.Bearing(math.Mod(float64(s.Azimuth-h.north)+360, 360))
		h.levels = append(h.levels, levels)
		h.skies = append(h.skies, daylight.LuminancesAt(s.Geometric, azimuth, levels.Diffuse, h.kind))
	}
}

// skyLight is the light of the whole sky with the sun at an altitude.
func (h *hours) skyLight(altitude float64) (spectrum.Curve, error) {
	c := daylight.SkyColour(unit.Degree(altitude), h.kind)
	return spectrum.White(c.Kelvin, c.Duv)
}

// addSource books what a source of the set-up gives each receiver.
func (h *hours) addSource(s *scene.Source, weights []spectrum.Band) error {
	d := h.setup.Daylight
	if d != nil && s.Emitters[0] == d.Sun {
		return nil // addSun's
	}
	out := clock.Source{Name: s.Name, Ambient: s.Ambient}
	lamp := h.lampOf(s)
	if lamp != nil && lamp.Level(lamp.Dim) > 0 {
		out.Most = lamp.Level(lamp.MaxDim) / lamp.Level(lamp.Dim)
	}
	var run *course
	if a, ok := h.doc.Ambient.Get(s.Name); ok {
		c, follows, err := h.ambientCourse(a)
		if err != nil {
			return err
		}
		if follows {
			run, out.Model = &c, true
		} else {
			h.constants = append(h.constants, s.Name)
		}
	}
	patches := d != nil && s.Emitters[0] == d.Sky[0]
	out.Model = out.Model || patches
	var lights [][]spectrum.Band
	var altitudes []float64
	if patches {
		var err error
		if altitudes, lights, err = h.skyWeights(s); err != nil {
			return err
		}
	}
	for r := range h.layers.Points {
		part := h.constant(s, r, weights)
		switch {
		case patches:
			part.Level = h.patchLevels(h.skies, altitudes, h.patchResponses(s, r, lights))
			part.Doubts = []clock.Doubt{{Cause: "the sky against the model", Stops: h.intervals(func(l *daylight.Levels) unit.Stop { return l.Interval.Diffuse })}}
		case run != nil:
			level := part.Level[0]
			part.Level = make(clock.Series, h.Count)
			for i := range part.Level {
				part.Level[i] = level * run.level[i]
			}
			part.Doubts = append(part.Doubts, clock.Doubt{Cause: "the day since " + s.Name + " was read", Stops: run.interval})
		}
		out.Parts = append(out.Parts, part)
	}
	h.day.Sources = append(h.day.Sources, out)
	return nil
}

// constant is what a source gives a receiver as planned, with its doubts and those of the cloths its light met.
func (h *hours) constant(s *scene.Source, receiver int, weights []spectrum.Band) clock.Part {
	p := &h.layers.Points[receiver]
	part := clock.Part{Level: clock.Series{0}}
	for _, d := range s.Doubts {
		part.Doubts = append(part.Doubts, clock.Doubt{Cause: d.Cause, Stops: clock.Series{float64(d.Stops)}})
	}
	met := make([]float64, len(h.setup.ClothKinds))
	for _, e := range s.Emitters {
		level, all := 0.0, 0.0
		for _, c := range h.setup.Scene.ColumnsOf(e) {
			level += p.Response[c].Dot(weights[c])
			for _, x := range p.Response[c] {
				all += x / spectrum.Bands
			}
		}
		part.Level[0] += level
		for c := range met {
			if all > 0 {
				met[c] += level * math.Min(1, p.Via[e][c]/all)
			}
		}
	}
	for c, kind := range h.setup.ClothKinds {
		if met[c] > 0 {
			stops := met[c] / part.Level[0] * float64(h.setup.ClothDoubts[c])
			part.Doubts = append(part.Doubts, clock.Doubt{Cause: "cloth " + kind, Stops: clock.Series{stops}})
		}
	}
	return part
}

func (h *hours) lampOf(s *scene.Source) *scene.LampUse {
	for i := range h.setup.Lamps {
		if h.setup.Lamps[i].Emitter == s.Emitters[0] {
			return &h.setup.Lamps[i]
		}
	}
	return nil
}

// ambientCourse is how a reading runs on through the day, where its clock and the state of its sky are known.
func (h *hours) ambientCourse(a *plan.Ambient) (c course, follows bool, err error) {
	kind, known := kindOf(a)
	if a.Clock == nil || !known {
		return c, false, nil
	}
	read, err := daylight.Instants(*h.doc.Date, *a.Clock, h.From.Location())
	if err != nil {
		return c, false, err
	}
	h.kind, h.under = kind, true
	c, err = h.since(read[0], kind, a.Shape == "sun")
	return c, err == nil, err
}

// skyWeights returns the weights of the sky at a luminance of 1 in the light of some altitudes, which ascend.
func (h *hours) skyWeights(s *scene.Source) (altitudes []float64, weights [][]spectrum.Band, err error) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, sun := range h.suns {
		low, high = min(low, float64(sun.Geometric)), max(high, float64(sun.Geometric))
	}
	dials := append([]scene.Dial(nil), h.setup.Dials...)
	for k := range skyLights {
		at := low + (high-low)*float64(k)/(skyLights-1)
		light, err := h.skyLight(at)
		if err != nil {
			return nil, nil, err
		}
		for _, e := range s.Emitters {
			dials[e].Level, dials[e].Light = 1, light
		}
		altitudes, weights = append(altitudes, at), append(weights, h.setup.Scene.Weights(dials))
	}
	return altitudes, weights, nil
}

// patchResponses returns what a receiver gets of each patch at 1 cd/m², under each of some weights.
func (h *hours) patchResponses(s *scene.Source, receiver int, weights [][]spectrum.Band) [][daylight.PatchCount]float64 {
	out := make([][daylight.PatchCount]float64, len(weights))
	p := &h.layers.Points[receiver]
	for n, w := range weights {
		for k, e := range s.Emitters {
			for _, c := range h.setup.Scene.ColumnsOf(e) {
				out[n][k] += p.Response[c].Dot(w[c])
			}
		}
	}
	return out
}

// intervals returns a half-width of the model by instant.
func (h *hours) intervals(of func(*daylight.Levels) unit.Stop) clock.Series {
	out := make(clock.Series, h.Count)
	for i := range h.levels {
		out[i] = float64(of(&h.levels[i]))
	}
	return out
}
