package transport

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

func domeAt(at, n vec) scene.Receiver {
	r := flatAt(at, n)
	r.Name, r.Kind = "dome "+r.Name, scene.Dome
	return r
}

func spotAt(eye, target vec) scene.Receiver {
	return scene.Receiver{Name: fmt.Sprint("spot ", eye, target), Kind: scene.Spot, Position: eye, Normal: target.Sub(eye).Unit()}
}

// tilted is a direction so many degrees from +x toward +y.
func tilted(degrees float64) vec {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return vec{X: c, Y: s}
}

// A hemispherical receptor reads En·(1+cos θ)/2 [ISO2720].
func TestDomeReceptor(t *testing.T) {
	s := scenery(nil, point(vec{X: 10}, 100))
	k := known{name: "one lamp", scene: s, within: 1e-4, sure: 1e-6}
	for _, row := range []struct{ degrees, want float64 }{
		{0, 1}, {30, 0.9330}, {45, 0.8536}, {60, 0.75}, {90, 0.5}, {120, 0.25}, {180, 0},
	} {
		k.ask = append(k.ask, domeAt(vec{}, tilted(row.degrees)))
		k.want = append(k.want, row.want)
	}
	k.run(t)
	// key 1000 lx at 45° and fill 250 lx from the camera: dome 1000·0.8536 + 250, flat 1000·cos 45° + 250
	known{name: "key and fill", scene: scenery(nil, point(tilted(45).Mul(10), 100000), point(vec{X: 10}, 25000)), within: 1e-4, sure: 1e-6,
		ask: []scene.Receiver{domeAt(vec{}, toX), flatAt(vec{}, toX)}, want: []float64{1103.55, 957.107}}.run(t)
	// under an even sky: ∫(1+cos)/2 dω = π + π/2 facing up, π facing level, π/2 facing down
	known{name: "even sky", scene: scenery(nil, sky(false)), within: 1e-5, sure: 2e-3, want: []float64{1.5 * math.Pi, math.Pi, 0.5 * math.Pi},
		ask: []scene.Receiver{domeAt(vec{}, geometry.Up), domeAt(vec{}, toX), domeAt(vec{}, down)}}.run(t)
}

// A spot reads the luminance of what it looks at: ρE/π of a matt surface, L of a source, whatever the distance.
func TestSpotReceptor(t *testing.T) {
	wall := board(vec{}, vec{Y: -1}, 2, 2, scene.Matt(grey(0.18)))
	lamp := point(vec{Y: -3}, 9000) // 1,000 lx at the middle
	eye := vec{X: 1, Y: -2}
	known{name: "grey card", scene: scenery([]scene.Surface{wall}, lamp), within: 1e-5, sure: 1e-4,
		ask:  []scene.Receiver{spotAt(eye, vec{}), spotAt(eye, vec{Y: -0.5}.Add(vec{X: 5}))},
		want: []float64{0.18 * 1000 / math.Pi, 0}}.run(t)
	known{name: "lamps seen", scene: scenery(nil, globe(vec{}, 0.07, 2430), matt(vec{X: 1}, vec{Y: -1}, 5000, panel(0.6, 0.3))), within: 1e-9, sure: 1e-9,
		ask:  []scene.Receiver{spotAt(eye, vec{}), spotAt(eye.Mul(10), vec{X: 0.06}), spotAt(eye, vec{X: 0.9}), spotAt(vec{X: 1, Y: 2}, vec{X: 0.9})},
		want: []float64{2430, 2430, 5000, 0}}.run(t)
	// (1+2 sin γ)/3 at 30° and 45°; nothing below the horizon
	rising := func(degrees float64) scene.Receiver {
		d := tilted(degrees)
		return spotAt(vec{}, vec{X: d.X, Z: d.Y})
	}
	known{name: "sky seen", scene: scenery(nil, sky(true)), within: 1e-5, sure: 1e-9,
		ask: []scene.Receiver{rising(90), rising(30), rising(45), rising(-5)}, want: []float64{1, 0.66667, 0.80474, 0}}.run(t)
	// 1.47e9 cd/m² at 100 klx: 1/6.80e-5 sr
	known{name: "sun seen", scene: scenery(nil, sun(vec{X: 1, Z: 1})), within: 2e-3, sure: 1e-9,
		ask: []scene.Receiver{rising(45), rising(45.2), rising(44)}, want: []float64{14706, 14706, 0}}.run(t)
}

// Ambient that is equal everywhere: 1 lx at any facing, on any surface, however hidden; a matt surface shows ρ/π of it.
func TestEverywhere(t *testing.T) {
	s := scenery(append(closedRoom(vec{X: 4, Y: 4, Z: 3}, 0.2, 0.7, 0.5), board(vec{X: 2, Y: 2, Z: 1}, toX, 1, 1, scene.Optics{Mirror: grey(0.9)})),
		scene.Emitter{Kind: scene.Everywhere})
	in := vec{X: 3, Y: 1, Z: 1}
	known{name: "closed room", scene: s, within: 1e-9, sure: 1e-9,
		ask: []scene.Receiver{flatAt(in, geometry.Up), flatAt(in, tilted(200)), domeAt(in, down),
			spotAt(in, vec{X: 3, Y: 1}), spotAt(in, vec{X: 2.5, Y: 2.5, Z: 3}), spotAt(in, vec{X: 2, Y: 2.1, Z: 1})},
		want: []float64{1, 1, 1, 0.2 / math.Pi, 0.7 / math.Pi, 0.9 * 0.5 / math.Pi}}.run(t)
	known{name: "nothing to look at", scene: scenery(nil, scene.Emitter{Kind: scene.Everywhere}), within: 0, sure: 0,
		ask: []scene.Receiver{spotAt(vec{}, geometry.Up)}, want: []float64{0}}.run(t)
}

// sky has a zenith luminance of 1.
func sky(overcast bool) scene.Emitter { return scene.Emitter{Kind: scene.Sky, Overcast: overcast} }
