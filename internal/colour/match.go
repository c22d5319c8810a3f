package colour

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Target is a light to be matched, as the eye and as the camera sees it.
type Target struct{ Eye, Camera View }

// TargetOf returns the target that a spectrum is: a practical, a tube, the sky. The error is EyeView's or the camera's.
func TargetOf(light spectrum.Curve, camera Camera) (Target, error) {
	eye, err := EyeView(light)
	if err != nil {
		return Target{}, err
	}
	seen, err := camera.View(light)
	return Target{eye, seen}, err
}

// TargetAt returns the target of a measured chromaticity. Nothing is known of its spectrum, so the camera is taken to see
// what the eye does; of a tube or an LED that may be far out.
func TargetAt(xy Chromaticity) (Target, error) {
	if !(xy.X > 0 && xy.Y > 0 && xy.X+xy.Y < 1) {
		return Target{}, fault.Fault{Text: "not a chromaticity", Read: fmt.Sprintf("x %g, y %g", xy.X, xy.Y), Allowed: "x and y above 0, their sum below 1"}
	}
	v, err := viewOf(xy.XYZ(1))
	return Target{v, v}, err
}

// Verdict is how near a light comes to a target, positive where it is the warmer or the greener.
type Verdict struct {
	Eye, Camera           Difference
	EyeMatch, CameraMatch bool // within the tolerance
	// Disagree warns that eye and camera differ about the match by more than the tolerance: what is matched by one is not by
	// the other.
	Disagree bool
}

// Judge returns how near a light comes to a target. The error is EyeView's or the camera's.
func (t Target) Judge(light spectrum.Curve, camera Camera, within Tolerance) (Verdict, error) {
	got, err := TargetOf(light, camera)
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Eye: got.Eye.From(t.Eye), Camera: got.Camera.From(t.Camera)}
	v.EyeMatch, v.CameraMatch = within.Of(v.Eye) <= 1, within.Of(v.Camera) <= 1
	v.Disagree = within.Of(Difference{Mired: v.Eye.Mired - v.Camera.Mired, Duv: v.Eye.Duv - v.Camera.Duv}) > 1
	return v, nil
}

// Dial is a lamp that can be set: its spectrum at a colour temperature and Duv, and how far the two go. Duv is 0 throughout
// on a lamp without a green-magenta control.
type Dial struct {
	Spectrum    func(kelvin unit.Kelvin, duv float64) (spectrum.Curve, error)
	Low, High   unit.Kelvin
	Green, Pink float64 // the greatest Duv toward either side, both 0 or above
}

// Setting is where a lamp is to be set, what it then sends, and how that compares.
type Setting struct {
	Kelvin unit.Kelvin
	Duv    float64
	Light  spectrum.Curve
	Verdict
}

// MatchByEye returns the setting of a lamp at which it looks most like the target to the eye, within what its dial has.
func MatchByEye(lamp Dial, target Target, camera Camera, within Tolerance) (Setting, error) {
	return lamp.match(target, camera, within, target.Eye, EyeView)
}

// MatchByCamera returns the setting of a lamp at which it looks most like the target to the camera, within what its dial
// has.
func MatchByCamera(lamp Dial, target Target, camera Camera, within Tolerance) (Setting, error) {
	return lamp.match(target, camera, within, target.Camera, camera.View)
}

// match moves the setting by what is still missing, seen by one viewer, until nothing is or the dial ends.
func (lamp Dial) match(target Target, camera Camera, within Tolerance, want View, view func(spectrum.Curve) (View, error)) (Setting, error) {
	s := lamp.held(want.Kelvin.Mired(), want.Duv)
	for range 12 {
		light, err := lamp.Spectrum(s.Kelvin, s.Duv)
		if err != nil {
			return Setting{}, err
		}
		s.Light = light
		got, err := view(light)
		if err != nil {
			return Setting{}, err
		}
		miss := want.From(got)
		next := lamp.held(s.Kelvin.Mired()+miss.Mired, s.Duv+miss.Duv)
		if math.Abs(float64(next.Kelvin.Mired()-s.Kelvin.Mired())) < 0.01 && math.Abs(next.Duv-s.Duv) < 1e-5 {
			break
		}
		s = next
	}
	var err error
	if s.Light, err = lamp.Spectrum(s.Kelvin, s.Duv); err != nil {
		return Setting{}, err
	}
	s.Verdict, err = target.Judge(s.Light, camera, within)
	return s, err
}

// held returns a setting within the dial.
func (lamp Dial) held(mired unit.Mired, duv float64) Setting {
	mired = min(max(mired, lamp.High.Mired()), lamp.Low.Mired())
	return Setting{Kelvin: unit.Kelvin(1e6 / mired), Duv: min(max(duv, -lamp.Pink), lamp.Green)}
}

// GelMatch is a pack of gels before a lamp and how what comes through compares with a target. No gels are the bare lamp.
type GelMatch struct {
	Gels          []spectrum.Gel
	Transmittance unit.Fraction // luminous, of this lamp's light
	Verdict
}

// MatchGels returns the packs of up to two of the given gels before a lamp, none of two that undo each other. Those come
// first that are nearest to the target for the camera, as a multiple of the tolerance; between equals the one that passes more
// light. Packs through which eye or camera see no white are left out. The error is a fault of kind Input where none is left.
func MatchGels(lamp spectrum.Curve, gels []spectrum.Gel, target Target, camera Camera, within Tolerance) ([]GelMatch, error) {
	packs := [][]spectrum.Gel{nil}
	for i, g := range gels {
		packs = append(packs, []spectrum.Gel{g})
		for _, h := range gels[i:] {
			if g.Shift*h.Shift >= 0 && g.Duv*h.Duv >= 0 { // two that undo each other only cost light
				packs = append(packs, []spectrum.Gel{g, h})
			}
		}
	}
	eye := spectrum.Observer1931()
	bare := spectrum.Response(lamp, eye)[1]
	var out []GelMatch
	for _, pack := range packs {
		light := lamp
		for _, g := range pack {
			light = light.Mul(g.Curve)
		}
		v, err := target.Judge(light, camera, within)
		if err != nil {
			continue
		}
		out = append(out, GelMatch{pack, unit.Fraction(spectrum.Response(light, eye)[1] / bare), v})
	}
	if len(out) == 0 {
		return nil, fault.Fault{Text: "no gel makes a white of this lamp that eye and camera can place"}
	}
	slices.SortStableFunc(out, func(a, b GelMatch) int {
		return cmp.Or(cmp.Compare(within.Of(a.Camera), within.Of(b.Camera)), cmp.Compare(b.Transmittance, a.Transmittance))
	})
	return out, nil
}

// FollowSky returns the kelvin of a lamp for each sky so that it stays as far from it, in mired, as it was from the sky it
// was set by. A step that would need a lamp beyond 1000 to 100000 K is a fault of kind Input.
func FollowSky(reference, lamp unit.Kelvin, skies []unit.Kelvin) ([]unit.Kelvin, error) {
	apart := lamp.Mired() - reference.Mired()
	out := make([]unit.Kelvin, len(skies))
	for i, sky := range skies {
		m := sky.Mired() + apart
		if !(m >= 10 && m <= 1000) {
			return nil, fault.Fault{Text: "no lamp stands that far from such a sky", Read: fmt.Sprintf("%.0f K, %.0f mired from it", float64(sky), float64(apart))}
		}
		out[i] = unit.Kelvin(1e6 / m)
	}
	return out, nil
}
