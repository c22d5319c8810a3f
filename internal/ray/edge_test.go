package ray

import (
	"math"
	"math/rand"
	"testing"
)

// A ray in the plane of a triangle, or within rounding of it, meets it anywhere along it or not at all; but what it meets
// does not depend on the hierarchy.
func TestRaysInThePlaneOfATriangle(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var s Scratch
	scenes := 3000
	if testing.Short() {
		scenes = 300
	}
	for range scenes {
		var positions []float32
		var triangles []int32
		for i := range 3 * 16 {
			positions = append(positions, 6*rnd.Float32(), 6*rnd.Float32(), 6*rnd.Float32())
			triangles = append(triangles, int32(i))
		}
		contest := newContest(positions, triangles)
		for range 300 {
			c := 3 * rnd.Intn(16)
			point := func(size float32) (p [3]float32) {
				u, v := size*(rnd.Float32()-0.5), size*(rnd.Float32()-0.5)
				for k := range 3 {
					a := positions[3*c+k]
					p[k] = a + u*(positions[3*c+3+k]-a) + v*(positions[3*c+6+k]-a)
				}
				return p
			}
			a, b := point(4), point(1)
			r := Ray{Origin: a, Far: float32(math.Inf(1))}
			for k := range 3 {
				r.Direction[k] = b[k] - a[k]
			}
			if fault := contest.differ(&r, &s); fault != "" {
				t.Fatal(fault)
			}
		}
	}
}
