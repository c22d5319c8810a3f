package pipeline

import (
	"fmt"

	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// InShot is gear that the camera sees, or sees mirrored.
type InShot struct {
	Thing string `json:"thing" doc:"by its name in the plan"`
	Text  string `json:"text" doc:"what of it is seen, and where in the picture"`
}

// gearPart is places of one thing that nobody wants in the picture.
type gearPart struct {
	thing, part string
	places      []geometry.Vector
}

// standStep is how far the places are apart at which a stand is looked for, m.
const standStep = 0.1

// inShot finds lamps, their stands (straight down to the floor, as most stand), the frames of cloths, and what of them and of
// the camera is mirrored to it. Practicals are meant to be seen.
func inShot(setup *scene.Setup, sight *transport.Sight) []InShot {
	found := []InShot{}
	eye := setup.View.At
	for _, g := range gearOf(setup) {
		seen, mirrored := frame{}, map[string]*frame{}
		for _, place := range g.places {
			if x, y, ok := framed(setup.View, place); ok && sight.Clear(eye, place) {
				seen.add(x, y)
			}
			surfaces, images := sight.Mirrored(eye, place)
			for i, image := range images {
				if x, y, ok := framed(setup.View, image); ok {
					in := setup.Scene.Surfaces[surfaces[i]].Name
					if mirrored[in] == nil {
						mirrored[in] = &frame{}
					}
					mirrored[in].add(x, y)
				}
			}
		}
		if seen.count > 0 && g.thing != cameraName {
			found = append(found, InShot{g.thing, fmt.Sprintf("%s is in shot, %s", g.named(), seen.where())})
		}
		for i := range setup.Scene.Surfaces {
			if in := setup.Scene.Surfaces[i].Name; mirrored[in] != nil {
				found = append(found, InShot{g.thing, fmt.Sprintf("%s is mirrored in %s, %s", g.named(), in, mirrored[in].where())})
				delete(mirrored, in)
			}
		}
	}
	return found
}

const cameraName = "camera"

func (g *gearPart) named() string {
	if g.part == "" {
		return g.thing
	}
	return g.thing + ", its " + g.part + ","
}

// gearOf returns what must not be seen, in the plan's order.
func gearOf(setup *scene.Setup) (all []gearPart) {
	for i := range setup.Lamps {
		use := &setup.Lamps[i]
		e := &setup.Scene.Emitters[use.Emitter]
		if use.Kit == nil {
			continue
		}
		head := gearPart{thing: use.Name, places: []geometry.Vector{e.Centre}}
		wide, high := max(e.Form.Radius, e.Form.Width/2), max(e.Form.Radius, e.Form.Height/2)
		for _, side := range []float64{-1, 1} {
			head.places = append(head.places, e.Centre.AddMul(side*wide, e.Basis.X), e.Centre.AddMul(side*high, e.Basis.Y))
		}
		stand := gearPart{thing: use.Name, part: "stand"}
		for z := e.Centre.Z - high - standStep; z > 0; z -= standStep {
			stand.places = append(stand.places, geometry.Vector{X: e.Centre.X, Y: e.Centre.Y, Z: z})
		}
		all = append(all, head, stand)
	}
	for c, name := range setup.Scene.Cloths {
		part := gearPart{thing: name}
		for i := range setup.Scene.Surfaces {
			if s := &setup.Scene.Surfaces[i]; s.Cloth == c {
				part.places = append(part.places, spread(s.Mesh)...)
			}
		}
		all = append(all, part)
	}
	return append(all, gearPart{thing: cameraName, places: []geometry.Vector{setup.View.At}})
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

// frame is the mean of where places are in the picture.
type frame struct {
	x, y  float64
	count int
}

func (f *frame) add(x, y float64) { f.x, f.y, f.count = f.x+x, f.y+y, f.count+1 }

// where says it in words, by thirds of the picture.
func (f *frame) where() string {
	third := func(sum float64) int { return min(2, int(3*sum/float64(f.count))) }
	where := [...]string{"top ", "", "bottom "}[third(f.y)] + [...]string{"left", "middle", "right"}[third(f.x)]
	if where == "middle" {
		return "in the middle"
	}
	return where
}
