package geometry

import (
	"math"
	"strings"
	"testing"
)

func TestAppendMixesSmoothAndFlat(t *testing.T) {
	m := Rectangle(Vector{}, world, 1, 1)
	m.Append(Sphere(1, 4, 6))
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	if m.Normals[0] != (Vector{}) || m.Normals[4] == (Vector{}) {
		t.Errorf("normals %v and %v, want none for the rectangle and one for the sphere", m.Normals[0], m.Normals[4])
	}
	if want := Rectangle(Vector{}, world, 1, 1).Area() + Sphere(1, 4, 6).Area(); math.Abs(m.Area()-want) > 1e-12 {
		t.Errorf("area %v, want %v", m.Area(), want)
	}
}

func TestAppendOfOneMeshToTwoLeavesBothAlone(t *testing.T) {
	base := Sphere(1, 3, 4)
	a, b := base, base
	a.Append(Box(Vector{}, world, Vector{1, 1, 1}))
	b.Append(Box(Vector{9, 9, 9}, world, Vector{1, 1, 1}))
	if n := len(base.Positions); a.Positions[n] == b.Positions[n] {
		t.Error("two meshes grown from one share vertices")
	}
}

func TestTransformScalesAreaAndTurnsNormals(t *testing.T) {
	b := About(Vector{1, 1, 1}.Unit())
	m := Sphere(1, 8, 12)
	moved := m.Transform(b, Vector{5, 6, 7}, 2)
	if math.Abs(moved.Area()-4*m.Area()) > 1e-9 {
		t.Errorf("area %v, want four times %v", moved.Area(), m.Area())
	}
	for i, p := range moved.Positions {
		if !near(p.Sub(Vector{5, 6, 7}).Mul(0.5), moved.Normals[i]) {
			t.Fatalf("vertex %d: the normal of a sphere is not its radius", i)
		}
	}
}

func TestCheckTellsEachSortOnce(t *testing.T) {
	m := Box(Vector{}, world, Vector{1, 1, 1})
	m.Positions[3].Y = math.NaN()
	m.Positions[5].Z = math.Inf(-1)
	m.Triangles[1][2] = 8
	m.Normals = []Vector{{}}
	err := m.Check()
	if err == nil {
		t.Fatal("no fault found")
	}
	for _, want := range []string{"vertex 3 is not finite, and 1 more", "triangle 1 names a vertex", "1 normals for 8 vertices"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q not in:\n%v", want, err)
		}
	}
}

func TestBoundsOfNothingAreEmpty(t *testing.T) {
	if low, high := (Mesh{}).Bounds(); low.X <= high.X {
		t.Errorf("bounds %v to %v", low, high)
	}
}

func TestPackedKeepsOrder(t *testing.T) {
	positions, triangles := Box(Vector{}, world, Vector{2, 2, 2}).Packed()
	if len(positions) != 24 || len(triangles) != 36 || positions[3] != 1 || triangles[2] != 3 {
		t.Errorf("positions %v, triangles %v", positions, triangles)
	}
}
