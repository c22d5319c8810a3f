package transport

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
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
		layers, err := Trace(context.Background(), k.scene, Request{
			Seed: 1, Goal: unitStop(k.sure), MostPaths: k.most, Weights: evenly(k.scene),
		})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range k.want {
			got, stderr := layers.Points[i].Level(evenly(k.scene))
			if sure := float64(StopError(got, stderr)); sure > k.sure {
				t.Errorf("%s: standard error %.4f stop after %d paths, wanted %.4f", k.ask[i].Name, sure, layers.Points[i].Paths, k.sure)
			}
			if math.Abs(got-want) > k.within*want+4*stderr {
				t.Errorf("%s: %.6g ± %.2g, want %.6g (%.2g of it away)", k.ask[i].Name, got, stderr, want, (got-want)/want)
			}
		}
	})
}

// evenly spreads every emitter's light evenly over the bands.
func evenly(s *scene.Scene) []spectrum.Band {
	w := make([]spectrum.Band, s.Columns())
	for c := range w {
		w[c] = flat(1.0 / spectrum.Bands)
	}
	return w
}
