package meter

import (
	"gloam/internal/exposure"
	"gloam/internal/scene"
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
	for _, s := range r.setup.Sources {
		if r.depth(&s) > 0 {
			f.Sources = append(f.Sources, s.Name)
		}
	}
	for i := range lights {
		ripple := r.ripple(&lights[i], c.ExposureTime())
		if lights[i].level > 0 && (f.Ripple == nil || ripple > *f.Ripple) {
			f.Ripple, f.Point = &ripple, r.setup.Points[i].Name
		}
	}
	f.Steady = f.Ripple == nil || *f.Ripple < seen
	return f
}

// depth is how far a source swings.
func (r *reader) depth(s *scene.Source) float64 {
	for _, u := range r.setup.Ripples {
		if u.Emitter == s.Emitters[0] {
			return float64(u.Depth)
		}
	}
	return 0
}

// ripple is the most that two frames of an exposure time differ in a light.
func (r *reader) ripple(l *light, t unit.Second) unit.Stop {
	if len(r.setup.Ripples) == 0 || exposure.SafeAtAnyAngle(r.setup.Camera.FPS, r.setup.Mains) {
		return 0
	}
	swing := 0.0
	for i := range r.setup.Sources {
		swing += r.depth(&r.setup.Sources[i]) * l.share(i)
	}
	return exposure.Ripple(unit.Fraction(swing), r.setup.Mains, t)
}
