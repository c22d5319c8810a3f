package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// globe is a sphere of even luminance l.
func globe(at vec, radius, l float64) scene.Emitter {
	return scene.Emitter{Kind: scene.Lamp, Centre: at, Basis: geometry.About(geometry.Up), Luminance: l,
		Form: scene.Form{Shape: scene.Globe, Radius: radius}}
}

// tube is a cylinder of even luminance l along x.
func tube(at vec, radius, length, l float64) scene.Emitter {
	return scene.Emitter{Kind: scene.Lamp, Centre: at, Basis: geometry.About(geometry.Up), Luminance: l,
		Form: scene.Form{Shape: scene.Tube, Radius: radius, Height: length}}
}

// A globe of flux Φ has L = Φ/(4π²r²) and gives πL r²/d² at every distance where all of its near side is above the
// receptor's plane.
func TestGlobe(t *testing.T) {
	const r = 0.07
	l := 470 / (4 * math.Pi * math.Pi * r * r)
	level := func(d float64) float64 { return math.Pi * l * r * r / (d * d) }
	known{name: "opal globe of 470 lm", scene: scenery(nil, globe(vec{}, r, l)), within: 2e-5, sure: 1e-3,
		ask:  []scene.Receiver{below(0.08), below(0.2), below(0.9), below(20), flatAt(vec{Z: -0.9}, vec{X: 1, Z: 1})},
		want: []float64{level(0.08), level(0.2), level(0.9), level(20), level(0.9) * math.Sqrt2 / 2}}.run(t)
	// half a globe above the horizon: the vertical plane that touches its axis, E = ∫ over the cone's half
	known{name: "globe cut by the receptor's plane", scene: scenery(nil, globe(vec{}, r, l)), within: 1e-5, sure: 2e-3,
		ask: []scene.Receiver{flatAt(vec{Z: -0.2}, toX)}, want: []float64{l * halfCone(r/0.2)}}.run(t)
}

// halfCone is the factor of a sphere seen under the angle of the given sine, its centre on the receptor's own plane:
// ∫ sin θ cos φ dω over half the cone = 2·∫ sin²θ dθ = θ − sin θ cos θ.
func halfCone(sin float64) float64 {
	a := math.Asin(sin)
	return a - sin*math.Cos(a)
}

// A tube gives ∫ L cos cos/ρ² over the side of its mantle that is seen; far away and square-on L·2r·length/d². Of the
// kit's tube that is 450 cd.
func TestTube(t *testing.T) {
	const r, length, cd = 0.02, 1.2, 450.0
	l := cd / (2 * r * length)
	x, w := nodes(48)
	at := func(aside, d float64) (e float64) { // receptor d below the axis, facing up
		side := math.Acos(r / d)
		for i := range x {
			s, c := math.Sincos((2*x[i] - 1) * side)
			for j := range x {
				q := vec{X: (x[j]-0.5)*length - aside, Y: r * s, Z: d - r*c} // from the receptor
				rho := q.Length()
				e += w[i] * w[j] * l * (q.Z*c - q.Y*s) / rho * q.Z / (rho * rho * rho)
			}
		}
		return e * 2 * side * r * length
	}
	s := scenery(nil, tube(vec{}, r, length, l))
	known{name: "near, aside and far", scene: s, within: 1e-4, sure: 2e-3,
		ask:  []scene.Receiver{below(0.1), below(0.4), below(2), flatAt(vec{X: 0.5, Z: -1}, geometry.Up), flatAt(vec{Y: 60}, vec{Y: -1})},
		want: []float64{at(0, 0.1), at(0, 0.4), at(0, 2), at(0.5, 1), cd / 3600}}.run(t)
	known{name: "dark ends", scene: s, within: 0, sure: 0, ask: []scene.Receiver{flatAt(vec{X: 3}, vec{X: -1})}, want: []float64{0}}.run(t)
	// a thick one that runs past sight on both sides: E = πL r/d exactly, by symmetry
	known{name: "endless", scene: scenery(nil, tube(vec{}, 0.1, 400, 1000)), within: 1e-4, sure: 3e-3,
		ask: []scene.Receiver{below(0.2), below(1)}, want: []float64{math.Pi * 1000 * 0.5, math.Pi * 1000 * 0.1}}.run(t)
}

// A lamp whose apparent source lies s behind its front: E = I/(d+s)², d from the front, and I at the angle seen from
// the apparent source.
func TestApparentSourceBehindTheFront(t *testing.T) {
	const s = 0.4
	beam := photometry.CosinePower(100000, 40)
	lamp := spotlight(vec{}, down, beam)
	lamp.Offset = s
	aside := vec{X: 0.8, Z: -2}
	slant := math.Hypot(0.8, 2+s)
	cos := (2 + s) / slant
	known{name: "on and off the axis", scene: scenery(nil, lamp), within: 1e-6, sure: 1e-5,
		ask: []scene.Receiver{below(1), below(5), flatAt(aside, vec{X: -0.8, Z: 2 + s})},
		want: []float64{100000 / (1.4 * 1.4), 100000 / (5.4 * 5.4),
			beam.At(vec{X: math.Sqrt(1 - cos*cos), Z: cos}) / (slant * slant)}}.run(t)
	// What stands beside the lamp's body, between front and apparent source, is behind the rays' start.
	body := board(vec{Z: s / 2}, geometry.Up, 1, 1, scene.Matt(grey(0)))
	known{name: "its own body casts no shadow", scene: scenery([]scene.Surface{body}, lamp), within: 1e-6, sure: 1e-5,
		ask: []scene.Receiver{below(1)}, want: []float64{100000 / (1.4 * 1.4)}}.run(t)
}

// A large opening that sends a measured far field from each part gives, far away, that far field; and near, the mean of
// its parts, here by quadrature.
func TestLargeOpeningWithABeam(t *testing.T) {
	beam := photometry.Bell(50000, 30)
	lamp := spotlight(vec{}, down, beam)
	lamp.Form = panel(0.6, 0.4)
	front := sheetFacing(vec{}, down, 0.6, 0.4)
	near := func(at vec) float64 { // every part sends I(direction)/A
		return front.over(40, func(from vec) float64 {
			d := at.Sub(from)
			r := d.Length()
			return beam.At(lamp.Basis.In(d.Mul(1/r))) / front.area() * -d.Z / (r * r * r)
		})
	}
	aside := vec{X: 0.5, Y: 0.2, Z: -1.5}
	known{name: "near and far", scene: scenery(nil, lamp), within: 2e-5, sure: 3e-3,
		ask:  []scene.Receiver{below(0.8), flatAt(aside, geometry.Up), below(200)},
		want: []float64{near(vec{Z: -0.8}), near(aside), 50000.0 / 40000}}.run(t)
}

// A globe with a far field gives it to every side, near and far from it: I/d² along the axis, behind and beside, and on
// joined light paths as on samples.
func TestGlobeWithABeam(t *testing.T) {
	beam := photometry.Isotropic(500)
	e := scene.Emitter{Kind: scene.Lamp, Centre: vec{Z: 2}, Basis: geometry.About(down), Beam: beam, Form: scene.Form{Shape: scene.Globe, Radius: 0.05}}
	known{name: "all round", scene: scenery(nil, e), within: 2e-3, sure: 1e-3, want: []float64{125, 125, 125},
		ask: []scene.Receiver{flatAt(vec{}, geometry.Up), flatAt(vec{Z: 4}, down), flatAt(vec{X: 2, Z: 2}, vec{X: -1})}}.run(t)

	even := globe(vec{Z: 1.2, X: 1, Y: 1}, 0.05, 500/(math.Pi*0.05*0.05))
	e.Centre = even.Centre
	room := closedRoom(vec{X: 3, Y: 3, Z: 2.5}, 0.5, 0.5, 0.5)
	at := []scene.Receiver{flatAt(vec{X: 2, Y: 2, Z: 1}, vec{X: 1}), domeAt(vec{X: 2.5, Y: 1, Z: 0.4}, geometry.Up)}
	a, b := scenery(room, e), scenery(room, even)
	a.Receivers, b.Receivers = at, at
	x, y := traced(t, a, 1, 0.003, 1<<16), traced(t, b, 2, 0.003, 1<<16)
	for i := range at {
		got, p := x.Points[i].Level(evenly(a))
		want, q := y.Points[i].Level(evenly(b))
		compare(t, at[i].Name, got, math.Hypot(p, q), want, 0)
	}
}
