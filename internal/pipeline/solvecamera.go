package pipeline

import (
	"fmt"
	"math"

	"gloam/internal/document"
	"gloam/internal/exposure"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// CameraWay is a setting of the camera and what comes with it. Near and Far are where things look sharp; a null is far off,
// or a camera without a place.
type CameraWay struct {
	ND       unit.Density `json:"nd"`
	Stop     unit.TStop   `json:"stop"`
	EI       unit.EI      `json:"ei"`
	Shutter  unit.Shutter `json:"shutter"`
	Off      unit.Stop    `json:"off_stops"` // how far the level then lies over what is wanted
	Near     *unit.Metre  `json:"sharp_from_m"`
	Far      *unit.Metre  `json:"sharp_to_m"`
	Infrared bool         `json:"infrared"` // the filter should cut infrared as well
}

// mostWays is how many settings of the camera are told.
const mostWays = 6

// cameraBox is what the plan lets the camera do. A lens that the plan says nothing more of can't be opened beyond the stop
// wanted. What looks sharp is what is smeared over no more than a 1500th of the frame's diagonal (common practice, no source).
func cameraBox(view *plan.View, setup *scene.Setup) solve.CameraBox {
	c := view.Document.Camera
	b := solve.CameraBox{Focal: *c.Lens, Widest: c.Stop, Closest: *c.Closest, ND: c.Filters, EI: c.Indices, Mains: setup.Mains, Focus: 3,
		Circle: unit.Metre(math.Hypot(float64(c.Sensor.Width), float64(c.Sensor.Height)) / 1500)}
	if c.Widest != nil {
		b.Widest = *c.Widest
	}
	b.Closest = max(b.Closest, b.Widest)
	if len(b.ND) == 0 {
		for k := 1; k <= 7; k++ {
			b.ND = append(b.ND, unit.Density(3*k)/10)
		}
	}
	if len(c.Variable) == 2 {
		b.Variable = [2]unit.Density{c.Variable[0], c.Variable[1]}
	}
	if len(b.EI) == 0 {
		b.EI = []unit.EI{c.EI}
	}
	if setup.View != nil && setup.View.Focus > setup.View.Focal {
		b.Focus = unit.Metre(setup.View.Focus)
	}
	if len(setup.Ripples) == 0 {
		b.Mains = 0
	}
	return b
}

// exposures is how far the plan lets the exposure go from what it is, where it is free.
func (s *solver) exposures(view *plan.View, setup *scene.Setup) (r solve.Range) {
	if !s.Free.Exposure {
		return r
	}
	b := cameraBox(view, setup)
	own := setup.Camera
	open, closed := own, own
	open.Stop, open.ND = b.Widest, 0
	closed.Stop, closed.ND = b.Closest, 0
	for _, nd := range b.ND {
		closed.ND = max(closed.ND, nd.NominalStops())
	}
	for _, ei := range b.EI {
		open.EI, closed.EI = max(open.EI, ei), min(closed.EI, ei)
	}
	r.High = max(unit.Stops(float64(own.Key()/open.Key())), 0)
	r.Low = min(-unit.Stops(float64(closed.Key()/own.Key())), 0)
	return r
}

// cameraTolerance is how far a setting may be off the exposure wanted.
const cameraTolerance unit.Stop = 1.0 / 6

// cameras are the settings that open the exposure by so much from the plan's, least changed first.
func (s *solver) cameras(setup *scene.Setup, view *plan.View, opened unit.Stop) ([]CameraWay, error) {
	own := setup.Camera
	level := own.Key() / unit.Lux(opened.Factor())
	b := cameraBox(view, setup)
	found, err := solve.Cameras(own, level, 0, cameraTolerance, b)
	if err != nil {
		return nil, err
	}
	all := []CameraWay{}
	for _, c := range found[:min(len(found), mostWays)] {
		w := CameraWay{ND: c.ND, Stop: c.Camera.Stop, EI: c.Camera.EI, Shutter: c.Camera.Shutter, Off: c.Off, Infrared: c.Infrared}
		if setup.View != nil {
			near, far := c.Near, c.Far
			if w.Near = &near; !math.IsInf(float64(far), 1) {
				w.Far = &far
			}
		}
		all = append(all, w)
	}
	return all, nil
}

// changes are a setting as changes of the plan.
func (w *CameraWay) changes(now *plan.Camera) (all []plan.Change) {
	set := func(field, value string) {
		all = append(all, plan.Change{Path: document.Path("camera").Join(field), Value: value})
	}
	if w.ND != now.ND {
		set("nd", w.ND.String())
	}
	if math.Abs(2*math.Log2(float64(w.Stop/now.Stop))) > 0.005 {
		set("stop", fmt.Sprintf("T%.2f", float64(w.Stop)))
	}
	if w.EI != now.EI {
		set("ei", w.EI.String())
	}
	if (exposure.Camera{FPS: now.FPS, Shutter: w.Shutter}).ExposureTime() != (exposure.Camera{FPS: now.FPS, Shutter: now.Shutter}).ExposureTime() {
		set("shutter", w.Shutter.String())
	}
	return all
}
