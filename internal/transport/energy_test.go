package transport

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
)

// In an open box under an even sky, where nothing absorbs, everything is as bright as the sky from everywhere: every
// flat receptor reads π, every dome 2π, every spot 1, whatever stands in the box.
func TestFurnace(t *testing.T) {
	white := scene.Matt(grey(1))
	box := closedRoom(vec{X: 4, Y: 3, Z: 2}, 1, 0, 1)
	box = append(box[:1], box[2:]...)
	lid := board(vec{X: 2, Y: 1.5, Z: 2}, down, 4, 3, scene.Void())
	lid.Opening = 0
	for _, row := range []struct {
		name     string
		surfaces []scene.Surface
	}{
		{"empty", nil},
		{"object", []scene.Surface{surface(geometry.Box(vec{X: 2.2, Y: 1.5, Z: 0.5}, geometry.About(geometry.Up), vec{X: 1, Y: 1, Z: 1}), white)}},
		{"heavy cloth", []scene.Surface{board(vec{X: 2, Y: 1.5, Z: 1}, vec{X: 1, Z: 1}, 2, 2,
			scene.Optics{ReflectFront: grey(0.4), ReflectBack: grey(0.4), Transmit: grey(0.6)})}},
		{"light cloth", []scene.Surface{board(vec{X: 2, Y: 1.5, Z: 1.2}, vec{X: 0.5, Z: 1}, 2.5, 2,
			scene.Optics{ReflectFront: grey(0.2), ReflectBack: grey(0.2), Transmit: grey(0.3), Straight: grey(0.5)})}},
		{"glass", []scene.Surface{board(vec{X: 2, Y: 1.5, Z: 1.2}, vec{X: 0.5, Z: 1}, 3, 2, glass(1)),
			board(vec{X: 2.5, Y: 1.5, Z: 0.8}, toX, 2, 1.5, glass(2))}},
		{"mirror", []scene.Surface{board(vec{X: 2, Y: 1.5, Z: 0.8}, vec{X: 1, Z: 0.3}, 2, 1.2, scene.Optics{Mirror: grey(1)})}},
	} {
		for _, lidded := range []bool{false, true} {
			s := scenery(append(row.surfaces, box...), sky(false))
			name := row.name
			if lidded { // the same, but the opening is known and looked through
				s.Surfaces = append(s.Surfaces, lid)
				s.Openings = []scene.Opening{{Centre: vec{X: 2, Y: 1.5, Z: 2}, U: vec{X: 2}, V: vec{Y: 1.5}, Gel: scene.Clear}}
				name += ", known opening"
			}
			at := vec{X: 1, Y: 1, Z: 0.4}
			known{name: name, scene: s, within: 1e-9, sure: 0.02, most: 1 << 16,
				ask: []scene.Receiver{flatAt(at, geometry.Up), flatAt(at, down), flatAt(vec{X: 3.5, Y: 2.9, Z: 1.9}, toX), flatAt(vec{X: 2}, geometry.Up),
					domeAt(at, toX), spotAt(at, vec{X: 2, Y: 1.5, Z: 0.8}), spotAt(at, vec{})},
				want: []float64{math.Pi, math.Pi, math.Pi, math.Pi, 2 * math.Pi, 1, 1}}.run(t)
		}
	}
}

// sink is one side of a surface, or an imagined one, that takes a share of what arrives.
type sink struct {
	area, share float64
	at          func(u, v float64) (place, normal vec) // evenly over it
}

// boardSink is one side of a board.
func boardSink(m geometry.Mesh, back bool, share float64) sink {
	corner := m.Positions[0]
	x, y := m.Positions[1].Sub(corner), m.Positions[3].Sub(corner)
	n := x.Cross(y)
	if back {
		n = n.Neg()
	}
	return sink{n.Length(), share, func(u, v float64) (vec, vec) { return corner.AddMul(u, x).AddMul(v, y), n }}
}

// ballSink is a sphere about the origin that catches what leaves it.
func ballSink(radius float64) sink {
	return sink{4 * math.Pi * radius * radius, 1, func(u, v float64) (vec, vec) {
		out := about(geometry.Up, 1-2*u, 2*math.Pi*v)
		return out.Mul(radius), out.Neg()
	}}
}

// kitSize is how many surfaces, at the end of a scene, stand in its room.
const kitSize = 5

// sinksOf lists the sides of a scene's boards that absorb.
func sinksOf(s *scene.Scene) (sinks []sink) {
	for i := range s.Surfaces {
		o := &s.Surfaces[i].Optics
		if o.Panes > 0 {
			continue // lossless here
		}
		passed := mean(&o.Transmit) + mean(&o.Straight) + mean(&o.Mirror)
		sinks = append(sinks, boardSink(s.Surfaces[i].Mesh, false, 1-passed-mean(&o.ReflectFront)))
		if i >= len(s.Surfaces)-kitSize { // the backs of the room see no light
			sinks = append(sinks, boardSink(s.Surfaces[i].Mesh, true, 1-passed-mean(&o.ReflectBack)))
		}
	}
	return sinks
}

// drained is the flux that the sinks take, by places in eight streams, with its standard error: the scatter of streams,
// and that of batches, since all places share the light paths of a batch.
func drained(t *testing.T, s *scene.Scene, sinks []sink) (flux, stderr float64) {
	t.Helper()
	const streams = 8
	s.Receivers = nil
	var weights []float64
	for stream := range streams {
		for i, k := range sinks {
			n := max(2, int(k.area))
			for j := range n {
				path := numeric.Path(numeric.Hash(uint32(i), uint32(stream)), uint32(j))
				place, normal := k.at(path.Next())
				r := flatAt(place, normal)
				r.Name = fmt.Sprint("place ", stream, i, j)
				s.Receivers = append(s.Receivers, r)
				weights = append(weights, k.share*k.area/float64(n))
			}
		}
	}
	layers := traced(t, s, 1, 1, 1024)
	var sums [streams]float64
	each := len(weights) / streams
	for i, w := range weights {
		level, _ := layers.Points[i].Level(evenly(s))
		sums[i/each] += w * level
	}
	flux, places := numeric.MeanError(sums[:])
	mean, paths := meanLevel(s, layers, weights)
	return flux, math.Hypot(places, paths/mean*flux)
}

// What lamps send is absorbed or escapes, scene by scene. Lamps are large here: the image of a small one in glass or a
// mirror is not found in so few paths.
func TestEnergyBalance(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	kit := func(about vec) []scene.Surface { // bounce, diffusion, light cloth, mirror and glass
		return []scene.Surface{
			board(about.Add(vec{X: 0.9}), vec{X: -1, Y: 0.3}, 1, 1, bounce(0.8)),
			board(about.Add(vec{Y: -0.9}), vec{Y: 1}, 1, 1, scene.Optics{Transmit: grey(0.22), ReflectFront: grey(0.65), ReflectBack: grey(0.5)}),
			board(about.Add(vec{X: 0.2, Y: 0.8}), vec{Y: -1, Z: 0.2}, 0.8, 1, scene.Optics{Straight: grey(0.6), Transmit: grey(0.2), ReflectFront: grey(0.1), ReflectBack: grey(0.1)}),
			board(about.Add(vec{X: -0.9}), vec{X: 1, Z: 0.4}, 1, 1, scene.Optics{Mirror: grey(0.9)}),
			board(about.Add(vec{Z: 0.7}), down, 1, 1, glass(1)),
		}
	}
	lamps := func(about vec) []scene.Emitter {
		return []scene.Emitter{
			matt(about.Add(vec{X: 0.1, Z: -0.3}), vec{X: 1, Z: 0.5}, 1000, panel(0.6, 0.5)),
			globe(about.Add(vec{X: -0.2, Y: 0.2, Z: 0.2}), 0.15, 500),
		}
	}
	const flux = math.Pi*1000*0.6*0.5 + 4*math.Pi*math.Pi*500*0.15*0.15
	open := closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0, 0.6)
	open = append(open[:1], open[2:]...)
	for _, row := range []struct {
		name    string
		scene   *scene.Scene
		escapes []sink
	}{
		{"closed room", scenery(append(closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0.7, 0.5), kit(vec{X: 2, Y: 1.5, Z: 1})...), lamps(vec{X: 2, Y: 1.5, Z: 1})...), nil},
		{"room without a ceiling", scenery(append(open, kit(vec{X: 2, Y: 1.5, Z: 1})...), lamps(vec{X: 2, Y: 1.5, Z: 1})...),
			[]sink{boardSink(geometry.Rectangle(vec{X: 2, Y: 1.5, Z: 2.5}, geometry.About(down), 4, 3), false, 1)}},
		{"in the open", scenery(kit(vec{}), lamps(vec{})...), []sink{ballSink(1.9)}},
	} {
		t.Run(row.name, func(t *testing.T) {
			absorbed, a := drained(t, row.scene, sinksOf(row.scene))
			escaped, b := 0.0, 0.0
			if row.escapes != nil {
				escaped, b = drained(t, row.scene, row.escapes)
			}
			stderr := math.Hypot(a, b)
			t.Logf("in %.5g lm, absorbed %.5g, escaped %.5g, ± %.2g", flux, absorbed, escaped, stderr)
			compare(t, "absorbed and escaped", absorbed+escaped, stderr, flux, 0)
			if stderr > 0.025*flux {
				t.Errorf("standard error %.2g", stderr/flux)
			}
		})
	}
}
