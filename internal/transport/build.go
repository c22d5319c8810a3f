package transport

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	"gloam/internal/geometry"
	"gloam/internal/ray"
)

// alone is how many triangles give a surface a tree of its own, which stays when other things move. Smaller ones share one
// that is quick to build.
const alone = 256

// mark tells one thing's triangles from any others.
type mark [sha256.Size]byte

// build makes the hierarchy of the surfaces that light passes unbent, or of the others, and returns the largest coordinate.
func (w *world) build(d *side, passes bool, before *world) (extent float64) {
	var small soup
	var big []soup
	for i := range w.scene.Surfaces {
		s := &w.scene.Surfaces[i]
		switch {
		case s.Optics.Passes() != passes:
		case len(s.Mesh.Triangles) < alone:
			small.add(i, &s.Mesh)
		default:
			big = append(big, soup{})
			big[len(big)-1].add(i, &s.Mesh)
		}
	}
	var trees []*ray.Tree
	for _, s := range append([]soup{small}, big...) {
		trees = append(trees, w.tree(&s, before))
		d.surface = append(d.surface, s.surface...)
		d.normal = append(d.normal, s.normal...)
		extent = math.Max(extent, s.extent)
	}
	d.tree = trees[0]
	if len(trees) > 1 {
		d.tree = ray.Join(trees...)
	}
	return extent
}

// tree returns the tree of some triangles: the one it had before, if they stood so then.
func (w *world) tree(s *soup, before *world) *ray.Tree {
	m := s.mark()
	t, ok := w.trees[m]
	if !ok && before != nil {
		t, ok = before.trees[m]
	}
	if !ok {
		triangles := make([]int32, len(s.positions)/3)
		for i := range triangles {
			triangles[i] = int32(i)
		}
		t = ray.Build(s.positions, triangles)
	}
	w.trees[m] = t
	return t
}

// soup is triangles one by one: nine coordinates, a surface and a normal each.
type soup struct {
	positions []float32
	surface   []int32
	normal    []geometry.Vector
	extent    float64 // largest coordinate
}

// farthest is how far out a corner may lie, m, for its triangle to be there at all: the circumference of the earth.
const farthest = 4e7

// within reports whether a corner is a place; one that is no number is not.
func within(v geometry.Vector) bool {
	return math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest && math.Abs(v.Z) <= farthest
}

// add takes in a surface's triangles that have an area.
func (s *soup) add(surface int, m *geometry.Mesh) {
	for _, t := range m.Triangles {
		a, b, c := m.Positions[t[0]], m.Positions[t[1]], m.Positions[t[2]]
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		if n == (geometry.Vector{}) || !within(a) || !within(b) || !within(c) {
			continue
		}
		s.surface = append(s.surface, int32(surface))
		s.normal = append(s.normal, n)
		for _, p := range [3]geometry.Vector{a, b, c} {
			s.positions = append(s.positions, float32(p.X), float32(p.Y), float32(p.Z))
			s.extent = math.Max(s.extent, math.Max(math.Abs(p.X), math.Max(math.Abs(p.Y), math.Abs(p.Z))))
		}
	}
}

func (s *soup) mark() mark {
	h := sha256.New()
	var bytes [4096]byte
	n := 0
	for _, x := range s.positions {
		binary.LittleEndian.PutUint32(bytes[n:], math.Float32bits(x))
		if n += 4; n == len(bytes) {
			h.Write(bytes[:])
			n = 0
		}
	}
	h.Write(bytes[:n])
	return mark(h.Sum(nil))
}
