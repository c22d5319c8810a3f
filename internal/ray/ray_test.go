package ray

import (
	"math"
	"math/rand"
	"testing"

	"gloam/internal/geometry"
)

// room returns a closed box 6 x 5 x 2.8 m facing either way, with a sphere in it.
func room() (positions []float32, triangles []int32) {
	m := geometry.Box(geometry.Vector{X: 3, Y: 2.5, Z: 1.4}, geometry.About(geometry.Up), geometry.Vector{X: 6, Y: 5, Z: 2.8})
	m.Append(geometry.Sphere(0.5, 12, 24).Transform(geometry.About(geometry.Up), geometry.Vector{X: 2, Y: 2, Z: 1}, 1))
	return m.Packed()
}

// brute tries every triangle that can be hit, each in a block of its own.
type brute struct {
	blocks  []block
	numbers []int32
	reach   float32
}

func newBrute(positions []float32, triangles []int32) *brute {
	all := &brute{}
	for i := 0; i < len(triangles); i += 3 {
		var b block
		var corners [3][3]uint32
		size := float32(0)
		for k := range 3 {
			for c := range 3 {
				x := positions[3*triangles[i+c]+int32(k)]
				b.positions[k][c], corners[c][k] = x, math.Float32bits(x)
				size = max(size, abs(x))
			}
		}
		if size <= farthest && corners[0] != corners[1] && corners[1] != corners[2] && corners[2] != corners[0] {
			all.blocks, all.numbers, all.reach = append(all.blocks, b), append(all.numbers, int32(i/3)), max(all.reach, size)
		}
	}
	return all
}

func (all *brute) nearest(r *Ray) (Hit, bool) {
	best, found := Hit{T: r.Far}, false
	if !r.usable() {
		return best, false
	}
	var q query
	q.set(r, all.reach)
	for i := range all.blocks {
		var s sheared
		q.shears(&all.blocks[i], &s)
		if h, ok := s.meets(0|1<<3|2<<6, &q, best.T); ok && (!found || h.T < best.T) {
			h.Triangle = all.numbers[i]
			best, found = h, true
		}
	}
	return best, found
}

func randomRay(rnd *rand.Rand, size float32) Ray {
	r := Ray{Far: float32(math.Inf(1))}
	for k := range 3 {
		r.Origin[k] = (rnd.Float32()*1.4 - 0.2) * size
		r.Direction[k] = float32(rnd.NormFloat64())
	}
	return r
}

func TestNearestIsTheBruteForceHit(t *testing.T) {
	positions, triangles := room()
	tree, all := Build(positions, triangles), newBrute(positions, triangles)
	rnd := rand.New(rand.NewSource(1))
	var s Scratch
	for i := range 200000 {
		r := randomRay(rnd, 5)
		var h Hit
		found := tree.Nearest(&r, &h, &s)
		var ph Hit
		if pf := tree.Plain().Nearest(&r, &ph, &s); pf != found || h != ph || found != tree.Plain().Occluded(&r, &s) {
			t.Fatalf("ray %d %v: got %v %v, plain %v %v", i, r, h, found, ph, pf)
		}
		if i%10 != 0 {
			continue
		}
		want, wantFound := all.nearest(&r)
		if found != wantFound || found && h != want || tree.Occluded(&r, &s) != wantFound {
			t.Fatalf("ray %d %v: got %v %v, brute force %v %v", i, r, h, found, want, wantFound)
		}
	}
}

// A ray that starts in a triangle's plane meets it at a T whose zero has no sign, whichever one rounding gives it: here on
// the walls of a room and where three of them meet.
func TestStartInAPlane(t *testing.T) {
	var positions []float32
	var triangles []int32
	for axis := range 3 {
		for _, side := range [2]float32{0, 1} {
			for _, c := range [4][2]float32{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				var p [3]float32
				p[axis], p[(axis+1)%3], p[(axis+2)%3] = side, c[0], c[1]
				positions = append(positions, p[:]...)
			}
			n := int32(len(positions)/3 - 4)
			triangles = append(triangles, n, n+1, n+2, n, n+2, n+3)
		}
	}
	tree := Build(positions, triangles)
	var s Scratch
	for _, d := range [][3]float32{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {-1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {1, 1, 0}, {1, 1, 1}, {-1, 1, -1}, {0.3, 0.2, 0.9}} {
		for _, at := range [][3]float32{{0, 0, 0}, {1, 1, 1}, {0, 0.5, 0.5}, {0.5, 1, 0.5}} {
			var h Hit
			r := Ray{Origin: at, Direction: d, Far: math.MaxFloat32}
			if !tree.Nearest(&r, &h, &s) || math.Signbit(float64(h.T)) {
				t.Errorf("from %v along %v: %+v", at, d, h)
			}
		}
	}
}
