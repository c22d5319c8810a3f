package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// surfaceOf is the vertex of a surface with these optics.
func surfaceOf(o *scene.Optics, place, direction vec, h *hit) (vertex, bool) {
	sides := skinsOf(o)
	return surfaceAt(&sides, place, direction, h)
}

// Light paths and receivers' paths walk each other's ways, and are weighed by what the other would have picked.
// Backwards, a vertex states what one that came the other way states forwards.
func TestVertexKnowsItsReverse(t *testing.T) {
	o := scene.Optics{ReflectFront: grey(0.3), ReflectBack: grey(0.1), Transmit: grey(0.2), Straight: grey(0.3), Spread: 0.9}
	plain := o
	plain.Straight, plain.Spread = grey(0), 0
	for name, o := range map[string]scene.Optics{"spreading": o, "matt": plain, "one-sided": {ReflectFront: grey(0.5)}} {
		arrives := func(from vec) (vertex, bool) {
			return surfaceOf(&o, vec{}, from.Neg(), &hit{normal: geometry.Up, front: from.Z > 0})
		}
		for i := range 4000 {
			points := independent(i)
			a, b := points.Next()
			c, d := points.Next()
			from, to := about(geometry.Up, 2*a-1, 2*math.Pi*b), about(geometry.Up, 2*c-1, 2*math.Pi*d)
			v, ok := arrives(from)
			back, backOK := arrives(to)
			if !ok || !backOK {
				continue
			}
			_, want := back.value(from)
			if got := v.reverse(to); math.Abs(got-want) > 1e-9*(1+want) {
				t.Fatalf("%s: from %v to %v: reverse %v, picked the other way with %v", name, from, to, got, want)
			}
		}
	}
}

// What a lamp emits a receiver sees: the same density by sending as meet states for the ray, the same light, and the
// lamp's flux on average.
func TestLampEmitsWhatMeetStates(t *testing.T) {
	turned := geometry.About(vec{X: 0.2, Y: 0.4, Z: -1}.Unit())
	bell := photometry.Bell(1000, 60)
	form := func(f scene.Form, offset float64, beam photometry.Distribution) lamp {
		return newLamp(0, &scene.Emitter{Kind: scene.Lamp, Centre: vec{X: 0.1, Y: 0.2, Z: 2}, Basis: turned, Form: f, Offset: offset, Beam: beam, Luminance: 100})
	}
	round := scene.Form{Shape: scene.Globe, Radius: 0.3}
	opening := scene.Opening{Centre: vec{Y: 2}, U: vec{X: 0.6}, V: vec{Z: 0.5}}
	for _, row := range []struct {
		name string
		lamp lamp
		flux float64
	}{
		{"disc", form(disc(0.4), 0, bell), float64(bell.Flux())},
		{"panel, matt", form(panel(1.5, 0.9), 0, cosine(10)), 10 * math.Pi},
		{"panel that sends forward alone", form(panel(1.5, 0.9), 0, photometry.Isotropic(10)), 20 * math.Pi},
		{"disc behind its front", form(disc(0.4), 0.5, bell), float64(bell.Flux())},
		{"globe", form(round, 0, nil), 100 * 4 * math.Pi * math.Pi * 0.3 * 0.3},
		{"globe with a beam", form(round, 0, bell), float64(bell.Flux())},
		{"tube", form(scene.Form{Shape: scene.Tube, Radius: 0.2, Height: 1.2}, 0, nil), 100 * 2 * math.Pi * math.Pi * 0.2 * 1.2},
		// what half a sky of luminance 1 sends in by a window
		{"skylight", newSkylight(&dome{}, "", 0, &opening), 1.2 * math.Pi / 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			const n = 20000
			sum, square := 0.0, 0.0
			for i := range n {
				points := independent(i)
				u, v := points.Next()
				a, b := points.Next()
				place, way, flux, emission, cos, ok := row.lamp.emit(u, v, a, b)
				if !ok {
					continue
				}
				sum, square = sum+flux, square+flux*flux
				if cos < 0.01 { // on a grazing ray digits are few
					continue
				}
				s, met := row.lamp.meet(place.AddMul(3/cos, way), way.Neg()) // beyond the front
				if !met {
					t.Fatalf("ray from %v along %v is not met", place, way)
				}
				if off := math.Abs(s.emission/emission-1) + math.Abs(s.cos/cos-1) + math.Abs(s.radiance*s.cos/(flux*emission)-1); off > 1e-4 {
					t.Fatalf("sent %v lm with %v at cosine %v, met %+v", flux, emission, cos, s)
				}
			}
			mean := sum / n
			compare(t, "flux", mean, math.Sqrt(math.Max(0, square/n-mean*mean)/n), row.flux, 1e-6)
		})
	}
}
