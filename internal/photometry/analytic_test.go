package photometry

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// kit is the generic kit of the demo (invented figures): intensity on the axis, beam, and the flux and field angle
// worked out for them by hand formula and an independent script, rounded to three digits and to whole degrees.
var kit = []struct {
	name              string
	peak, beam, field float64
	flux              float64
}{
	{"dish 26", 250000, 26, 47, 57600},
	{"dish 60", 50000, 60, 109, 58100},
	{"Fresnel spot", 560000, 12, 22, 27800},
	{"Fresnel mid", 200000, 24, 44, 39300},
	{"Fresnel flood", 75000, 40, 73, 40200},
	{"dish 55", 14000, 55, 100, 13800},
}

func TestBellOfTheKit(t *testing.T) {
	for _, k := range kit {
		t.Run(k.name, func(t *testing.T) {
			d := Bell(unit.Candela(k.peak), unit.Degree(k.beam))
			if f := float64(d.Flux()); math.Abs(f-k.flux) > 50 {
				t.Errorf("flux %.0f lm, want %.0f to three digits", f, k.flux)
			}
			near(t, "beam", float64(BeamAngle(d, 0.5)), k.beam, 1e-6)
			field := float64(BeamAngle(d, 0.1))
			near(t, "field over beam", field/k.beam, math.Sqrt(math.Log2(10)), 1e-6) // 1.8226
			if math.Abs(field-k.field) > 0.55 {
				t.Errorf("field %.2f°, want %g° to the degree", field, k.field)
			}
		})
	}
}

// A 12° spot 11.8° off its axis is 3.9 stops down, a 40° flood 0.35 of a stop (bell profile, by hand).
func TestBellOffAxis(t *testing.T) {
	at := func(beam, theta float64) float64 {
		return -math.Log2(Bell(1, unit.Degree(beam)).At(Direction(123, unit.Degree(theta))))
	}
	near(t, "spot", at(12, 11.8), math.Pow(11.8/6, 2), 1e-9)
	near(t, "flood", at(40, 11.8), math.Pow(11.8/20, 2), 1e-9)
	if i := Bell(100, 170).At(Direction(0, 90.01)); i != 0 {
		t.Errorf("behind: %g cd", i)
	}
}

// ln ½/ln cos(β/2).
func TestCosinePowerExponent(t *testing.T) {
	for beam, m := range map[unit.Degree]float64{20: 45.2776, 40: 11.1434, 60: 4.81884, 90: 2.0} {
		d := CosinePower(100, beam).(cosinePower)
		near(t, "exponent", d.m, m, 1e-5)
		near(t, "beam", float64(BeamAngle(d, 0.5)), float64(beam), 1e-6)
	}
}

// Lambert's law: π·I0 lumens, half the intensity at 60°, a tenth at acos 0.1. A source alike to all sides: 4π·I.
func TestLambertAndIsotropic(t *testing.T) {
	c := Cosine(1000)
	near(t, "Lambert flux", float64(c.Flux()), 3141.592654, 1e-9)
	near(t, "Lambert beam", float64(BeamAngle(c, 0.5)), 120, 1e-6)
	near(t, "Lambert field", float64(BeamAngle(c, 0.1)), 2*math.Acos(0.1)/degree, 1e-6)
	i := Isotropic(1000)
	near(t, "isotropic flux", float64(i.Flux()), 12566.37061, 1e-9)
	near(t, "isotropic beam", float64(BeamAngle(i, 0.5)), 360, 1e-9)
}

// The off-axis levels of a point source: I·h/d³, and I·cos/d² on a wall and square-on.
func TestInverseSquare(t *testing.T) {
	lux := func(d Distribution, to geometry.Vector, normal geometry.Vector) float64 {
		r := to.Length()
		return d.At(to.Mul(1/r)) * -to.Dot(normal) / (r * r * r)
	}
	down := Isotropic(1000)
	for i, want := range []float64{111.111, 94.8683, 64.0039, 39.2837, 24} {
		to := geometry.Vector{X: float64(i), Z: -3}
		near(t, "floor", lux(down, to, geometry.Vector{Z: 1}), want, 1e-5)
	}
	to := geometry.Vector{X: 4, Z: -1.3}
	near(t, "wall", lux(Isotropic(5000), to, geometry.Vector{X: -1}), 268.806, 1e-5)
	near(t, "square-on", lux(Isotropic(5000), to, to.Unit().Neg()), 282.646, 1e-5)
}

func TestImpossibleBeamsPanic(t *testing.T) {
	for name, f := range map[string]func(){
		"no beam":          func() { Bell(1, 0) },
		"beam not known":   func() { Bell(1, unit.Degree(math.NaN())) },
		"negative":         func() { Cosine(-1) },
		"infinite":         func() { Isotropic(unit.Candela(math.Inf(1))) },
		"cosine of 180":    func() { CosinePower(1, 180) },
		"share of nothing": func() { BeamAngle(Cosine(1), 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f()
		}()
	}
}
