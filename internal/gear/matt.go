package gear

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// worstFit is the most that levels may stray from one curve, rms, as in photometry.FitDistances.
const worstFit = unit.Stop(0.5)

// fit returns the intensity square-on of a matt opening, and how far its levels stray from one curve, rms. Levels are taken
// for what they are near a large source: each gives the intensity by the opening's form factor, and the mean in
// log is kept.
func (m *mattText) fit(o Opening) (peak unit.Candela, rms unit.Stop, err error) {
	if m.Peak != nil {
		return *m.Peak, 0, nil
	}
	var mean, variance float64 // of ln of the peak
	n := float64(len(m.Levels))
	log := func(l unit.LuxAt) float64 { return math.Log(float64(l.Level) / o.levelAt(l.Distance)) }
	for _, l := range m.Levels {
		mean += log(l) / n
	}
	for _, l := range m.Levels {
		variance += (log(l) - mean) * (log(l) - mean) / n
	}
	rms = unit.Stop(math.Sqrt(variance) / math.Ln2)
	if !(rms <= worstFit) {
		return 0, 0, fault.Fault{Text: "the levels do not lie on the curve of a matt opening of this size",
			Read: fmt.Sprintf("%.2f stops rms", rms), Allowed: fmt.Sprintf("up to %g stops", worstFit)}
	}
	return unit.Candela(math.Exp(mean)), rms, nil
}

// levelAt returns the level (lx) at a distance in front of a matt opening of 1 cd square-on.
func (o Opening) levelAt(distance unit.Metre) float64 {
	luminance := unit.Nit(1 / o.area())
	switch o.Shape {
	case Disc:
		return float64(photometry.DiscIlluminance(luminance, o.Diameter/2, distance))
	case Rectangle:
		return float64(photometry.RectangleIlluminance(luminance, o.Width, o.Height, distance))
	}
	// A line of matt elements, 1/ℓ cd a metre: ∫ cos²a da over the angles a under which it is seen, over ℓ·d.
	d := float64(distance + o.Diameter/2)
	a := math.Atan(float64(o.Width) / (2 * d))
	return (a + math.Sin(a)*math.Cos(a)) / (float64(o.Width) * d)
}

// tubeBeam is the far field of a matt cylinder along X, its ends dark, as its intensity square-on (cd): I0·sin θ, θ from
// its length. Flux π²·I0.
type tubeBeam unit.Candela

func (t tubeBeam) At(d geometry.Vector) float64 { return float64(t) * math.Hypot(d.Y, d.Z) }
func (t tubeBeam) Flux() unit.Lumen             { return unit.Lumen(math.Pi * math.Pi * float64(t)) }
func (t tubeBeam) Peak() unit.Candela           { return unit.Candela(t) }

// Sample picks directions evenly over the sphere: the far field of a tube is even enough.
func (t tubeBeam) Sample(u, v float64) (geometry.Vector, float64) {
	x := 1 - 2*u
	s, c := math.Sincos(2 * math.Pi * v)
	r := math.Sqrt(math.Max(0, 1-x*x))
	return geometry.Vector{X: x, Y: r * c, Z: r * s}, 1 / (4 * math.Pi)
}

func (t tubeBeam) PDF(geometry.Vector) float64 { return 1 / (4 * math.Pi) }
