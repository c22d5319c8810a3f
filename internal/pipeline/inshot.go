package pipeline

import (
	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// InShot is gear that the camera sees, or sees mirrored.
type InShot struct {
	Thing string  `json:"thing" doc:"by its name in the plan"`
	Text  string  `json:"text" doc:"what of it is seen, and where in the picture"`
	X     float64 `json:"x" doc:"the middle of what is seen, in shares of the picture from the left"`
	Y     float64 `json:"y" doc:"from the top"`
}

// unwanted is places of one thing that nobody wants in the picture; those of its stand come after the rest.
type unwanted struct {
	thing  string
	places []geometry.Vector
	stand  int // where its stand begins
}

// standStep is how far the places are apart at which a stand is looked for, m.
const standStep = 0.1

// inShot finds lamps, their stands (straight down to the floor, as most stand), the frames of cloths, and what of them and of
// the camera is mirrored to it. Practicals are meant to be seen.
func inShot(setup *scene.Setup, sight *transport.Sight) []InShot {
	found := []InShot{}
	eye := setup.View.At
	for _, g := range unwantedOf(setup) {
		seen, mirrored := frame{}, map[string]*frame{}
		for i, place := range g.places {
			if x, y, ok := framed(setup.View, place); ok && sight.Clear(eye, place) {
				seen.add(x, y, i >= g.stand)
			}
			surfaces, images := sight.Mirrored(eye, place)
			for k, image := range images {
				if x, y, ok := framed(setup.View, image); ok {
					in := setup.Scene.Surfaces[surfaces[k]].Name
					if mirrored[in] == nil {
						mirrored[in] = &frame{}
					}
					mirrored[in].add(x, y, i >= g.stand)
				}
			}
		}
		if seen.heads+seen.stands > 0 && g.thing != cameraName {
			found = append(found, seen.told(g.thing, "in shot"))
		}
		for i := range setup.Scene.Surfaces {
			if in := setup.Scene.Surfaces[i].Name; mirrored[in] != nil {
				found = append(found, mirrored[in].told(g.thing, "mirrored in "+in))
				delete(mirrored, in)
			}
		}
	}
	return found
}

const cameraName = "camera"

// unwantedOf returns what must not be seen, in the plan's order.
func unwantedOf(setup *scene.Setup) (all []unwanted) {
	for i := range setup.Lamps {
		if use := &setup.Lamps[i]; use.Kit != nil {
			all = append(all, lampOnStand(use.Name, &setup.Scene.Emitters[use.Emitter]))
		}
	}
	for c, name := range setup.Scene.Cloths {
		g := unwanted{thing: name}
		for i := range setup.Scene.Surfaces {
			if s := &setup.Scene.Surfaces[i]; s.Cloth == c {
				g.places = append(g.places, spread(s.Mesh)...)
			}
		}
		g.stand = len(g.places)
		all = append(all, g)
	}
	return append(all, unwanted{cameraName, []geometry.Vector{setup.View.At}, 1})
}

// lampOnStand is a head by the middle and the sides of its front, and its stand.
func lampOnStand(name string, e *scene.Emitter) unwanted {
	g := unwanted{thing: name, places: []geometry.Vector{e.Centre}}
	wide, high := max(e.Form.Radius, e.Form.Width/2), max(e.Form.Radius, e.Form.Height/2)
	for _, side := range []float64{-1, 1} {
		g.places = append(g.places, e.Centre.AddMul(side*wide, e.Basis.X), e.Centre.AddMul(side*high, e.Basis.Y))
	}
	g.stand = len(g.places)
	for z := e.Centre.Z - high - standStep; z > 0; z -= standStep {
		g.places = append(g.places, geometry.Vector{X: e.Centre.X, Y: e.Centre.Y, Z: z})
	}
	return g
}

// spreadOver is into how many parts the sides of a triangle are cut that is looked at.
const spreadOver = 4

// spread returns places all over a mesh.
func spread(m geometry.Mesh) (places []geometry.Vector) {
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		for i := range spreadOver + 1 {
			for j := range spreadOver + 1 - i {
				places = append(places, a.AddMul(float64(i)/spreadOver, b.Sub(a)).AddMul(float64(j)/spreadOver, c.Sub(a)))
			}
		}
	}
	return places
}

// framed returns where a place is in the picture, 0 to 1 from the left and from the top; ok is false where it is outside.
func framed(v *scene.View, place geometry.Vector) (x, y float64, ok bool) {
	p := v.Basis.In(place.Sub(v.At))
	if p.Z <= 0 {
		return 0, 0, false
	}
	x, y = 0.5+p.X/p.Z*v.Focal/v.Width, 0.5+p.Y/p.Z*v.Focal/v.Height
	return x, y, x >= 0 && x <= 1 && y >= 0 && y <= 1
}

// frame is where places are in the picture. A stand counts for that only where nothing else of its lamp is seen.
type frame struct {
	x, y   float64 // sums
	heads  int     // places that are not of a stand
	stands int
}

func (f *frame) add(x, y float64, stand bool) {
	if stand {
		f.stands++
	} else {
		f.heads++
	}
	if !stand || f.heads == 0 {
		f.x, f.y = f.x+x, f.y+y
	}
}

// middle is their mean.
func (f *frame) middle() (x, y float64) {
	n := f.heads
	if n == 0 {
		n = f.stands
	}
	return f.x / float64(n), f.y / float64(n)
}

// told says what is seen there, and how.
func (f *frame) told(thing, how string) InShot {
	what := thing + " and its stand are "
	switch {
	case f.stands == 0:
		what = thing + " is "
	case f.heads == 0:
		what = thing + ", its stand, is "
	}
	x, y := f.middle()
	return InShot{thing, what + how + ", " + f.where(), x, y}
}

// where says it in words, by thirds of the picture.
func (f *frame) where() string {
	x, y := f.middle()
	where := [...]string{"top ", "", "bottom "}[min(2, int(3*y))] + [...]string{"left", "middle", "right"}[min(2, int(3*x))]
	if where == "middle" {
		return "in the middle"
	}
	return where
}
