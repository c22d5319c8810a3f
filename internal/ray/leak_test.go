package ray

import (
	"fmt"
	"math"
	"math/rand"
	"runtime"
	"sync"
	"testing"

	"gloam/internal/geometry"
)

// closed returns rooms that no ray from inside may leave, with a box that is wholly inside each.
func closed() map[string]func() (positions []float32, triangles []int32, low, high [3]float32) {
	box := func(size float32, at [3]float32) func() ([]float32, []int32, [3]float32, [3]float32) {
		return func() (positions []float32, triangles []int32, low, high [3]float32) {
			extent := [3]float32{6 * size, 5 * size, 2.8 * size}
			m := geometry.Box(geometry.Vector{X: 3, Y: 2.5, Z: 1.4}, geometry.About(geometry.Up), geometry.Vector{X: 6, Y: 5, Z: 2.8})
			positions, triangles = m.Packed()
			for i := range positions {
				positions[i] = at[i%3] + size*positions[i]
			}
			for k := range 3 {
				low[k], high[k] = at[k]+0.05*extent[k], at[k]+0.95*extent[k]
			}
			return positions, triangles, low, high
		}
	}
	return map[string]func() ([]float32, []int32, [3]float32, [3]float32){
		"room":              box(1, [3]float32{}),
		"room far away":     box(1, [3]float32{3000, -7000, 10000}),
		"a micrometre":      box(1e-7, [3]float32{}),
		"a hundred million": box(2e7, [3]float32{}),
		"bumpy room":        func() ([]float32, []int32, [3]float32, [3]float32) { return bumpy(24) },
		"bumpy room, fine":  func() ([]float32, []int32, [3]float32, [3]float32) { return bumpy(100) },
	}
}

// bumpy returns a sphere of 3 m with a third of noise along each radius.
func bumpy(stacks int) (positions []float32, triangles []int32, low, high [3]float32) {
	positions, triangles = geometry.Sphere(3, stacks, 2*stacks).Packed()
	factors := map[[3]float32]float32{}
	rnd := rand.New(rand.NewSource(1))
	for i := 0; i < len(positions); i += 3 {
		at := [3]float32(positions[i : i+3])
		factor, known := factors[at]
		if !known {
			factor = 0.7 + 0.3*rnd.Float32()
			factors[at] = factor
		}
		for k := range 3 {
			positions[i+k] *= factor
		}
	}
	return positions, triangles, [3]float32{-1, -1, -1}, [3]float32{1, 1, 1}
}

// A closed room lets no ray out: not where edges and corners are aimed at, not along axes or diagonals.
func TestClosedRoomLeaksNoRay(t *testing.T) {
	rays := 10_000_000
	if testing.Short() {
		rays = 500_000
	}
	rooms := closed()
	for name, room := range rooms {
		t.Run(name, func(t *testing.T) {
			positions, triangles, low, high := room()
			tree := Build(positions, triangles)
			var wait sync.WaitGroup
			workers := runtime.GOMAXPROCS(0)
			leaks := make([]string, workers)
			for w := range workers {
				wait.Go(func() {
					rnd := rand.New(rand.NewSource(int64(w)))
					var s Scratch
					for range rays / len(rooms) / workers {
						r := aimed(rnd, positions, triangles, low, high)
						var h Hit
						if !tree.Nearest(&r, &h, &s) {
							leaks[w] = fmt.Sprint(r)
						}
					}
				})
			}
			wait.Wait()
			for _, leak := range leaks {
				if leak != "" {
					t.Error("leaks", leak)
				}
			}
		})
	}
}

// aimed returns a ray from inside a box: anywhere, along axes, or at a corner, an edge or a face of a triangle.
func aimed(rnd *rand.Rand, positions []float32, triangles []int32, low, high [3]float32) Ray {
	r := Ray{Far: float32(math.Inf(1))}
	for k := range 3 {
		r.Origin[k] = low[k] + rnd.Float32()*(high[k]-low[k])
	}
	kind := rnd.Intn(6)
	if kind == 0 {
		for r.Direction == [3]float32{} {
			for k := range 3 {
				r.Direction[k] = float32(rnd.Intn(3) - 1)
			}
		}
		return r
	}
	c := triangles[3*rnd.Intn(len(triangles)/3):]
	u, v := rnd.Float32(), rnd.Float32()
	switch kind {
	case 1:
		u, v = 0, 0
	case 2:
		v = 0
	case 3:
		u, v = 0.5, 0.5
	}
	for k := range 3 {
		a, b, c := positions[3*c[0]+int32(k)], positions[3*c[1]+int32(k)], positions[3*c[2]+int32(k)]
		r.Direction[k] = a + u*(b-a) + v*(c-a) - r.Origin[k]
		if kind == 5 {
			r.Direction[k] = rnd.Float32() - 0.5
		}
	}
	return r
}
