package scene

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
)

func (b *builder) rooms() {
	for _, r := range b.view.Document.Set.Rooms {
		b.room(r.Name, &r.Value)
	}
}

func (b *builder) room(name string, r *plan.Room) {
	path := document.Path("set.rooms").Join(name)
	corner := b.where(path.Join("corner"), r.Corner, 0)
	walls := plan.Walls(corner, r.Size)
	holes := map[string][]geometry.Hole{}
	for i := range r.Openings {
		o := &r.Openings[i]
		at := path.Join("openings").Join(o.Name)
		w, ok := plan.FindWall(walls, o.Value.Wall, b.view.Document.Set.North)
		if !ok || (r.Vault > 0 && w.Name == ceiling) {
			b.fail(at.Join("wall"), "no such wall", o.Value.Wall, "left, right, near, far, ceiling (not of a vault) or a compass point")
			continue
		}
		hole := o.Value.HoleIn(w)
		holes[w.Name] = append(holes[w.Name], geometry.Hole(hole))
		b.opening(at, o.Name, &o.Value, w, hole)
	}
	for _, w := range walls {
		material := r.Walls
		if w.Name == ceiling {
			material = r.Ceiling
			if r.Vault > 0 {
				b.vault(path, name, corner, r)
				continue
			}
		}
		b.add(name+" "+w.Name, geometry.Wall(w.Corner, w.Basis, w.Width, w.Height, 0, holes[w.Name]), b.material(path, material))
	}
	floor := geometry.Wall(corner, upright, float64(r.Size.Width), float64(r.Size.Depth), 0, nil)
	b.add(name+" floor", floor, b.material(path, r.Floor))
}

// ceiling is the name plan.Walls gives a room's ceiling.
const ceiling = "ceiling"

// upright is the world's own basis.
var upright = geometry.Basis{X: geometry.Vector{X: 1}, Y: geometry.Vector{Y: 1}, Z: geometry.Up}

// vaultSegments makes a barrel vault smooth to a few millimetres in any room.
const vaultSegments = 48

// vault closes a room with a barrel vault and the two half-moons above its near and far wall.
func (b *builder) vault(path document.Path, name string, corner geometry.Vector, r *plan.Room) {
	w, d, h, rise := float64(r.Size.Width), float64(r.Size.Depth), float64(r.Size.Height), float64(r.Vault)
	at := func(y float64) geometry.Vector { return corner.Add(geometry.Vector{X: w / 2, Y: y, Z: h}) }
	turned := geometry.Basis{X: geometry.Vector{X: -1}, Y: geometry.Vector{Y: -1}, Z: geometry.Up}
	b.add(name+" vault", geometry.Vault(w, d, rise, vaultSegments).Transform(upright, at(d/2), 1), b.material(path, r.Ceiling))
	end := geometry.Lunette(w, rise, vaultSegments)
	walls := b.material(path, r.Walls)
	b.add(name+" near end", end.Transform(upright, at(0), 1), walls)
	b.add(name+" far end", end.Transform(turned, at(d), 1), walls)
}

// paneClarity gives one clear pane 0.90 at normal incidence, two 0.81: 4 mm float glass as EN 410 data sheets state it
// (from memory).
const paneClarity = 0.98

func (b *builder) opening(path document.Path, name string, o *plan.Opening, w *plan.Wall, hole plan.Hole) {
	opening := Opening{
		Name: name, Centre: hole.Centre(w), Gel: b.gel(path.Join("gel"), o.Gel),
		U: w.Basis.X.Mul(hole.W / 2), V: w.Basis.Y.Mul(hole.H / 2),
	}
	optics := Void()
	if panes := map[string]int{"none": 0, "single": 1, "double": 2}[o.Glass]; panes > 0 {
		optics = Optics{Panes: panes, PaneClarity: paneClarity}
	}
	b.setup.Scene.Openings = append(b.setup.Scene.Openings, opening)
	b.setup.Scene.Surfaces = append(b.setup.Scene.Surfaces, Surface{
		Name: name, Mesh: geometry.Rectangle(opening.Centre, w.Basis, hole.W, hole.H), Optics: optics,
		Cloth: -1, Opening: len(b.setup.Scene.Openings) - 1,
	})
}
