package plan

import (
	"math"
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// wall is one face of a room that can hold openings: its lower left corner seen from inside, the ways right and up, its
// size in metres. The ceiling's way up leads to the near wall.
type wall struct {
	name          string
	corner        geometry.Vector
	right, up     geometry.Vector
	width, height float64
	azimuth       float64 // of the way out, clockwise from +y, degrees; NaN for the ceiling
}

// walls returns a room's walls and ceiling. The corner is the least x, y and z.
func walls(corner geometry.Vector, size unit.Size3) []wall {
	w, d, h := float64(size.Width), float64(size.Depth), float64(size.Height)
	x, y, up := geometry.Vector{X: 1}, geometry.Vector{Y: 1}, geometry.Up
	return []wall{
		{"far", corner.Add(geometry.Vector{Y: d}), x, up, w, h, 0},
		{"right", corner.Add(geometry.Vector{X: w, Y: d}), y.Neg(), up, d, h, 90},
		{"near", corner.Add(geometry.Vector{X: w}), x.Neg(), up, w, h, 180},
		{"left", corner, y, up, d, h, 270},
		{"ceiling", corner.Add(geometry.Vector{Y: d, Z: h}), x, y.Neg(), w, d, math.NaN()},
	}
}

const wallForms = "left, right, near, far, ceiling, north, north-east, east …"

// wallWords are the compass words for walls, every 45° from north.
var wallWords = []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// findWall returns the wall of that name, or the one that faces out most nearly to that point of the compass, where
// north is the azimuth of +y. A point of the compass halfway between two walls names none.
func findWall(all []wall, word string, north unit.Bearing) (*wall, bool) {
	point := slices.Index(wallWords, word)
	var best *wall
	off, next := math.Inf(1), math.Inf(1)
	for i := range all {
		w := &all[i]
		if w.name == word {
			return w, true
		}
		turn := math.Abs(math.Remainder(w.azimuth+float64(north)-45*float64(point), 360))
		switch {
		case turn < off:
			best, off, next = w, turn, off
		case turn < next:
			next = turn
		}
	}
	return best, point >= 0 && next-off > 1e-6
}

// hole is where an opening is in its wall, in metres from the wall's lower left corner.
type hole struct{ x, y, w, h float64 }

// defaultSill is the height of an opening's lower edge where none is given, m.
const defaultSill = 0.9

// holeIn places an opening in its wall. In the ceiling the sill counts from the near wall, and both ways are centred
// where nothing is given.
func (o *Opening) holeIn(w *wall) hole {
	at := hole{w: float64(o.Size.Width), h: float64(o.Size.Height), y: defaultSill}
	at.x = (w.width - at.w) / 2
	if o.At != nil {
		at.x = float64(*o.At)
	}
	if w.name == "ceiling" {
		at.y = (w.height - at.h) / 2
	}
	if o.Sill != nil {
		at.y = float64(*o.Sill)
		if w.name == "ceiling" {
			at.y = w.height - at.y - at.h
		}
	}
	return at
}

// holesIn returns where a room's openings are in one of its walls.
func (r *Room) holesIn(w *wall, all []wall, north unit.Bearing) []hole {
	var holes []hole
	for i := range r.Openings {
		if in, ok := findWall(all, r.Openings[i].Value.Wall, north); ok && in == w {
			holes = append(holes, r.Openings[i].Value.holeIn(w))
		}
	}
	return holes
}

// within reports whether the hole lies in a wall of that size, to a tenth of a millimetre.
func (h hole) within(width, height float64) bool {
	const slack = 1e-4
	return h.x >= -slack && h.y >= -slack && h.x+h.w <= width+slack && h.y+h.h <= height+slack
}

// overlaps reports whether two holes in one wall share more than an edge.
func (h hole) overlaps(o hole) bool {
	const slack = 1e-4
	return h.x+slack < o.x+o.w && o.x+slack < h.x+h.w && h.y+slack < o.y+o.h && o.y+slack < h.y+h.h
}

// centre returns the middle of the hole in space.
func (h hole) centre(w *wall) geometry.Vector {
	return w.corner.AddMul(h.x+h.w/2, w.right).AddMul(h.y+h.h/2, w.up)
}

// holds reports whether a point of the wall, in metres from its lower left corner, lies in the hole.
func (h hole) holds(x, y float64) bool { return x > h.x && x < h.x+h.w && y > h.y && y < h.y+h.h }
