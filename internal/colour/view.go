package colour

import (
	"math"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// View is how white light looks, to an eye or to a camera: its correlated colour temperature, its Duv, and its place in the
// CIE 1976 diagram. To a camera it is that of the smooth light which the camera cannot tell from it.
type View struct {
	Kelvin unit.Kelvin
	Duv    float64
	UV     UV
}

// viewOf returns what a colour is to the eye, with CCTDuv's limits and error.
func viewOf(c XYZ) (View, error) {
	kelvin, duv, err := CCTDuv(c)
	return View{kelvin, duv, c.UV1976()}, err
}

// At returns the place in the CIE 1976 diagram of a white by its colour temperature and Duv. The error is spectrum.White's.
func At(kelvin unit.Kelvin, duv float64) (UV, error) {
	light, err := spectrum.BiColour(kelvin, duv)
	if err != nil {
		return UV{}, err
	}
	return lightXYZ(light).UV1976(), nil
}

// EyeView returns how a light looks to the eye, the CIE 1931 observer. The error is CCTDuv's.
func EyeView(light spectrum.Curve) (View, error) { return viewOf(lightXYZ(spectrum.LightOf(light))) }

// Difference is how far one light lies from another, to the same viewer: Mired is positive where it is the warmer, Duv
// where it is the greener; UV is the distance in the CIE 1976 diagram.
type Difference struct {
	Mired unit.Mired `json:"mired"`
	Duv   float64    `json:"duv"`
	UV    float64    `json:"uv"`
}

// From returns how far v lies from another view.
func (v View) From(other View) Difference {
	return Difference{v.Kelvin.Mired() - other.Kelvin.Mired(), v.Duv - other.Duv, math.Hypot(v.UV.U-other.UV.U, v.UV.V-other.UV.V)}
}

// Tolerance is what still passes for the same light: half axes of an ellipse in mired and Duv.
type Tolerance struct {
	Mired unit.Mired
	Duv   float64
}

// SideBySide is the least difference seen side by side, 5 mired and Duv 0.002. Common practice, no source.
var SideBySide = Tolerance{seenBeside, tinted}

// Of returns a difference as a multiple of the tolerance: up to 1 the lights pass for the same.
func (t Tolerance) Of(d Difference) float64 {
	return math.Hypot(float64(d.Mired/t.Mired), d.Duv/t.Duv)
}
