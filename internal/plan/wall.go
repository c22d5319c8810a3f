package plan

import (
	"math"
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// Wall is one face of a room that can hold openings: its lower left corner seen from inside, its ways and
// its size in metres. The ceiling's way up leads to the near wall.
type Wall struct {
	Name          string
	Corner        geometry.Vector
	Basis         geometry.Basis // X right, Y up, Z into the room
	Width, Height float64
	Azimuth       float64 // of the way out, clockwise from +y, degrees; NaN for the ceiling
}

// Walls returns a room's walls and ceiling. The corner is the least x, y and z.
func Walls(corner geometry.Vector, size unit.Size3) []Wall {
	w, d, h := float64(size.Width), float64(size.Depth), float64(size.Height)
	x, y, up := geometry.Vector{X: 1}, geometry.Vector{Y: 1}, geometry.Up
	return []Wall{
		{"far", corner.Add(geometry.Vector{Y: d}), facing(x, up), w, h, 0},
		{"right", corner.Add(geometry.Vector{X: w, Y: d}), facing(y.Neg(), up), d, h, 90},
		{"near", corner.Add(geometry.Vector{X: w}), facing(x.Neg(), up), w, h, 180},
		{"left", corner, facing(y, up), d, h, 270},
		{"ceiling", corner.Add(geometry.Vector{Y: d, Z: h}), facing(x, y.Neg()), w, d, math.NaN()},
	}
}

// facing is a basis by the ways right and up.
func facing(right, up geometry.Vector) geometry.Basis {
	return geometry.Basis{X: right, Y: up, Z: right.Cross(up)}
}

const wallForms = "left, right, near, far, ceiling, north, north-east, east …"

// wallWords are the compass words for walls, every 45° from north.
var wallWords = []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// FindWall returns the wall of that name, or the one that faces out most nearly to that point of the compass, where
// north is the azimuth of +y. A point of the compass halfway between two walls names none.
func FindWall(all []Wall, word string, north unit.Bearing) (*Wall, bool) {
	point := slices.Index(wallWords, word)
	var best *Wall
	off, next := math.Inf(1), math.Inf(1)
	for i := range all {
		w := &all[i]
		if w.Name == word {
			return w, true
		}
		turn := math.Abs(math.Remainder(w.Azimuth+float64(north)-45*float64(point), 360))
		switch {
		case turn < off:
			best, off, next = w, turn, off
		case turn < next:
			next = turn
		}
	}
	return best, point >= 0 && next-off > 1e-6
}

// Hole is where an opening is in its wall, in metres from the wall's lower left corner.
type Hole geometry.Hole

// defaultSill is the height of an opening's lower edge where none is given, m.
const defaultSill = 0.9

// HoleIn places an opening in its wall. In the ceiling the sill counts from the near wall, and both ways are centred
// where nothing is given.
func (o *Opening) HoleIn(w *Wall) Hole {
	at := Hole{W: float64(o.Size.Width), H: float64(o.Size.Height), Y: defaultSill}
	at.X = (w.Width - at.W) / 2
	if o.At != nil {
		at.X = float64(*o.At)
	}
	if w.Name == "ceiling" {
		at.Y = (w.Height - at.H) / 2
	}
	if o.Sill != nil {
		at.Y = float64(*o.Sill)
		if w.Name == "ceiling" {
			at.Y = w.Height - at.Y - at.H
		}
	}
	return at
}

// holesIn returns where a room's openings are in one of its walls.
func (r *Room) holesIn(w *Wall, all []Wall, north unit.Bearing) []Hole {
	var holes []Hole
	for i := range r.Openings {
		if in, ok := FindWall(all, r.Openings[i].Value.Wall, north); ok && in == w {
			holes = append(holes, r.Openings[i].Value.HoleIn(w))
		}
	}
	return holes
}

// within reports whether the hole lies in a wall of that size, to a tenth of a millimetre.
func (h Hole) within(width, height float64) bool {
	const slack = 1e-4
	return h.X >= -slack && h.Y >= -slack && h.X+h.W <= width+slack && h.Y+h.H <= height+slack
}

// overlaps reports whether two holes in one wall share more than an edge.
func (h Hole) overlaps(o Hole) bool {
	const slack = 1e-4
	return h.X+slack < o.X+o.W && o.X+slack < h.X+h.W && h.Y+slack < o.Y+o.H && o.Y+slack < h.Y+h.H
}

// Centre returns the middle of the hole in space.
func (h Hole) Centre(w *Wall) geometry.Vector {
	return w.Corner.AddMul(h.X+h.W/2, w.Basis.X).AddMul(h.Y+h.H/2, w.Basis.Y)
}

// holds reports whether a point of the wall, in metres from its lower left corner, lies in the hole.
func (h Hole) holds(x, y float64) bool { return x > h.X && x < h.X+h.W && y > h.Y && y < h.Y+h.H }
