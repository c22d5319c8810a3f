package colour

import (
	"math"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Camera is a camera's spectral response: the relative sensitivities of its red, green and blue signals.
type Camera struct {
	Name        string
	Sensitivity [3]spectrum.Curve
}

// GenericCamera returns a response of our own: smooth and overlapping as a single sensor's with dyed filters behind an infrared
// filter are, and no camera's. A real one sees a narrow line differently from another by several mired; measure it, or
// read its sensitivities with ReadCamera.
func GenericCamera() Camera {
	// Each signal is a peak with a flank to either side (nm) and a share of the others' light.
	bell := func(peak, below, above float64) func(float64) float64 {
		return func(nm float64) float64 {
			w := below
			if nm > peak {
				w = above
			}
			x := (nm - peak) / w
			return math.Exp(-x * x / 2)
		}
	}
	red, green, blue := bell(600, 18, 38), bell(532, 34, 36), bell(455, 22, 30)
	cut := func(nm float64) float64 { // ultraviolet and infrared filters
		return 1 / (1 + math.Exp((405-nm)/4)) / (1 + math.Exp((nm-690)/8))
	}
	signal := func(share [3]float64) spectrum.Curve {
		var nm, value []float64
		for w := 380.0; w <= 780; w += 5 {
			nm = append(nm, w)
			value = append(value, cut(w)*(share[0]*red(w)+share[1]*green(w)+share[2]*blue(w)))
		}
		c, err := spectrum.Power(nm, value)
		if err != nil {
			panic("colour: generic camera without a response")
		}
		return c
	}
	return Camera{"generic", [3]spectrum.Curve{
		signal([3]float64{0.75, 0.08, 0.02}), signal([3]float64{0.12, 1, 0.08}), signal([3]float64{0.01, 0.10, 0.85}),
	}}
}

// ReadCamera reads measured sensitivities from a CSV of four columns, nm and the red, green and blue signal, as
// spectrum.ReadTable takes it. Faults are of kind Input.
func ReadCamera(file string, text []byte) (Camera, error) {
	table, err := spectrum.ReadTable(file, text)
	if err != nil {
		return Camera{}, err
	}
	if len(table.Names) != 3 {
		return Camera{}, fault.Fault{Place: fault.Place{File: file}, Text: "a camera has three sensitivities", Allowed: "4 columns: nm, red, green, blue"}
	}
	c := Camera{Name: file}
	for k := range c.Sensitivity {
		if c.Sensitivity[k], err = table.Power(k); err != nil {
			return Camera{}, err
		}
	}
	for _, v := range c.signals(spectrum.Flat(1)) {
		if !(v > 0) {
			return Camera{}, fault.Fault{Place: fault.Place{File: file}, Text: "a sensitivity of the camera is 0 throughout the visible"}
		}
	}
	return c, nil
}

func (c Camera) signals(light spectrum.Curve) [3]float64 {
	return spectrum.Response(light, c.Sensitivity)
}

// Gains returns what the signals are multiplied by, green by 1, so that a light is recorded as neutral. A light that one
// signal does not see has a gain of infinity.
func (c Camera) Gains(white spectrum.Curve) [3]float64 {
	s := c.signals(white)
	return [3]float64{s[1] / s[0], 1, s[1] / s[2]}
}

// Recorded returns red, green and blue of a light, of the luminance of the white the camera is balanced to; that white gives
// 1, 1, 1.
func (c Camera) Recorded(light, white spectrum.Curve) [3]float64 {
	a, b := c.signals(light), c.signals(white)
	eye := spectrum.Observer1931()
	k := spectrum.Response(white, eye)[1] / spectrum.Response(light, eye)[1]
	return [3]float64{k * a[0] / b[0], k * a[1] / b[1], k * a[2] / b[2]}
}

// View returns how a light looks to the camera: as the smooth light of spectrum.Tinted that gives the same ratios of its
// signals, told in the eye's terms. Light that is itself smooth looks to every camera as it does to the eye. The error is a fault
// of kind Input where no white looks like it to the camera.
func (c Camera) View(light spectrum.Curve) (View, error) {
	near := 200.0
	if eye, err := EyeView(light); err == nil {
		near = float64(eye.Kelvin.Mired())
	}
	return c.view(c.signals(light), near)
}

// ViewOf returns how a mixture looks to the camera, by the sums of its Signals and its colour to the eye. The error is
// View's.
func (c Camera) ViewOf(signals [3]float64, eye XYZ) (View, error) {
	near := 200.0
	if v, err := viewOf(eye); err == nil {
		near = float64(v.Kelvin.Mired())
	}
	return c.view(signals, near)
}

// view looks for the smooth light of given signals from one of so many mired.
func (c Camera) view(signals [3]float64, near float64) (View, error) {
	for _, s := range signals {
		if !(s > 0) {
			return View{}, errNoWhite
		}
	}
	want := ratios(signals)
	p := [2]float64{near, 0} // mired and green of the smooth light
	miss := func(p [2]float64) [2]float64 {
		got := ratios(c.signals(smooth(p)))
		return [2]float64{got[0] - want[0], got[1] - want[1]}
	}
	m := miss(p)
	for range 40 {
		if math.Hypot(m[0], m[1]) < 1e-9 {
			return EyeView(smooth(p))
		}
		step := newton(miss, p, m)
		// A full step may overshoot far from the answer: halve it until it helps.
		for ; ; step[0], step[1] = step[0]/2, step[1]/2 {
			if !(math.Hypot(step[0], step[1]) > 1e-9) {
				return View{}, errNoWhite
			}
			q := [2]float64{min(max(p[0]-step[0], leastMired), mostMired), min(max(p[1]-step[1], -3), 3)}
			if r := miss(q); math.Hypot(r[0], r[1]) < math.Hypot(m[0], m[1]) {
				p, m = q, r
				break
			}
		}
	}
	return View{}, errNoWhite
}

var errNoWhite = fault.Fault{Text: "the light is too far from white to have a colour temperature for this camera"}

// newton returns the step by which a point would have to go back for a function of value m there to be 0, were it straight.
func newton(f func([2]float64) [2]float64, p, m [2]float64) [2]float64 {
	const dm, dg = 0.1, 0.001
	a, b := f([2]float64{p[0] + dm, p[1]}), f([2]float64{p[0], p[1] + dg})
	j := [2][2]float64{{(a[0] - m[0]) / dm, (b[0] - m[0]) / dg}, {(a[1] - m[1]) / dm, (b[1] - m[1]) / dg}}
	det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
	return [2]float64{(j[1][1]*m[0] - j[0][1]*m[1]) / det, (j[0][0]*m[1] - j[1][0]*m[0]) / det}
}

// The smooth lights that View tries.
const leastMired, mostMired = 25, 950

func smooth(p [2]float64) spectrum.Curve { return spectrum.Tinted(unit.Kelvin(1e6/p[0]), p[1]) }

// ratios returns the logarithms of red and blue over green.
func ratios(s [3]float64) [2]float64 { return [2]float64{math.Log(s[0] / s[1]), math.Log(s[2] / s[1])} }
