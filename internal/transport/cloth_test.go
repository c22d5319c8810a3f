package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// Light cloth passes part of a beam as it came and scatters part of it on and back, each as a matt sheet would.
func TestLightCloth(t *testing.T) {
	const on, back, behind = 0.2, 0.15, 0.1
	straight := math.Exp2(-0.75)
	cloth := sheetFacing(vec{Z: 1.5}, geometry.Up, 1.2, 1)
	o := scene.Optics{Straight: grey(straight), Transmit: grey(on), ReflectFront: grey(back), ReflectBack: grey(behind)}
	lampAt := vec{X: 0.2, Z: 3}
	scattered := func(share float64) func(from, _ vec) float64 {
		return func(from, _ vec) float64 { return share / math.Pi * cloth.levelFrom(lampAt, from, 1000) }
	}
	under, over := vec{X: 0.3}, vec{X: 0.1, Z: 2.5}
	d := lampAt.Sub(under)
	direct := straight * 1000 * d.Z / math.Pow(d.Length(), 3)
	s := scenery([]scene.Surface{cloth.surface(o)}, point(lampAt, 1000))
	known{name: "lamp on the front", scene: s, within: 1e-4, sure: 3e-3,
		ask:  []scene.Receiver{flatAt(under, geometry.Up), flatAt(over, down)},
		want: []float64{direct + cloth.lights(under, geometry.Up, 40, scattered(on)), cloth.lights(over, down, 40, scattered(back))}}.run(t)
	p := &traced(t, s, 1, 1, 1024).Points[0]
	compare(t, "straight on", dot(p.Direct, evenly(s)), 0, direct, 1e-5)

	turned := cloth
	turned.basis = geometry.About(down)
	known{name: "lamp on the back", scene: scenery([]scene.Surface{turned.surface(o)}, point(lampAt, 1000)), within: 1e-4, sure: 3e-3,
		ask: []scene.Receiver{flatAt(over, down)}, want: []float64{cloth.lights(over, down, 40, scattered(behind))}}.run(t)
}

// A cloth that spreads a beam: the level behind it is the lobe's integral over the cloth. On the axis of a narrow beam
// it is below the unbent level, and above it aside.
func TestSpreadingCloth(t *testing.T) {
	const share = 0.8
	lampAt := vec{Z: 2.5}
	lamp := spotlight(lampAt, down, photometry.Bell(10000, 8))
	cloth := sheetFacing(vec{Z: 1}, geometry.Up, 2, 2)
	axis, aside := vec{}, vec{X: 0.9}
	for _, row := range []struct {
		name    string
		degrees float64
	}{{"5 degrees", 5}, {"40 degrees", 40}} {
		o := scene.Optics{Straight: grey(share), Spread: row.degrees * math.Pi / 180}
		kappa := kappaOf(o.Spread)
		// E·f, f = share·lobe/max(cos in, cos out): a luminance toward the receptor
		spread := func(from, toward vec) float64 {
			in := from.Sub(lampAt).Unit()
			lobe := kappa / (2 * math.Pi * -math.Expm1(-2*kappa)) * math.Exp(kappa*(in.Dot(toward)-1))
			return share * cloth.levelFrom(lampAt, from, lamp.Beam.At(lamp.Basis.In(in))) * lobe / math.Max(-in.Z, -toward.Z)
		}
		onAxis, offAxis := cloth.lights(axis, geometry.Up, 200, spread), cloth.lights(aside, geometry.Up, 200, spread)
		known{name: row.name, scene: scenery([]scene.Surface{cloth.surface(o)}, lamp), within: 1e-3, sure: 0.03, most: 1 << 19,
			ask: []scene.Receiver{flatAt(axis, geometry.Up), flatAt(aside, geometry.Up)}, want: []float64{onAxis, offAxis}}.run(t)
		unbentAside := share * lamp.Beam.At(lamp.Basis.In(aside.Sub(lampAt).Unit())) / (0.81 + 6.25)
		if unbent := share * 10000 / (2.5 * 2.5); onAxis > 0.95*unbent || offAxis < 1.5*unbentAside {
			t.Errorf("%s: %v on the axis, unbent %v; %v aside, unbent %v", row.name, onAxis, unbent, offAxis, unbentAside)
		}
	}
}

// kappaOf is the concentration of a lobe that falls to half at half the full angle.
func kappaOf(spread float64) float64 { return math.Ln2 / (1 - math.Cos(spread/2)) }

// A spreading cloth never sends on more than came in. Of square light it loses 1/κ, which is what keeping the lobe
// reciprocal costs: 0.1 % at 5°, 5 % at 30°; the rest is the mean cosine of the lobe, coth κ − 1/κ [Fisher1953]. On a
// slant it loses more: a guard keeps that under 18 % up to 30° and 60° of incidence.
func TestSpreadingClothKeepsItsFlux(t *testing.T) {
	for _, degrees := range []float64{5, 15, 30, 60, 90} {
		o := scene.Optics{Straight: grey(0.8), Spread: degrees * math.Pi / 180}
		kappa := kappaOf(o.Spread)
		for _, cos := range []float64{1, 0.9, 0.5, 0.1} {
			in := vec{X: math.Sqrt(1 - cos*cos), Z: -cos}
			v, _ := surfaceOf(&o, vec{}, in, &hit{normal: geometry.Up, front: true})
			g := grid{geometry.About(in), evenBounds(1, math.Max(-1, 1-20/kappa), 40)}
			sum := 0.0
			for _, x := range g.shares(8, func(d vec) float64 { f, _ := v.value(d); return f[0] }) {
				sum += x
			}
			if sum > 0.8 || degrees <= 30 && cos >= 0.5 && sum < 0.8*0.82 {
				t.Errorf("%v°, cos %v: hands on %v of 0.8", degrees, cos, sum)
			}
			if want := 0.8 * (1/math.Tanh(kappa) - 1/kappa); cos == 1 && degrees <= 60 {
				compare(t, "square-on", sum, 0, want, 3e-3) // of the cells
			}
		}
	}
}

// The same through the engine: what a plane behind the cloth catches.
func TestSpreadingClothOntoAPlane(t *testing.T) {
	const share, side = 0.8, 0.5
	spread := 30 * math.Pi / 180
	cloth := sheetFacing(vec{Z: 1}, geometry.Up, side, side)
	surfaces := append(hollow(cloth.centre, 10, side, side), // black beside the cloth
		cloth.surface(scene.Optics{Straight: grey(share), Spread: spread}))
	s := scenery(surfaces, sun(geometry.Up))
	plane := sheetFacing(vec{}, geometry.Up, 3.2, 3.2)
	var weights []float64
	s.Receivers, weights = plane.receivers(14, 0)
	got, stderr := meanLevel(s, traced(t, s, 1, 1e-9, 4096), weights)
	kappa := kappaOf(spread)
	compare(t, "mean on the plane", got, stderr, share*side*side*(1/math.Tanh(kappa)-1/kappa)/plane.area(), 2e-3) // of the nodes
	if stderr > 0.03*got {
		t.Errorf("standard error %.2g", stderr/got)
	}
}

// hollow is a black level square about a hole w x h.
func hollow(centre vec, size, w, h float64) []scene.Surface {
	part := func(x, y, w, h float64) scene.Surface {
		return board(centre.Add(vec{X: x, Y: y}), geometry.Up, w, h, scene.Matt(grey(0)))
	}
	side, end := (size+w)/4, (size+h)/4
	return []scene.Surface{
		part(-side, 0, (size-w)/2, size), part(side, 0, (size-w)/2, size),
		part(0, -end, w, (size-h)/2), part(0, end, w, (size-h)/2),
	}
}

// Via books what met a piece of cloth, for every piece met: all of a book light by both of its cloths; of a lamp that
// shines past a frame nothing.
func TestViaCloth(t *testing.T) {
	white := sheetFacing(vec{Y: -1}, vec{Y: 1}, 1.5, 1.5)
	grid := sheetFacing(vec{Z: -1}, down, 1.5, 1.5)
	a, b := white.surface(bounce(0.8)), grid.surface(scene.Optics{Transmit: grey(0.3), Straight: grey(0.1)})
	a.Cloth, b.Cloth = 0, 1
	s := scenery([]scene.Surface{a, b}, spotlight(vec{Y: 1}, vec{Y: -1}, photometry.Bell(1000, 12)), point(vec{X: 3, Z: -2}, 10))
	s.Cloths = []string{"white", "grid"}
	s.Receivers = []scene.Receiver{flatAt(vec{Z: -2.5}, geometry.Up)}
	p := &traced(t, s, 1, 0.01, 1<<16).Points[0]
	book, _ := p.LevelOf(evenly(s), 0)
	if book == 0 {
		t.Fatal("no light")
	}
	// The lamp faces the bounce: whatever arrives met the bounce, and crossed the grid or passed beside it.
	compare(t, "by the white", p.Via[0][0], 0, book, 1e-9)
	if by := p.Via[0][1]; by <= 0.5*book || by > book {
		t.Errorf("%v of %v by the grid", by, book)
	}
	side, _ := p.LevelOf(evenly(s), 1)
	bounced := p.Via[1][0]
	if direct := mean(&p.Direct[1]); bounced <= 0 || side-direct < bounced*(1-1e-9) {
		t.Errorf("the other lamp: %v, direct %v, by the white %v", side, direct, bounced)
	}
}
