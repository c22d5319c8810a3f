package scene

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/plan"
)

// Plane is a flat rectangle: its corner, its ways right and up, and the way it faces (Z).
type Plane struct {
	Name          string
	Corner        geometry.Vector
	Basis         geometry.Basis
	Width, Height float64 // m
}

// RoomPlanes returns what the sun may fall on in a room: its walls, its floor and its flat ceiling, which no sun reaches but
// from a mirror. A vault is not among them.
func RoomPlanes(corner geometry.Vector, r *plan.Room) []Plane {
	var planes []Plane
	for _, w := range plan.Walls(corner, r.Size) {
		if w.Name != ceiling || r.Vault == 0 {
			planes = append(planes, Plane{w.Name, w.Corner, w.Basis, w.Width, w.Height})
		}
	}
	return append(planes, Plane{"floor", corner, upright, float64(r.Size.Width), float64(r.Size.Depth)})
}

// SunPatch returns the outline of the sun that falls through an opening onto a plane, in the plane's own metres right and up
// from its corner; nil where none does. toward leads to the sun. It is the patch of the sun's middle: the edge blurs by 9 mm for
// each metre from the opening. What stands in the room, in the opening or outside is not in it.
func SunPatch(o *Opening, toward geometry.Vector, p *Plane) [][2]float64 {
	facing := toward.Dot(p.Basis.Z)
	if toward.Dot(o.U.Cross(o.V)) >= 0 || facing <= grazing { // from inside, or from behind the plane
		return nil
	}
	var outline [][2]float64
	for _, corner := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		from := o.Centre.AddMul(corner[0], o.U).AddMul(corner[1], o.V).Sub(p.Corner)
		way := from.Dot(p.Basis.Z) / facing
		if way < -hairline {
			return nil // the plane lies outside
		}
		at := from.AddMul(-way, toward)
		outline = append(outline, [2]float64{at.Dot(p.Basis.X), at.Dot(p.Basis.Y)})
	}
	outline = cutAt(outline, 0, 1, 0)
	outline = cutAt(outline, 0, -1, -p.Width)
	outline = cutAt(outline, 1, 1, 0)
	outline = cutAt(outline, 1, -1, -p.Height)
	if outlineArea(outline) < hairline*hairline {
		return nil
	}
	return outline
}

const (
	grazing  = 1e-6 // cosine, below which the sun passes along a plane
	hairline = 1e-4 // m
)

// cutAt keeps the part of an outline where sign times a coordinate is at least low [SutherlandHodgman1974].
func cutAt(outline [][2]float64, axis int, sign, low float64) (kept [][2]float64) {
	for i, b := range outline {
		a := outline[(i+len(outline)-1)%len(outline)]
		before, after := sign*a[axis]-low, sign*b[axis]-low
		if (before >= 0) != (after >= 0) {
			t := before / (before - after)
			kept = append(kept, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		}
		if after >= 0 {
			kept = append(kept, b)
		}
	}
	return kept
}

// outlineArea returns the area inside an outline, m².
func outlineArea(outline [][2]float64) (area float64) {
	for i, b := range outline {
		a := outline[(i+len(outline)-1)%len(outline)]
		area += (a[0]*b[1] - a[1]*b[0]) / 2
	}
	return math.Abs(area)
}

// Block is a building or another box outside: the middle of its foot, its ways, and its size along them in metres.
type Block struct {
	Foot  geometry.Vector
	Basis geometry.Basis
	Size  geometry.Vector
}

// Hides reports whether a block stands between a place and the sun.
func (k *Block) Hides(from, toward geometry.Vector) bool {
	at, way := k.Basis.In(from.Sub(k.Foot)), k.Basis.In(toward)
	near, far := 0.0, math.Inf(1)
	for _, side := range [3][4]float64{
		{at.X, way.X, -k.Size.X / 2, k.Size.X / 2}, {at.Y, way.Y, -k.Size.Y / 2, k.Size.Y / 2}, {at.Z, way.Z, 0, k.Size.Z},
	} {
		if side[1] == 0 {
			if side[0] < side[2] || side[0] > side[3] {
				return false
			}
			continue
		}
		a, b := (side[2]-side[0])/side[1], (side[3]-side[0])/side[1]
		near, far = math.Max(near, math.Min(a, b)), math.Min(far, math.Max(a, b))
	}
	return near < far
}

// SunReaches reports whether the sun, toward it, shines in at any of nine places of an opening past blocks outside. A horizon
// is not asked for.
func (o *Opening) SunReaches(toward geometry.Vector, blocks []Block) bool {
	if toward.Z <= 0 || toward.Dot(o.U.Cross(o.V)) >= 0 {
		return false
	}
	for i := range 9 {
		from := o.Centre.AddMul(float64(i%3-1)*inside, o.U).AddMul(float64(i/3-1)*inside, o.V)
		hidden := false
		for k := range blocks {
			hidden = hidden || blocks[k].Hides(from, toward)
		}
		if !hidden {
			return true
		}
	}
	return false
}

// inside keeps the outer of an opening's places off its frame, as a share of half a side.
const inside = 0.98
