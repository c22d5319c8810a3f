package pipeline

import (
	"math"
	"strings"
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// When the sun is taken to get into a lens (common practice, no source): so near to the axis of a Fresnel head, and so high that
// it has strength; so near to the axis of the camera that it may flare.
const (
	intoLens  unit.Degree = 60
	strong    unit.Degree = 5
	intoFlare unit.Degree = 45
)

// cautions are the times at which the sun looks into a lens.
func (h *hours) cautions() (out []ClockTimes) {
	add := func(about, text string, least unit.Degree, look clock.Look) {
		look = clock.Both(clock.Over(least), look)
		if d := h.setup.Daylight; d != nil && d.Skyline != nil {
			look = clock.Both(clock.OverSkyline(d.Skyline), look)
		}
		times := []ClockSpan{}
		for _, s := range clock.SunWhen(h.From, h.At(h.Count-1), h.place, look) {
			times = append(times, ClockSpan{*stamp(s.From), *stamp(s.To)})
		}
		if len(times) > 0 {
			out = append(out, ClockTimes{h.setup.Name, about, text, times})
		}
	}
	for i := range h.setup.Lamps {
		u := &h.setup.Lamps[i]
		if u.Kit != nil && strings.Contains(strings.ToLower(u.Kit.Title), "fresnel") {
			axis := h.world(h.setup.Scene.Emitters[u.Emitter].Basis.Z)
			add(u.Name, "a clear sun can look into this lens and burn what lies behind it: when the head is off, cap it or turn it away. The gaffer decides",
				strong, clock.Near(clock.AxisOf(axis), intoLens))
		}
	}
	if v := h.setup.View; v != nil {
		axis := clock.AxisOf(h.world(v.Basis.Z))
		basis := geometry.Basis{X: h.world(v.Basis.X), Y: h.world(v.Basis.Y), Z: h.world(v.Basis.Z)}
		across, up := half(v.Width, v.Focal), half(v.Height, v.Focal)
		add("camera", "a clear sun stands in the picture: protect eyes and sensor. The camera crew decides", 0, clock.Inside(basis, across, up))
		add("camera", "a clear sun can flare the lens: hood or flag", 0, clock.Near(axis, intoFlare))
	}
	return out
}

// half is half the angle that a side of the sensor takes in.
func half(side, focal float64) unit.Degree {
	return unit.Degree(math.Atan(side/2/focal) * 180 / math.Pi)
}

// world turns a direction of the plan into one by compass.
func (h *hours) world(d geometry.Vector) geometry.Vector {
	sin, cos := math.Sincos(float64(h.north) * math.Pi / 180)
	return geometry.Vector{X: d.X*cos + d.Y*sin, Y: d.Y*cos - d.X*sin, Z: d.Z}
}

// sunIn are the times at which a clear sun can come in by the middle of each opening, past all that stands outside.
func (h *hours) sunIn() (out []ClockTimes) {
	rays := transport.NewSunrays(h.setup.Scene, h.layers)
	for _, o := range h.setup.Scene.Openings {
		outward := o.U.Cross(o.V).Unit().Neg()
		middle := scene.Receiver{Kind: scene.Flat, Position: o.Centre.AddMul(justOutside, outward), Normal: outward}
		look := func(s daylight.Sun) float64 {
			if share, _ := rays.Sunlit(&middle, h.toward(s).Vector()); share[0] > 0 {
				return 1
			}
			return -1
		}
		times := []ClockSpan{}
		for _, s := range clock.SunWhen(h.From, h.At(h.Count-1), h.place, look) {
			times = append(times, ClockSpan{*stamp(s.From), *stamp(s.To)})
		}
		out = append(out, ClockTimes{h.setup.Name, o.Name, "a clear sun can come in", times})
	}
	return out
}

// justOutside is how far before an opening the sun is looked for, m: before the pane, and behind all else.
const justOutside = 0.01

// ClockTime reads a time of a clock back, on a zone's clock.
func ClockTime(text *string, zone *time.Location) (t time.Time, ok bool) {
	if text == nil {
		return t, false
	}
	t, err := time.Parse(time.RFC3339, *text)
	return t.In(zone), err == nil
}
