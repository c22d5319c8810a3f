package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// edge is a black half plane at a height, over all x below 0.
func edge(z, size float64) []scene.Surface {
	return []scene.Surface{board(vec{X: -size / 2, Z: z}, geometry.Up, size, size, scene.Matt(grey(0)))}
}

// A source D wide, an edge d1 from it and a receiver d2 behind the edge: the penumbra is D·d2/d1 wide. Inside it the
// level is that of the part of the panel still seen, a rectangle ([HOWELL] B-4).
func TestPenumbraOfAPanel(t *testing.T) {
	const w, h, d1, d2, l = 1.2, 0.9, 3.0, 1.0, 1000.0
	s := scenery(edge(-d1, 20), matt(vec{}, down, l, panel(w, h)))
	width := w * d2 / d1 // 0.4 m
	quarter := func(x float64) float64 {
		return math.Copysign(float64(photometry.ElementRectangleCorner(unit.Metre(math.Abs(x)+1e-12), h/2, d1+d2)), x)
	}
	k := known{name: "panel", scene: s, within: 2e-4, sure: 5e-3}
	for _, share := range []float64{-0.8, -0.51, -0.4, -0.25, 0, 0.25, 0.4, 0.51, 0.8} {
		x := share * width
		from := math.Min(w/2, math.Max(-w/2, -x*d1/d2)) // the panel is seen from here to +w/2
		k.ask = append(k.ask, flatAt(vec{X: x, Z: -d1 - d2}, geometry.Up))
		k.want = append(k.want, 2*math.Pi*l*(quarter(w/2-x)-quarter(from-x)))
	}
	k.want[0], k.want[1] = 0, 0 // out of the penumbra: nothing at all
	k.run(t)
}

// Half of a source is seen from the geometric shadow's edge, all of it and nothing from half the penumbra's width away.
func TestPenumbraOfADisc(t *testing.T) {
	const r, d1, d2, l = 0.25, 2.0, 0.5, 1000.0
	whole := func(x float64) float64 {
		return math.Pi * l * float64(photometry.ElementDisc(d1+d2, r, unit.Metre(x)))
	}
	half := r * d2 / d1
	at := func(x float64) scene.Receiver { return flatAt(vec{X: x, Z: -d1 - d2}, geometry.Up) }
	known{name: "disc", scene: scenery(edge(-d1, 20), matt(vec{}, down, l, disc(r))), within: 2e-4, sure: 5e-3,
		ask:  []scene.Receiver{at(-1.01 * half), at(0), at(1.01 * half)},
		want: []float64{0, whole(0) / 2, whole(1.01 * half)}}.run(t)
}

// The sun behind an edge h away: 2h·tan 0.2666° = 0.0186 m wide at 2 m; inside, the share of the disc beyond a chord.
func TestPenumbraOfTheSun(t *testing.T) {
	const h = 2.0
	half := h * math.Tan(float64(scene.SunRadius)*math.Pi/180)
	if math.Abs(2*half-0.01861) > 1e-5 {
		t.Fatalf("penumbra %v m", 2*half)
	}
	k := known{name: "sun", scene: scenery(edge(h, 4), sun(geometry.Up)), within: 1e-3, sure: 1e-2}
	for _, c := range []float64{-1.02, -0.6, 0, 0.6, 1.02} {
		share := 0.5 + (c*math.Sqrt(math.Max(0, 1-c*c))+math.Asin(math.Max(-1, math.Min(1, c))))/math.Pi
		k.ask = append(k.ask, flatAt(vec{X: c * half}, geometry.Up))
		k.want = append(k.want, share)
	}
	k.run(t)
}

// sun is one that gives 1 lx square-on.
func sun(toward vec) scene.Emitter { return scene.Emitter{Kind: scene.Sun, Toward: toward.Unit()} }
