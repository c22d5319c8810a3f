package photometry

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// bell is I0·exp(−k·θ²) in front, which is I0·2^−(2θ/β)² with k = 4·ln 2/β².
type bell struct {
	peak float64 // cd
	k    float64 // 1/rad²
	cut  float64 // share of the plane Gaussian inside θ = 90°
	flux float64 // lm
}

// Bell returns the bell beam I0·2^−(2θ/β)², θ off the axis, β the full angle at 50 %; it is zero beyond 90° from the
// axis. Its 10 % (field) angle is β·√log2(10) = 1.823 β. The profile is the trade's habit (common practice, no
// source). Panics unless peak is finite and not negative and 0 < beam ≤ 180°.
func Bell(peak unit.Candela, beam unit.Degree) Distribution {
	mustBeBeam(peak, beam)
	b := float64(beam) * degree
	d := bell{peak: float64(peak), k: 4 * math.Ln2 / (b * b)}
	d.cut = -math.Expm1(-d.k * math.Pi * math.Pi / 4)
	d.flux = d.peak * 2 * math.Pi * bellSolidAngle(d.k)
	return d
}

// bellSolidAngle returns ∫ exp(−kθ²)·sin θ dθ from 0 to 90° by Simpson's rule; beyond √k·θ = 6.5 the integrand is
// under 5e-19 and left out. Relative error under 1e-9.
func bellSolidAngle(k float64) float64 {
	const steps = 512
	end := math.Min(math.Pi/2, 6.5/math.Sqrt(k))
	h := end / steps
	f := func(i int) float64 { t := h * float64(i); return math.Exp(-k*t*t) * math.Sin(t) }
	sum := f(0) + f(steps)
	for i := 1; i < steps; i++ {
		sum += f(i) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

func (b bell) At(d geometry.Vector) float64 {
	if d.Z < 0 {
		return 0
	}
	t := offAxis(d)
	return b.peak * math.Exp(-b.k*t*t)
}

func (b bell) Flux() unit.Lumen   { return unit.Lumen(b.flux) }
func (b bell) Peak() unit.Candela { return unit.Candela(b.peak) }

// Sample draws θ as if the sphere were flat, where the bell is a Gaussian that can be inverted; what is left between
// At and the density is sin θ/θ, never below 0.64.
func (b bell) Sample(u, v float64) (geometry.Vector, float64) {
	t := math.Min(math.Sqrt(-math.Log1p(-u*b.cut)/b.k), math.Pi/2)
	s, c := math.Sincos(t)
	d := around(s, math.Max(c, 0), v)
	return d, b.density(t)
}

func (b bell) PDF(d geometry.Vector) float64 {
	if d.Z < 0 {
		return 0
	}
	return b.density(offAxis(d))
}

func (b bell) density(t float64) float64 {
	spread := 1.0
	if t > 0 {
		spread = t / math.Sin(t)
	}
	return b.k / math.Pi * math.Exp(-b.k*t*t) / b.cut * spread
}

// cosinePower is I0·cos^m θ in front.
type cosinePower struct{ peak, m float64 }

// Cosine returns a matt opening, I0·cos θ in front and nothing behind (Lambert's law); flux π·I0. Panics unless peak is
// finite and not negative.
func Cosine(peak unit.Candela) Distribution { return CosinePower(peak, 120) }

// CosinePower returns I0·cos^m θ in front with m = ln ½/ln cos(β/2), so that the full angle at 50 % is beam. Flux
// 2π·I0/(m+1). Panics unless peak is finite and not negative and 0 < beam < 180°.
func CosinePower(peak unit.Candela, beam unit.Degree) Distribution {
	mustBeBeam(peak, beam)
	if beam == 120 {
		return cosinePower{float64(peak), 1} // cos 60° rounds; Lambert's law shall be exact
	}
	if beam == 180 {
		panic("photometry: a cosine beam must be below 180 degrees")
	}
	return cosinePower{float64(peak), -math.Ln2 / math.Log(math.Cos(float64(beam)*degree/2))}
}

func (c cosinePower) At(d geometry.Vector) float64 {
	if d.Z <= 0 {
		return 0
	}
	if c.m == 1 {
		return c.peak * d.Z
	}
	return c.peak * math.Pow(d.Z, c.m)
}

func (c cosinePower) Flux() unit.Lumen   { return unit.Lumen(2 * math.Pi * c.peak / (c.m + 1)) }
func (c cosinePower) Peak() unit.Candela { return unit.Candela(c.peak) }

func (c cosinePower) Sample(u, v float64) (geometry.Vector, float64) {
	// 1−cos θ keeps its digits in a narrow beam, where cos θ is all nines.
	low := -math.Expm1(math.Log1p(-u) / (c.m + 1))
	d := around(math.Sqrt(low*(2-low)), 1-low, v)
	return d, c.PDF(d)
}

func (c cosinePower) PDF(d geometry.Vector) float64 {
	if d.Z <= 0 {
		return 0
	}
	return (c.m + 1) / (2 * math.Pi) * math.Pow(d.Z, c.m)
}

// isotropic is the same intensity, in candela, toward every side.
type isotropic float64

// Isotropic returns the same intensity in every direction; flux 4π·I. Panics unless the intensity is finite and not
// negative.
func Isotropic(intensity unit.Candela) Distribution {
	mustBeBeam(intensity, 180)
	return isotropic(intensity)
}

func (i isotropic) At(geometry.Vector) float64  { return float64(i) }
func (i isotropic) Flux() unit.Lumen            { return unit.Lumen(4 * math.Pi * float64(i)) }
func (i isotropic) Peak() unit.Candela          { return unit.Candela(i) }
func (i isotropic) PDF(geometry.Vector) float64 { return 1 / (4 * math.Pi) }

func (i isotropic) Sample(u, v float64) (geometry.Vector, float64) {
	return around(2*math.Sqrt(u*(1-u)), 1-2*u, v), 1 / (4 * math.Pi)
}

func mustBeBeam(peak unit.Candela, beam unit.Degree) {
	if !(peak >= 0) || math.IsInf(float64(peak), 0) {
		panic("photometry: a peak must be finite and not negative")
	}
	if !(beam > 0 && beam <= 180) {
		panic("photometry: a beam must lie above 0 and up to 180 degrees")
	}
}
