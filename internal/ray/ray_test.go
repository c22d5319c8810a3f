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

// brute is the answer by trying every triangle.
func brute(positions []float32, triangles []int32, r *Ray) (Hit, bool) {
	best, found := Hit{T: r.Far}, false
	if !r.usable() {
		return best, false
	}
	w := shearOf(r)
	for i := 0; i < len(triangles); i += 3 {
		at := func(k int) [3]float32 { return [3]float32(positions[3*triangles[i+k] : 3*triangles[i+k]+3]) }
		if t, u, v, ok := w.hit(at(0), at(1), at(2), max(r.Near, 0), best.T); ok && (!found || t < best.T) {
			best, found = Hit{t, u, v, int32(i / 3)}, true
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
	tree := Build(positions, triangles)
	rnd := rand.New(rand.NewSource(1))
	var s Scratch
	for i := range 20000 {
		r := randomRay(rnd, 5)
		var h Hit
		found := tree.Nearest(&r, &h, &s)
		want, wantFound := brute(positions, triangles, &r)
		if found != wantFound || found && h != want || tree.Occluded(&r, &s) != wantFound {
			t.Fatalf("ray %d %v: got %v %v, brute force %v %v", i, r, h, found, want, wantFound)
		}
	}
}
