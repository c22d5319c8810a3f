package pipeline

import (
	"context"
	"math"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// heaven is the daylight of a place through a day: where the sun stands and what the model gives at each minute.
type heaven struct {
	clock.Grid
	place unit.Position
	at    time.Time // of the set-up
	north unit.Bearing
	suns  []daylight.Sun
}

func newHeaven(d *plan.Document) (*heaven, error) {
	zone, err := plan.Zone(d.Zone)
	if err != nil {
		return nil, err
	}
	events, err := daylight.DayEvents(*d.Date, *d.Place, zone)
	if err != nil {
		return nil, err
	}
	times, err := daylight.Instants(*d.Date, *d.Time, zone)
	if err != nil {
		return nil, err
	}
	h := &heaven{place: *d.Place, at: times[0], north: d.Set.North,
		Grid: clock.Grid{From: events.From, Step: time.Minute, Count: int(events.To.Sub(events.From)/time.Minute) + 1}}
	for i := range h.Count {
		h.suns = append(h.suns, daylight.SunAt(h.At(i), h.place))
	}
	return h, nil
}

// toward returns the direction of a sun in the plan's coordinates.
func (h *heaven) toward(s daylight.Sun) clock.Axis {
	return clock.Axis{Azimuth: s.Azimuth - h.north, Altitude: s.Altitude}
}

// model is the daylight in the open by the model.
func (h *heaven) model(t time.Time, k daylight.Kind) daylight.Levels {
	s := daylight.SunAt(t, h.place)
	return daylight.LevelsAt(s.Geometric, s.YearDay, k)
}

// course is light by instant, as many times what was read, and the half-width that leaves in stops.
type course struct{ level, interval clock.Series }

// since returns how a reading taken at an instant runs on through the day: as many times the reading as the model's light is
// then of what it was, and what the model leaves open about that.
func (h *heaven) since(read time.Time, k daylight.Kind, sun bool) (course, error) {
	part := daylight.Diffuse
	if sun {
		part = daylight.Direct
	}
	then := h.model(read, k)
	of := func(l *daylight.Levels) (unit.Lux, unit.Stop) {
		if sun {
			return l.Direct, l.Interval.Direct
		}
		return l.Diffuse, l.Interval.Diffuse
	}
	was, _ := of(&then)
	day, err := daylight.Learn(h.model, []daylight.Reading{{At: read, Kind: k, Part: part, Lux: was}})
	if err != nil {
		return course{}, err
	}
	c := course{make(clock.Series, h.Count), make(clock.Series, h.Count)}
	for i := range h.Count {
		now := h.model(h.At(i), k)
		learnt := day.LevelsAt(h.At(i), k)
		level, _ := of(&now)
		_, open := of(&learnt)
		c.level[i], c.interval[i] = float64(level/was), float64(open)
	}
	return c, nil
}

// kindOf is the state of the sky that an ambient was read under: what stands before a comma in its words, or without words what
// its shape implies.
func kindOf(a *plan.Ambient) (k daylight.Kind, ok bool) {
	text, _, _ := strings.Cut(a.Sky, ",")
	switch {
	case text != "":
		return k, k.Parse(text) == nil
	case a.Shape == "overcast":
		return daylight.Overcast, true
	}
	return daylight.Clear, a.Shape == "sun"
}

// layersApart is the angle between two layers of the sun; half of that is the farthest it is interpolated over.
const layersApart unit.Degree = 2.5

// sunNodes returns the instants at which the sun is given a layer: no more than layersApart from one to the next, while it is up.
func (h *heaven) sunNodes() (nodes []int) {
	for i, s := range h.suns {
		if s.Altitude <= 0 {
			continue
		}
		rests := i+1 == h.Count || h.suns[i+1].Altitude <= 0
		if len(nodes) == 0 || rests || h.suns[nodes[len(nodes)-1]].Apart(h.suns[i+1]) > layersApart {
			nodes = append(nodes, i)
		}
	}
	return nodes
}

// sunLayers traces the sun's reflected light at its nodes: by node and receiver, the response by column of one emitter.
func (h *heaven) sunLayers(ctx context.Context, s *scene.Scene, nodes []int, o Options) (*scene.Scene, *transport.Layers, error) {
	alone := *s
	alone.Emitters = nil
	dials := make([]scene.Dial, len(nodes))
	light, err := spectrum.Sky(5500)
	if err != nil {
		return nil, nil, err
	}
	for k, i := range nodes {
		alone.Emitters = append(alone.Emitters, scene.Emitter{Name: "sun " + h.At(i).Format("15:04"), Source: plan.SunName, Kind: scene.Sun,
			Toward: h.toward(h.suns[i]).Vector()})
		dials[k] = scene.Dial{Level: 1, Light: light, Gel: scene.Clear}
	}
	layers, err := transport.Trace(ctx, &alone, transport.Request{Seed: o.Seed, Goal: sunGoal, MostPaths: min(o.MostPaths, sunPaths),
		Weights: alone.Weights(dials)})
	return &alone, layers, err
}

// What the layers of the sun are traced to, all together: the gaps between them leave more open.
const (
	sunGoal  unit.Stop = 0.05
	sunPaths           = 1 << 13
)

// skyLights is how many colours of a sky a day is worked out for; between them all runs straight.
const skyLights = 8

// patchLevels returns what a sky through its patches gives a receiver at each instant: response is by patch, for each of some
// lights of the sky at as many altitudes, ascending.
func (h *heaven) patchLevels(skies []*daylight.Luminances, altitudes []float64, responses [][daylight.PatchCount]float64) clock.Series {
	out := make(clock.Series, h.Count)
	for i, sky := range skies {
		k, share := bracket(altitudes, float64(h.suns[i].Geometric))
		out[i] = sky.Through(&responses[k])
		if share > 0 {
			out[i] += share * (sky.Through(&responses[k+1]) - out[i])
		}
	}
	return out
}

// bracket finds x between two of ascending values.
func bracket(values []float64, x float64) (k int, share float64) {
	if x <= values[0] {
		return 0, 0
	}
	for k = 0; k+2 < len(values) && values[k+1] < x; k++ {
	}
	return k, math.Min(1, (x-values[k])/(values[k+1]-values[k]))
}
