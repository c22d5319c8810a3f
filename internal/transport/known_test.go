package transport

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Scenes with an answer on paper. Each builder puts one thing into a scene; names are those of the source's own words.

type vec = geometry.Vector

var down, toX = vec{X: 0, Y: 0, Z: -1}, vec{X: 1}

func grey(rho float64) spectrum.Band { return flat(rho) }

// scenery puts emitters into a scene of surfaces.
func scenery(surfaces []scene.Surface, emitters ...scene.Emitter) *scene.Scene {
	for i := range emitters {
		emitters[i].Name = fmt.Sprint("emitter ", i)
	}
	return &scene.Scene{Surfaces: surfaces, Emitters: emitters}
}

func surface(m geometry.Mesh, o scene.Optics) scene.Surface {
	return scene.Surface{Mesh: m, Optics: o, Cloth: -1, Opening: -1}
}

// board is a rectangle facing z, w along the level side.
func board(centre, z vec, w, h float64, o scene.Optics) scene.Surface {
	return surface(geometry.Rectangle(centre, geometry.About(z.Unit()), w, h), o)
}

// closedRoom is a box seen from inside.
func closedRoom(size vec, floor, ceiling, walls float64) []scene.Surface {
	x, y, z := size.X, size.Y, size.Z
	side := func(c, n vec, w, h, rho float64) scene.Surface {
		return board(c, n, w, h, scene.Matt(grey(rho)))
	}
	return []scene.Surface{
		side(vec{X: x / 2, Y: y / 2}, geometry.Up, x, y, floor),
		side(vec{X: x / 2, Y: y / 2, Z: z}, down, x, y, ceiling),
		side(vec{X: x / 2, Y: 0, Z: z / 2}, vec{Y: 1}, x, z, walls),
		side(vec{X: x / 2, Y: y, Z: z / 2}, vec{Y: -1}, x, z, walls),
		side(vec{X: 0, Y: y / 2, Z: z / 2}, toX, y, z, walls),
		side(vec{X: x, Y: y / 2, Z: z / 2}, vec{X: -1}, y, z, walls),
	}
}

// spotlight is a lamp of a small opening aimed along z.
func spotlight(at, z vec, beam photometry.Distribution) scene.Emitter {
	return scene.Emitter{Kind: scene.Lamp, Centre: at, Basis: geometry.About(z.Unit()), Beam: beam,
		Form: scene.Form{Shape: scene.Disc, Radius: 1e-4}}
}

// point is a source of the given intensity all around, as a globe too small to matter.
func point(at vec, cd float64) scene.Emitter {
	const r = 1e-3
	return scene.Emitter{Kind: scene.Lamp, Centre: at, Basis: geometry.About(geometry.Up),
		Form: scene.Form{Shape: scene.Globe, Radius: r}, Luminance: cd / (math.Pi * r * r)}
}

// matt is an evenly bright opening of luminance l facing z.
func matt(at, z vec, l float64, f scene.Form) scene.Emitter {
	area := math.Pi * f.Radius * f.Radius
	if f.Shape == scene.Panel {
		area = f.Width * f.Height
	}
	e := spotlight(at, z, cosine(l*area))
	e.Form = f
	return e
}

// known is a scene, what is asked of it and the answer.
type known struct {
	name   string
	scene  *scene.Scene
	ask    []scene.Receiver
	want   []float64
	within float64 // relative, of the source's own rounding or of the sampling asked for
	sure   float64 // standard error in stops asked for
	most   int     // paths
}

func flatAt(at, n vec) scene.Receiver {
	return scene.Receiver{Name: fmt.Sprint(at, n), Kind: scene.Flat, Position: at, Normal: n.Unit()}
}

// run traces the scene and compares. A sampled answer must lie within the tolerance plus four of its own standard
// errors, and the standard error itself must be as small as asked.
func (k known) run(t *testing.T) {
	t.Helper()
	t.Run(k.name, func(t *testing.T) {
		k.scene.Receivers = k.ask
		if k.most == 0 {
			k.most = 1 << 18
		}
		if len(k.want) != len(k.ask) {
			t.Fatal("an answer is wanted for each receiver")
		}
		layers := traced(t, k.scene, 1, k.sure, k.most)
		for i, want := range k.want {
			got, stderr := layers.Points[i].Level(evenly(k.scene))
			if sure := float64(StopError(got, stderr)); sure > k.sure {
				t.Errorf("%s: standard error %.4f stop after %d paths, wanted %.4f", k.ask[i].Name, sure, layers.Points[i].Paths, k.sure)
			}
			compare(t, k.ask[i].Name, got, stderr, want, k.within)
		}
		sameEverywhere(t, k.scene)
	})
}

// sameEverywhere asks that a scene's layers, with light paths and without, have the same digits from both kernels, on one core
// and on many.
func sameEverywhere(t *testing.T, s *scene.Scene) {
	t.Helper()
	for _, plain := range []bool{false, true} {
		q := Request{Seed: 2, MostPaths: 1 << 9, Weights: evenly(s), Plain: plain}
		fast := must(Trace(context.Background(), s, q))
		q.plainRays = true
		cores := runtime.GOMAXPROCS(1)
		slow := must(Trace(context.Background(), s, q))
		runtime.GOMAXPROCS(cores)
		if !reflect.DeepEqual(fast.Points, slow.Points) {
			t.Errorf("the digits change with the machine (plain path tracing: %v)", plain)
		}
	}
}

// compare asks that got is want within a relative tolerance plus four standard errors; nothing is less than 1e-8.
func compare(t *testing.T, name string, got, stderr, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within*math.Abs(want)+4*stderr+1e-8) {
		t.Errorf("%s: %.6g ± %.2g, want %.6g (%.2g of it away)", name, got, stderr, want, (got-want)/want)
	}
}

// traced returns the layers of a scene, its emitters' light spread evenly over the bands, sure to so many stops or after
// the most paths; a whole stop asks for all the paths.
func traced(t *testing.T, s *scene.Scene, seed uint32, sure float64, most int) *Layers {
	t.Helper()
	if sure >= 1 {
		sure = 0
	}
	layers, err := Trace(context.Background(), s, Request{Seed: seed, Goal: unit.Stop(sure), MostPaths: most, Weights: evenly(s)})
	if err != nil {
		t.Fatal(err)
	}
	return layers
}

// meanLevel returns the mean of the receivers' levels under weights and its standard error; receivers are independent.
func meanLevel(s *scene.Scene, l *Layers, weights []float64) (mean, stderr float64) {
	var sum float64
	var batches [Batches]float64 // receivers share light paths: only batches are independent
	for i := range l.Points {
		for b := range batches {
			batches[b] += weights[i] * dot(l.Points[i].batches[b], evenly(s))
		}
		sum += weights[i]
	}
	mean, stderr = numeric.MeanError(batches[:])
	return mean / sum, stderr / sum
}

// evenly spreads every emitter's light evenly over the bands.
func evenly(s *scene.Scene) []spectrum.Band {
	w := make([]spectrum.Band, s.Columns())
	for c := range w {
		w[c] = flat(1.0 / spectrum.Bands)
	}
	return w
}
