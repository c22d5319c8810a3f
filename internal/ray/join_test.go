package ray

import (
	"math/rand"
	"slices"
	"testing"
)

// parts deals the triangles out in runs to so many trees.
func dealt(rnd *rand.Rand, positions []float32, triangles []int32, parts int) []*Tree {
	cuts := []int{0, len(triangles) / 3}
	for range parts - 1 {
		cuts = append(cuts, rnd.Intn(len(triangles)/3+1))
	}
	slices.Sort(cuts)
	var trees []*Tree
	for i, c := range cuts[1:] {
		trees = append(trees, Build(positions, triangles[3*cuts[i]:3*c]))
	}
	return trees
}

// soup returns random triangles, many of them more than once, and some without area or in one plane with others.
func soup(rnd *rand.Rand, n int) (positions []float32, triangles []int32) {
	for range 3 * n {
		// A coarse grid makes for shared corners, shared planes and equal times.
		positions = append(positions, float32(rnd.Intn(9))/2, float32(rnd.Intn(9))/2, float32(rnd.Intn(9))/2)
	}
	for range n {
		a := int32(rnd.Intn(3 * n))
		triangles = append(triangles, a, int32(rnd.Intn(3*n)), int32(rnd.Intn(3*n)))
		if rnd.Intn(4) == 0 {
			triangles = append(triangles, triangles[len(triangles)-3:]...)
		}
	}
	return positions, triangles
}

func TestJoinedPartsAnswerAsOneTree(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var s Scratch
	for range 60 {
		positions, triangles := soup(rnd, 1+rnd.Intn(400))
		if rnd.Intn(3) == 0 {
			positions, triangles = room()
		}
		whole := Build(positions, triangles)
		joined := Join(dealt(rnd, positions, triangles, 1+rnd.Intn(12))...)
		twice := Join(&Tree{}, Join(dealt(rnd, positions, triangles[:len(triangles)/9*3], 3)...), Build(positions, triangles[len(triangles)/9*3:]))
		for range 3000 {
			r := randomRay(rnd, 5)
			for k := range 3 {
				if rnd.Intn(2) == 0 {
					r.Origin[k] = float32(rnd.Intn(9)) / 2
				}
				if rnd.Intn(3) == 0 {
					r.Direction[k] = float32(rnd.Intn(3) - 1)
				}
			}
			if rnd.Intn(3) == 0 {
				r.Near, r.Far = rnd.Float32(), 1+5*rnd.Float32()
			}
			var want Hit
			found := whole.Nearest(&r, &want, &s)
			for i, tree := range []*Tree{whole.Plain(), joined, joined.Plain(), twice, twice.Plain()} {
				var h Hit
				if got := tree.Nearest(&r, &h, &s); got != found || h != want || tree.Occluded(&r, &s) != found {
					t.Fatalf("tree %d, ray %v: %v %v, want %v %v", i, r, got, h, found, want)
				}
			}
		}
	}
}

func TestJoinOfNothing(t *testing.T) {
	var s Scratch
	var h Hit
	r := Ray{Direction: [3]float32{0, 0, 1}, Far: 1}
	for name, tree := range map[string]*Tree{
		"no parts":             Join(),
		"empty parts":          Join(Build(nil, nil), Build(nil, nil)),
		"triangles of no area": Join(Build(make([]float32, 3), []int32{0, 0, 0})),
	} {
		if tree.Nearest(&r, &h, &s) || tree.Occluded(&r, &s) {
			t.Errorf("%s: a hit", name)
		}
	}
}

// Triangles that are never hit have numbers too.
func TestJoinCountsEveryTriangle(t *testing.T) {
	positions := []float32{-1, -1, 1, 1, -1, 1, 0, 1, 1}
	tree := Join(Build(positions, []int32{0, 0, 1, 1, 1, 1}), Build(positions, []int32{2, 2, 2, 0, 1, 2}))
	r := Ray{Direction: [3]float32{0, 0, 1}, Far: 2}
	var s Scratch
	var h Hit
	if !tree.Nearest(&r, &h, &s) || h.Triangle != 3 || h.T != 1 {
		t.Errorf("got %+v, want triangle 3 at 1", h)
	}
}

func TestJoinRefusesTooManyLevels(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	positions, triangles := room()
	tree := Build(positions, triangles)
	far := Build([]float32{100, 0, 0, 101, 0, 0, 100, 1, 0}, []int32{0, 1, 2})
	for range 2 * maxDepth {
		tree = Join(tree, far)
	}
}
