package ray

import (
	"math/rand"
	"runtime"
	"slices"
	"testing"
)

// The tree is the same from both kernels and for any number of processors.
func TestBuildIsRepeatable(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	build := func(processors int, assembly bool, positions []float32, triangles []int32) *Tree {
		defer func(n int, was bool) { runtime.GOMAXPROCS(n); wide = was }(runtime.GOMAXPROCS(processors), wide)
		wide = wide && assembly
		return Build(positions, triangles)
	}
	for i := range 60 {
		positions, triangles := soup(rnd, 1+rnd.Intn(3000))
		if i == 0 {
			positions, triangles, _, _ = bumpy(150)
		}
		want := build(1, true, positions, triangles)
		for _, got := range []*Tree{build(1, false, positions, triangles), build(8, true, positions, triangles)} {
			if !slices.Equal(got.nodes, want.nodes) || !slices.Equal(got.blocks, want.blocks) || !slices.Equal(got.triangles, want.triangles) ||
				got.depth != want.depth || got.reach != want.reach {
				t.Fatalf("scene %d: the trees differ", i)
			}
		}
	}
}
