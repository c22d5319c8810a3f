package scene

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// wall is one face of a room seen from inside: corner is its lower left, X runs right, Y up, Z into the room.
type wall struct {
	name    string
	corner  geometry.Vector
	basis   geometry.Basis
	w, h    float64
	azimuth float64 // of the way out, from +y clockwise, degrees; NaN for floor and ceiling
}

// walls returns a room's faces. The ceiling's Y runs toward the near wall.
func walls(corner geometry.Vector, size unit.Size3) []wall {
	w, d, h := float64(size.Width), float64(size.Depth), float64(size.Height)
	at := func(x, y, z float64) geometry.Vector { return corner.Add(geometry.Vector{X: x, Y: y, Z: z}) }
	x, y, up := geometry.Vector{X: 1}, geometry.Vector{Y: 1}, geometry.Up
	return []wall{
		{"far", at(0, d, 0), geometry.Basis{X: x, Y: up, Z: y.Neg()}, w, h, 0},
		{"right", at(w, d, 0), geometry.Basis{X: y.Neg(), Y: up, Z: x.Neg()}, d, h, 90},
		{"near", at(w, 0, 0), geometry.Basis{X: x.Neg(), Y: up, Z: y}, w, h, 180},
		{"left", at(0, 0, 0), geometry.Basis{X: y, Y: up, Z: x}, d, h, 270},
		{"ceiling", at(0, d, h), geometry.Basis{X: x, Y: y.Neg(), Z: up.Neg()}, w, d, math.NaN()},
		{"floor", at(0, 0, 0), geometry.Basis{X: x, Y: y, Z: up}, w, d, math.NaN()},
	}
}

// compass holds the azimuths of the words for walls.
var compass = map[string]float64{"north": 0, "east": 90, "south": 180, "west": 270,
	"north-east": 45, "south-east": 135, "south-west": 225, "north-west": 315}

// named finds the wall a plan names, by its place in the plan or by the compass point it faces out to. North is the
// azimuth of +y. It returns -1 for no such wall.
func named(all []wall, name string, north unit.Bearing) int {
	bearing, byCompass := compass[name]
	best, off := -1, math.Inf(1)
	for i, w := range all {
		if w.name == name && name != "floor" {
			return i
		}
		if byCompass && !math.IsNaN(w.azimuth) {
			turn := math.Abs(math.Remainder(w.azimuth+float64(north)-bearing, 360))
			if turn < off {
				best, off = i, turn
			}
		}
	}
	return best
}

func (b *builder) rooms() {
	for _, r := range b.view.Document.Set.Rooms {
		b.room(r.Name, &r.Value)
	}
}

func (b *builder) room(name string, r *plan.Room) {
	path := document.Path("set.rooms").Join(name)
	corner := geometry.Vector{}
	if r.Corner != nil {
		corner = b.where(path.Join("corner"), r.Corner, 0)
	}
	all := walls(corner, r.Size)
	holes := make([][]geometry.Hole, len(all))
	for _, o := range r.Openings {
		at := path.Join("openings").Join(o.Name)
		i := named(all, o.Value.Wall, b.view.Document.Set.North)
		if i < 0 || (r.Vault > 0 && all[i].name == "ceiling") {
			b.fail(at.Join("wall"), "no such wall", o.Value.Wall, "left, right, near, far, ceiling (not of a vault) or a compass point")
			continue
		}
		hole := holeOf(&o.Value, &all[i])
		holes[i] = append(holes[i], hole)
		b.opening(at, o.Name, &o.Value, &all[i], hole)
	}
	for i, w := range all {
		material := r.Walls
		switch w.name {
		case "floor":
			material = r.Floor
		case "ceiling":
			material = r.Ceiling
			if r.Vault > 0 {
				b.vault(path, name, corner, r)
				continue
			}
		}
		b.add(name+" "+w.name, geometry.Wall(w.corner, w.basis, w.w, w.h, 0, holes[i]), b.material(path, material))
	}
}

// vaultSegments makes a barrel vault smooth to a few millimetres in any room.
const vaultSegments = 48

// vault closes a room with a barrel vault and the two half-moons above its near and far wall.
func (b *builder) vault(path document.Path, name string, corner geometry.Vector, r *plan.Room) {
	w, d, h, rise := float64(r.Size.Width), float64(r.Size.Depth), float64(r.Size.Height), float64(r.Vault)
	at := func(y float64) geometry.Vector { return corner.Add(geometry.Vector{X: w / 2, Y: y, Z: h}) }
	plain := geometry.Basis{X: geometry.Vector{X: 1}, Y: geometry.Vector{Y: 1}, Z: geometry.Up}
	turned := geometry.Basis{X: geometry.Vector{X: -1}, Y: geometry.Vector{Y: -1}, Z: geometry.Up}
	b.add(name+" vault", geometry.Vault(w, d, rise, vaultSegments).Transform(plain, at(d/2), 1), b.material(path, r.Ceiling))
	end := geometry.Lunette(w, rise, vaultSegments)
	walls := b.material(path, r.Walls)
	b.add(name+" near end", end.Transform(plain, at(0), 1), walls)
	b.add(name+" far end", end.Transform(turned, at(d), 1), walls)
}

// defaultSill is the height of a window's lower edge where the plan gives none.
const defaultSill = 0.9

// holeOf places an opening in its wall: from the left corner seen from inside, or centred; for the ceiling the sill is
// the distance of its near edge from the near wall.
func holeOf(o *plan.Opening, w *wall) geometry.Hole {
	hole := geometry.Hole{W: float64(o.Size.Width), H: float64(o.Size.Height), Y: defaultSill}
	hole.X = (w.w - hole.W) / 2
	if o.At != nil {
		hole.X = float64(*o.At)
	}
	if o.Sill != nil {
		hole.Y = float64(*o.Sill)
	}
	if w.name == "ceiling" {
		if o.Sill == nil {
			hole.Y = (w.h - hole.H) / 2
		}
		hole.Y = w.h - hole.Y - hole.H
	}
	return hole
}

// paneClarity gives one clear pane 0.90 at normal incidence, two 0.81: 4 mm float glass as EN 410 data sheets state it
// (from memory).
const paneClarity = 0.98

func (b *builder) opening(path document.Path, name string, o *plan.Opening, w *wall, hole geometry.Hole) {
	at := func(x, y float64) geometry.Vector { return w.corner.AddMul(x, w.basis.X).AddMul(y, w.basis.Y) }
	opening := Opening{
		Name: name, Centre: at(hole.X+hole.W/2, hole.Y+hole.H/2), Gel: Clear,
		U: w.basis.X.Mul(hole.W / 2), V: w.basis.Y.Mul(hole.H / 2),
	}
	if o.Gel != "" {
		gel, err := spectrum.ParseGel(o.Gel)
		if err != nil {
			b.failed(path.Join("gel"), err)
		}
		opening.Gel = gel.Band
	}
	optics := Void()
	if panes := map[string]int{"none": 0, "": 1, "single": 1, "double": 2}[o.Glass]; panes > 0 {
		optics = Optics{Panes: panes, PaneClarity: paneClarity}
	}
	b.setup.Scene.Openings = append(b.setup.Scene.Openings, opening)
	b.setup.Scene.Surfaces = append(b.setup.Scene.Surfaces, Surface{
		Name: name, Mesh: geometry.Rectangle(opening.Centre, w.basis, hole.W, hole.H), Optics: optics,
		Cloth: -1, Opening: len(b.setup.Scene.Openings) - 1,
	})
}
