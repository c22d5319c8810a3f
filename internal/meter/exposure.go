package meter

import (
	"gloam/internal/exposure"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// Exposure is what the camera must take off (below 0: lacks) to put the reference point where it is wanted, without
// regard to the filter already in it, and the ways to split that over filter, iris, exposure index and shutter. The
// reference is the point the plan names, or the first target over key, or the first point, wanted at the key.
type Exposure struct {
	Reference string           `json:"reference"`
	Wanted    unit.Stop        `json:"wanted_stops"`
	Needed    unit.Stop        `json:"nd_stops"`
	Choices   []ExposureChoice `json:"choices"`
}

// ExposureChoice is one filter and what then is left, which iris, exposure index or shutter would each take alone. A
// shutter of 0 s is one longer than the frame, or one at which the light would flicker.
type ExposureChoice struct {
	ND      unit.Density `json:"nd_density"`
	Rest    unit.Stop    `json:"rest_stops"`
	Stop    unit.TStop   `json:"t_stop"`
	EI      unit.EI      `json:"ei"`
	Shutter unit.Second  `json:"shutter_s"`
}

func (r *reader) exposure(lights []light) Exposure {
	out := Exposure{Choices: []ExposureChoice{}}
	reference := r.reference()
	if reference < 0 || lights[reference].level <= 0 {
		return out
	}
	out.Reference = r.setup.Points[reference].Name
	for _, t := range r.setup.Targets {
		if t.Point == reference && t.IsLevel() && t.Over == scene.OverKey {
			out.Wanted = t.Wanted
			break
		}
	}
	camera := r.setup.Camera
	level := unit.Lux(lights[reference].level / out.Wanted.Factor())
	out.Needed = camera.NDNeeded(level)
	for _, s := range camera.NDSplits(level) {
		choice := ExposureChoice{ND: s.ND, Rest: s.Rest, Stop: s.Stop, EI: s.EI}
		if s.Shutter != (unit.Shutter{}) {
			with := exposure.Camera{FPS: camera.FPS, Shutter: s.Shutter}
			if t := with.ExposureTime(); r.ripple(&lights[reference], t) < seen {
				choice.Shutter = t
			}
		}
		out.Choices = append(out.Choices, choice)
	}
	return out
}

// reference is the point the exposure is made for; spots do not count. -1: there is none.
func (r *reader) reference() int {
	incident := func(i int) bool {
		return r.setup.Scene.Receivers[r.setup.Points[i].Receiver].Kind != scene.Spot
	}
	if r.setup.Expose >= 0 && incident(r.setup.Expose) {
		return r.setup.Expose
	}
	for _, t := range r.setup.Targets {
		if t.IsLevel() && t.Over == scene.OverKey && incident(t.Point) {
			return t.Point
		}
	}
	for i := range r.setup.Points {
		if incident(i) {
			return i
		}
	}
	return -1
}
