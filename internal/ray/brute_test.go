package ray

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand"
	"runtime"
	"sync"
	"testing"

	"gloam/internal/geometry"
)

// contest is the ways to find a hit that must agree: both kernels, on one tree and on one joined from two, and trying every
// triangle.
type contest struct {
	trees [4]*Tree
	all   *brute
}

func newContest(positions []float32, triangles []int32) *contest {
	tree := Build(positions, triangles)
	half := len(triangles) / 6 * 3
	joined := Join(Build(positions, triangles[:half]), Build(positions, triangles[half:]))
	return &contest{[4]*Tree{tree, tree.Plain(), joined, joined.Plain()}, newBrute(positions, triangles)}
}

// differ says how the answers for a ray differ, if they do.
func (c *contest) differ(r *Ray, s *Scratch) string {
	want, found := c.all.nearest(r)
	for i, tree := range c.trees {
		var h Hit
		got := tree.Nearest(r, &h, s)
		if got != found || got && h != want {
			return fmt.Sprintf("ray %v, tree %d: %v %+v, every triangle tried %v %+v", *r, i, got, h, found, want)
		}
		if tree.Occluded(r, s) != found {
			return fmt.Sprintf("ray %v, tree %d: occluded %v", *r, i, !found)
		}
	}
	return ""
}

func TestAMillionRaysAgainstEveryTriangle(t *testing.T) {
	rays := 1_000_000
	if testing.Short() {
		rays = 100_000
	}
	m := geometry.Box(geometry.Vector{X: 3, Y: 2.5, Z: 1.4}, geometry.About(geometry.Up), geometry.Vector{X: 6, Y: 5, Z: 2.8})
	m.Append(geometry.Sphere(0.5, 4, 6).Transform(geometry.About(geometry.Up), geometry.Vector{X: 2, Y: 2, Z: 1}, 1))
	positions, triangles := m.Packed()
	contest := newContest(positions, triangles)
	workers := runtime.GOMAXPROCS(0)
	faults := make([]string, workers)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			rnd := rand.New(rand.NewSource(int64(w)))
			var s Scratch
			for i := range rays / workers {
				r := randomRay(rnd, 5)
				if i%2 == 0 {
					r = aimed(rnd, positions, triangles, [3]float32{}, [3]float32{6, 5, 2.8})
				}
				if fault := contest.differ(&r, &s); fault != "" {
					faults[w] = fault
				}
			}
		})
	}
	wait.Wait()
	for _, fault := range faults {
		if fault != "" {
			t.Error(fault)
		}
	}
}

// Triangles of all sizes, without area and beyond reason; rays that are none.
func TestUnreasonableTrianglesAndRays(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	const tiny, huge = math.SmallestNonzeroFloat32, math.MaxFloat32
	numbers := []float32{0, float32(math.Copysign(0, -1)), tiny, -tiny, 1e-38, 1e-30, 1e-20, -1e-10, 0.5, 1, -1, 3, 1e10, -1e20, 1e30, huge, -huge, inf, -inf, nan}
	rnd := rand.New(rand.NewSource(1))
	var s Scratch
	for scene := range 3000 {
		number := func() float32 { return numbers[rnd.Intn(len(numbers)-4*(scene%2))] }
		var positions []float32
		var triangles []int32
		for range 3 * 20 {
			positions = append(positions, number(), number(), number())
		}
		for range 3 * (1 + rnd.Intn(20)) {
			triangles = append(triangles, int32(rnd.Intn(len(positions)/3)))
		}
		contest := newContest(positions, triangles)
		for range 100 {
			r := Ray{[3]float32{number(), number(), number()}, [3]float32{number(), number(), number()}, number(), number()}
			if rnd.Intn(2) == 0 {
				r.Near, r.Far = 0, inf
			}
			if fault := contest.differ(&r, &s); fault != "" {
				t.Fatalf("scene %d: %s", scene, fault)
			}
		}
	}
}

func TestBuildRefusesWhatNamesNothing(t *testing.T) {
	for name, build := range map[string]func(){
		"part of a position": func() { Build(make([]float32, 4), nil) },
		"part of a triangle": func() { Build(make([]float32, 3), []int32{0, 0}) },
		"corner too high":    func() { Build(make([]float32, 3), []int32{0, 0, 1}) },
		"corner below 0":     func() { Build(make([]float32, 3), []int32{0, -1, 0}) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			build()
		})
	}
}

// FuzzBuild takes any bits for positions, corners and rays.
func FuzzBuild(f *testing.F) {
	positions, _ := room()
	var seed []byte
	for _, x := range positions[:72] {
		seed = binary.LittleEndian.AppendUint32(seed, math.Float32bits(x))
	}
	f.Add(seed, []byte{0, 1, 2, 0, 2, 3, 4, 5, 6, 4, 6, 7}, seed[:64])
	f.Add(seed, []byte{0, 0, 1, 1, 2, 1}, seed[16:96])
	f.Add([]byte{}, []byte{}, seed)
	f.Fuzz(func(t *testing.T, places, corners, rays []byte) {
		var positions []float32
		for len(places) >= 12 {
			for range 3 {
				positions = append(positions, float(&places))
			}
		}
		var triangles []int32
		for i := 0; i+2 < len(corners) && len(positions) > 0; i += 3 {
			for _, c := range corners[i : i+3] {
				triangles = append(triangles, int32(int(c)%(len(positions)/3)))
			}
		}
		contest := newContest(positions, triangles)
		var s Scratch
		for len(rays) >= 32 {
			r := Ray{[3]float32{float(&rays), float(&rays), float(&rays)}, [3]float32{float(&rays), float(&rays), float(&rays)}, float(&rays), float(&rays)}
			if fault := contest.differ(&r, &s); fault != "" {
				t.Fatal(fault)
			}
		}
	})
}

// float takes a number off the front.
func float(from *[]byte) float32 {
	x := math.Float32frombits(binary.LittleEndian.Uint32(*from))
	*from = (*from)[4:]
	return x
}
