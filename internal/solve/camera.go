package solve

import (
	"cmp"
	"math"
	"slices"

	"gloam/internal/exposure"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// CameraBox is what the camera and its case allow.
type CameraBox struct {
	Focal           unit.Metre
	Widest, Closest unit.TStop
	IrisStep        unit.Stop       // 0 is stepless
	Transmittance   unit.Fraction   // of the lens, for its f-number; 0 is taken as 1
	ND              []unit.Density  // filters, and sums of those that may be stacked; none at all is always allowed
	Variable        [2]unit.Density // the least and the most of a stepless filter; zero: there is none
	EI              []unit.EI
	Shutters        []unit.Shutter // if none are given: the camera's own and those steady on the mains
	Mains           unit.Hertz     // of lamps that pulse; above 0 only steady shutters are allowed
	Focus           unit.Metre
	Background      unit.Metre // distance of what is to melt; 0: there is none
	Circle          unit.Metre // of confusion
}

// CameraSetting is one way to the exposure wanted.
type CameraSetting struct {
	Camera    exposure.Camera
	ND        unit.Density
	Off       unit.Stop // how far the level then lies over what is wanted
	Near, Far unit.Metre
	Blur      unit.Metre // of the background's edges, on the sensor; 0 without one
	Infrared  bool       // the filter is so strong that it should cut infrared as well
}

// infraredFrom is the density from which a filter that lets infrared pass shows it in blacks (common practice, no
// source).
const infraredFrom = 1.2

// Cameras returns all settings that put a level, above 0, so many stops over key, each no farther off than the tolerance:
// those that change iris, EI and shutter least from the camera's own first, of equals the weaker filter. A stepped iris
// stands on full stops and their steps, and wide open. Errors are exposure.ErrFocus and a fault.Fault of the iris.
func Cameras(own exposure.Camera, level unit.Lux, over, tolerance unit.Stop, box CameraBox) ([]CameraSetting, error) {
	if !(box.Widest > 0 && box.Widest <= box.Closest && box.Closest <= 1000 && (box.IrisStep == 0 || box.IrisStep > 0.01)) {
		return nil, fault.Fault{Path: "iris", Text: "the iris goes from its widest to its closest stop, in steps of more than a hundredth"}
	}
	aim := level / unit.Lux(over.Factor())
	var out []CameraSetting
	add := func(c exposure.Camera, nd unit.Density) error {
		c.ND = nd.NominalStops()
		off := c.OverKey(aim)
		if math.Abs(float64(off)) > float64(tolerance)+1e-9 {
			return nil
		}
		s := CameraSetting{Camera: c, ND: nd, Off: off, Infrared: nd >= infraredFrom-1e-9}
		if err := s.focus(&box); err != nil {
			return err
		}
		out = append(out, s)
		return nil
	}
	for _, base := range box.exposures(own) {
		for _, nd := range append([]unit.Density{0}, box.ND...) {
			base.ND = nd.NominalStops()
			for _, t := range box.irises(base.StopFor(aim), tolerance) {
				base.Stop = t
				if err := add(base, nd); err != nil {
					return nil, err
				}
			}
		}
		base.Stop = min(max(own.Stop, box.Widest), box.Closest)
		if nd := unit.Density(base.NDNeeded(aim)) * 3 / 10; box.Variable[1] > 0 && nd >= box.Variable[0] && nd <= box.Variable[1] {
			if err := add(base, nd); err != nil {
				return nil, err
			}
		}
	}
	slices.SortStableFunc(out, func(a, b CameraSetting) int {
		return cmp.Or(cmp.Compare(a.changed(own), b.changed(own)), cmp.Compare(a.ND, b.ND))
	})
	return out, nil
}

// exposures returns the camera at each EI and shutter allowed.
func (b *CameraBox) exposures(own exposure.Camera) (out []exposure.Camera) {
	shutters := b.Shutters
	if len(shutters) == 0 {
		shutters = []unit.Shutter{own.Shutter}
		if b.Mains > 0 {
			for _, a := range exposure.SafeAngles(own.FPS, b.Mains) {
				if safe := (unit.Shutter{Angle: a}); safe != own.Shutter {
					shutters = append(shutters, safe)
				}
			}
		}
	}
	for _, ei := range b.EI {
		for _, s := range shutters {
			c := own
			c.EI, c.Shutter = ei, s
			if t := c.ExposureTime(); float64(t)*float64(c.FPS) <= 1+1e-9 && b.steady(c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// steady reports whether every frame holds a whole number of the mains' pulses, to a hundredth of one, or all are alike.
func (b *CameraBox) steady(c exposure.Camera) bool {
	if b.Mains == 0 || exposure.SafeAtAnyAngle(c.FPS, b.Mains) {
		return true
	}
	pulses := 2 * float64(b.Mains) * float64(c.ExposureTime())
	return pulses > 0.5 && math.Abs(math.Remainder(pulses, 1)) < 0.01
}

// irises returns the stops of the lens within the tolerance of what is needed.
func (b *CameraBox) irises(needed unit.TStop, tolerance unit.Stop) (out []unit.TStop) {
	if b.IrisStep == 0 {
		return []unit.TStop{min(max(needed, b.Widest), b.Closest)}
	}
	within := func(t unit.TStop) bool {
		return t >= b.Widest*(1-1e-9) && t <= b.Closest*(1+1e-9) &&
			math.Abs(2*math.Log2(float64(t/needed))) <= float64(tolerance)+1e-9
	}
	if within(b.Widest) {
		out = append(out, b.Widest)
	}
	first := math.Ceil(2*math.Log2(float64(b.Widest))/float64(b.IrisStep) - 1e-9)
	for k := first; ; k++ {
		t := unit.TStop(math.Exp2(k * float64(b.IrisStep) / 2))
		if t > b.Closest*(1+1e-9) {
			return out
		}
		if within(t) && t > b.Widest*(1+1e-9) {
			out = append(out, t)
		}
	}
}

// focus finds depth of field and blur.
func (s *CameraSetting) focus(b *CameraBox) (err error) {
	through := 1.
	if b.Transmittance > 0 {
		through = float64(b.Transmittance)
	}
	lens := exposure.Lens{Focal: b.Focal, Opening: unit.FNumber(float64(s.Camera.Stop) * math.Sqrt(through))} // T = N/√τ
	if s.Near, s.Far, err = lens.DepthOfField(b.Focus, b.Circle); err != nil || b.Background == 0 {
		return err
	}
	s.Blur, err = lens.Blur(b.Focus, b.Background)
	return err
}

// changed returns by how many stops iris, EI and shutter in all differ from the camera's own.
func (s *CameraSetting) changed(own exposure.Camera) float64 {
	c := &s.Camera
	sum := math.Abs(2*math.Log2(float64(c.Stop/own.Stop))) + math.Abs(math.Log2(float64(c.EI/own.EI))) +
		math.Abs(math.Log2(float64(c.ExposureTime()/own.ExposureTime())))
	return math.Round(sum*1e6) / 1e6
}
