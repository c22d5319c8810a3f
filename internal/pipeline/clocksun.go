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

// addSun adds the model's sun: straight by a ray at each minute, reflected between its layers, whose distance goes into the
// interval.
func (h *hours) addSun(ctx context.Context, o Options) error {
	direct := make(clock.Series, h.Count)
	for i := range h.levels {
		direct[i] = float64(h.levels[i].Direct)
	}
	interval := h.intervals(func(l *daylight.Levels) unit.Stop { return l.Interval.Direct })
	nodes := h.sunNodes()
	if peak(direct) == 0 || len(nodes) < 2 {
		return nil
	}
	suns, layers, err := h.sunLayers(ctx, h.setup.Scene, nodes, o)
	if err != nil {
		return unfinished(err)
	}
	lit := sunlight{hours: h, nodes: nodes, scene: suns, layers: layers, rays: transport.NewSunrays(h.setup.Scene, h.layers)}
	if err := lit.weigh(); err != nil {
		return err
	}
	out := clock.Source{Name: plan.SunName, Ambient: true, Model: true}
	for r := range h.layers.Points {
		level, gap := lit.at(r, direct)
		out.Parts = append(out.Parts, clock.Part{Level: level, Doubts: []clock.Doubt{
			{Cause: "the sun against the model", Stops: interval}, {Cause: "the sun between its layers", Stops: gap}}})
	}
	h.day.Sources = append(h.day.Sources, out)
	return nil
}

func peak(s clock.Series) (most float64) {
	for _, x := range s {
		most = max(most, x)
	}
	return most
}

// sunlight is the sun's layers through a day.
type sunlight struct {
	*hours
	nodes   []int
	scene   *scene.Scene
	layers  *transport.Layers
	rays    *transport.Sunrays
	weights [][]spectrum.Band // by node: a sun of 1 lx in the light it has there, by opening from none on
}

func (s *sunlight) weigh() error {
	dials := make([]scene.Dial, len(s.nodes))
	for k, i := range s.nodes {
		c := daylight.SunColour(s.suns[i].Geometric, s.kind)
		light, err := spectrum.White(c.Kelvin, c.Duv)
		if err != nil {
			return err
		}
		dials[k] = scene.Dial{Level: 1, Light: light, Gel: scene.Clear}
	}
	all := s.scene.Weights(dials)
	for k := range s.nodes {
		var w []spectrum.Band
		for _, c := range s.scene.ColumnsOf(k) {
			w = append(w, all[c])
		}
		s.weights = append(s.weights, w)
	}
	return nil
}

// at returns what the sun gives a receiver by instant, and how many stops of it the way between two layers leaves open: the
// truth is taken to lie between the two.
func (s *sunlight) at(receiver int, direct clock.Series) (level, gap clock.Series) {
	level, gap = make(clock.Series, s.Count), make(clock.Series, s.Count)
	p := &s.layers.Points[receiver]
	back := make([]float64, len(s.nodes)) // reflected, for 1 lx
	for k := range s.nodes {
		for o, c := range s.scene.ColumnsOf(k) {
			back[k] += p.Response[c].Dot(s.weights[k][o]) - p.Direct[c].Dot(s.weights[k][o])
		}
		back[k] = max(0, back[k])
	}
	k := 0
	for i := s.nodes[0]; i <= s.nodes[len(s.nodes)-1]; i++ {
		for k+2 < len(s.nodes) && s.nodes[k+1] < i {
			k++
		}
		u := float64(i-s.nodes[k]) / float64(s.nodes[k+1]-s.nodes[k])
		reflected := back[k] + u*(back[k+1]-back[k])
		straight, opening := s.rays.Sunlit(&s.setup.Scene.Receivers[receiver], s.toward(s.suns[i]).Vector())
		one := reflected + straight.Dot(s.weights[k][opening+1])
		level[i] = direct[i] * one
		if one > 0 {
			gap[i] = math.Log2(1 + 2*u*(1-u)*math.Abs(back[k+1]-back[k])/one)
		}
	}
	return level, gap
}
