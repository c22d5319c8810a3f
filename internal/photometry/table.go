package photometry

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// Symmetry names the planes a measured table repeats itself about.
type Symmetry string

// Symmetries of a file. Type C knows the first five, types A and B LeftRight and None.
const (
	Axial     Symmetry = "axial"
	Quadrant  Symmetry = "quadrant" // about C0–C180 and C90–C270
	AboutC0   Symmetry = "C0-C180"
	AboutC90  Symmetry = "C90-C270"
	LeftRight Symmetry = "left-right" // about horizontal angle 0
	None      Symmetry = "none"
)

// Type is the goniometer type of [LM-63], which says what a table's two angles are counted about. X, Y and Z are the
// lamp's own.
type Type string

const (
	// TypeC counts γ from +Z and C about it, from +X toward +Y.
	TypeC Type = "C"
	// TypeB counts horizontal angles H as latitude over the pole X and vertical angles V about it:
	// X = sin H, Y = cos H·sin V, Z = cos H·cos V.
	TypeB Type = "B"
	// TypeA counts V as latitude over the pole Y and H about it: X = cos V·sin H, Y = sin V, Z = cos V·cos H.
	TypeA Type = "A"
)

// Table is a measured distribution: intensities at the angles of a file, bilinear between them (in C and γ, or in the
// horizontal and vertical angle of types A and B) and zero outside the range measured.
type Table struct {
	kind                 Type
	symmetry             Symmetry
	horizontal, vertical []float64   // degrees, as the file lists them
	cd                   [][]float64 // cd[h][v]
	grid                 grid        // the whole sphere, symmetry undone
	sampler              sampler
	peak                 float64 // cd
}

// newTable returns the table, or nil where it holds no light. Angles ascend, intensities are finite and not negative.
func newTable(kind Type, symmetry Symmetry, horizontal, vertical []float64, cd [][]float64) *Table {
	t := &Table{kind: kind, symmetry: symmetry, horizontal: horizontal, vertical: vertical, cd: cd}
	for _, plane := range cd {
		for _, i := range plane {
			t.peak = max(t.peak, i)
		}
	}
	if kind == TypeC {
		lon, planes := unfold(symmetry, horizontal, cd)
		t.grid = newGrid(lon, vertical, planes)
	} else {
		t.grid = unfoldAB(kind, symmetry, horizontal, vertical, cd)
	}
	t.sampler = newSampler(&t.grid)
	if !(t.sampler.total > 0) {
		return nil
	}
	return t
}

// Flux returns the exact integral of the bilinear table over the sphere.
func (t *Table) Flux() unit.Lumen { return unit.Lumen(t.sampler.total) }

// Peak returns the greatest intensity in the table.
func (t *Table) Peak() unit.Candela { return unit.Candela(t.peak) }

// At returns the intensity toward the unit vector in the lamp's frame, in candela.
func (t *Table) At(d geometry.Vector) float64 { return t.grid.at(t.kind.angles(d)) }

// Intensity returns the intensity at (C, γ); C in any turn, γ from 0 to 180°. At γ = 0 a file may give each plane its
// own value: that of plane C is returned, where At takes plane C0. A table of type A or B is asked in the direction
// that (C, γ) has in the lamp's frame.
func (t *Table) Intensity(c, gamma unit.Degree) unit.Candela {
	if t.kind == TypeC {
		return unit.Candela(t.grid.at(float64(c), float64(gamma)))
	}
	return unit.Candela(t.At(Direction(c, gamma)))
}

// Sample draws a cell of the table by its flux, u across the planes and v along them, and a direction evenly within.
func (t *Table) Sample(u, v float64) (geometry.Vector, float64) {
	p := t.sampler.sample(&t.grid, u, v)
	return t.kind.vector(p.lon, p.sin, p.cos), p.pdf
}

// PDF returns the density, per steradian, with which Sample returns the unit vector.
func (t *Table) PDF(d geometry.Vector) float64 {
	i, j, _, _, inside := t.grid.cell(t.kind.angles(d))
	if !inside {
		return 0
	}
	return t.sampler.density(&t.grid, i, j)
}

// vector returns the direction of a place on the grid: longitude in radians, sine and cosine of the colatitude.
func (k Type) vector(lon, sin, cos float64) geometry.Vector {
	s, c := math.Sincos(lon)
	switch k {
	case TypeB:
		return geometry.Vector{X: -cos, Y: sin * s, Z: sin * c}
	case TypeA:
		return geometry.Vector{X: sin * s, Y: -cos, Z: sin * c}
	default:
		return geometry.Vector{X: sin * c, Y: sin * s, Z: cos}
	}
}

// angles returns the longitude and colatitude of a direction on the grid, in degrees.
func (k Type) angles(d geometry.Vector) (lon, colat float64) {
	switch k {
	case TypeB:
		lon, colat = math.Atan2(d.Y, d.Z), math.Atan2(math.Hypot(d.Y, d.Z), -d.X)
	case TypeA:
		lon, colat = math.Atan2(d.X, d.Z), math.Atan2(math.Hypot(d.X, d.Z), -d.Y)
	default:
		lon, colat = math.Atan2(d.Y, d.X), offAxis(d)
	}
	return lon / degree, colat / degree
}

// unfold returns the planes of type C all round, from those stored. The rows are shared, not copied.
func unfold(symmetry Symmetry, c []float64, cd [][]float64) ([]float64, [][]float64) {
	switch symmetry {
	case Axial:
		return []float64{0, turn}, [][]float64{cd[0], cd[0]}
	case Quadrant:
		return mirror(mirror(c, cd))
	case AboutC0, AboutC90:
		return mirror(c, cd)
	}
	if c[len(c)-1]-c[0] >= turn {
		return c, cd
	}
	return append(c[:len(c):len(c)], c[0]+turn), append(cd[:len(cd):len(cd)], cd[0])
}

// mirror appends the planes reflected about the last one.
func mirror(c []float64, cd [][]float64) ([]float64, [][]float64) {
	n := len(c)
	outC, outCd := c[:n:n], cd[:n:n]
	for i := n - 2; i >= 0; i-- {
		outC, outCd = append(outC, 2*c[n-1]-c[i]), append(outCd, cd[i])
	}
	return outC, outCd
}

// unfoldAB returns the grid of a type A or B table: for A longitude is the horizontal angle, for B the vertical one.
func unfoldAB(kind Type, symmetry Symmetry, h, v []float64, cd [][]float64) grid {
	if symmetry == LeftRight {
		var left []float64
		var planes [][]float64
		for i := len(h) - 1; i > 0; i-- {
			left, planes = append(left, -h[i]), append(planes, cd[i])
		}
		h, cd = append(left, h...), append(planes, cd...)
	}
	colat := func(latitude []float64) []float64 {
		out := make([]float64, len(latitude))
		for i, l := range latitude {
			out[i] = l + 90
		}
		return out
	}
	if kind == TypeA {
		return newGrid(h, colat(v), cd)
	}
	turned := make([][]float64, len(v))
	for j := range v {
		turned[j] = make([]float64, len(h))
		for i := range h {
			turned[j][i] = cd[i][j]
		}
	}
	return newGrid(v, colat(h), turned)
}
