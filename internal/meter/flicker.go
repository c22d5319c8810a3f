package meter

import (
	"math"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Flicker is what the mains does to the picture: light with a ripple swings twice a cycle, and an exposure that does not hold
// whole swings records frames that differ. A frame is taken to hold all sources in step, which is the worst.
type Flicker struct {
	Mains   unit.Hertz    `json:"mains_hz"`
	Sources []string      `json:"sources"`
	Ripple  *unit.Stop    `json:"ripple_stops"` // the most that two frames differ; null where no point is lit
	Point   string        `json:"point"`        // where they do
	Beat    unit.Hertz    `json:"beat_hz"`      // how often a second the picture pulses
	Steady  bool          `json:"steady"`       // by less than is seen
	Angles  []unit.Degree `json:"steady_angles_deg"`
	Times   []unit.Second `json:"steady_times_s"`
	AnyWay  bool          `json:"steady_at_any_angle"`
}

// seen is the least difference between frames that shows on an even wall (common practice, no source).
const seen unit.Stop = 0.02

// flicker is nil where no source has a ripple.
func (r *reader) flicker(lights []light) *Flicker {
	if len(r.setup.Ripples) == 0 || r.setup.Mains == 0 {
		return nil
	}
	c := r.setup.Camera
	f := &Flicker{Mains: r.setup.Mains, Sources: []string{}, Beat: exposure.Beat(c.FPS, r.setup.Mains),
		Angles: exposure.SafeAngles(c.FPS, r.setup.Mains), Times: exposure.SafeTimes(c.FPS, r.setup.Mains),
		AnyWay: exposure.SafeAtAnyAngle(c.FPS, r.setup.Mains)}
	depth := make([]float64, len(r.setup.Sources))
	for i, s := range r.setup.Sources {
		for _, u := range r.setup.Ripples {
			if u.Emitter == s.Emitters[0] {
				depth[i] = float64(u.Depth)
				f.Sources = append(f.Sources, s.Name)
			}
		}
	}
	for i := range lights {
		swing := 0.0
		for k, d := range depth {
			swing += d * lights[i].share(k)
		}
		ripple := exposure.Ripple(unit.Fraction(swing), f.Mains, c.ExposureTime())
		if f.AnyWay {
			ripple = 0
		}
		if lights[i].level > 0 && (f.Ripple == nil || ripple > *f.Ripple) {
			f.Ripple, f.Point = &ripple, r.setup.Points[i].Name
		}
	}
	f.Steady = f.Ripple == nil || math.Abs(float64(*f.Ripple)) < float64(seen)
	return f
}
