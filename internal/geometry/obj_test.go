package geometry

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gloam/internal/fault"
)

func TestReadOBJ(t *testing.T) {
	const square = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\n"
	for _, c := range []struct {
		name, text      string
		triangles       int
		vertices        int
		area            float64
		smooth, dropped int
	}{
		{"a triangle", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", 1, 3, 0.5, 0, 0},
		{"a polygon becomes a fan", square + "f 1 2 3 4", 2, 4, 1, 0, 0},
		{"negative indices", square + "f -4 -3 -2 -1\n", 2, 4, 1, 0, 0},
		{"a vertex after its use of minus one", "v 0 0 0\nv 1 0 0\nv 1 1 0\nf -3 -2 -1\nv 9 9 9\n", 1, 3, 0.5, 0, 0},
		{"texture indices are passed over", square + "vt 0 0\nf 1/1 2/1 3/1\n", 1, 3, 0.5, 0, 0},
		{"normals", square + "vn 0 0 2\nf 1//1 2//1 3//1 4//1\n", 2, 4, 1, 4, 0},
		{"normals beside texture", square + "vn 0 0 1\nvt 0 0\nf 1/1/1 2/1/1 3/1/-1\n", 1, 3, 0.5, 3, 0},
		{"one position with two normals is two vertices", square + "vn 0 0 1\nvn 0 1 0\nf 1//1 2//1 3//1\nf 1//2 3//1 4//1", 2, 5, 1, 5, 0},
		{"a vertex with and without normal", square + "vn 0 0 1\nf 1 2 3\nf 1//1 3 4", 2, 5, 1, 1, 0},
		{"no area is dropped and counted", square + "f 1 2 2\nf 1 1 1\nf 1 2 3\n", 1, 3, 0.5, 0, 2},
		{"everything else is passed over", "mtllib a\n# f 9\no thing\ng a\n" + square + "vp 1\nusemtl x\ns 1\nl 1 2\nf 1 2 3 # end\n", 1, 3, 0.5, 0, 0},
		{"a continued line", square + "f 1 2 \\\n3 4\n", 2, 4, 1, 0, 0},
		{"carriage returns and a weight", "v 0 0 0 1\r\nv 1 0 0 1\r\nv 0 1 0 1\r\nf 1 2 3\r\n", 1, 3, 0.5, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, dropped, err := ReadOBJ("x.obj", strings.NewReader(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Check(); err != nil {
				t.Fatal(err)
			}
			smooth := 0
			for _, n := range m.Normals {
				if math.Abs(n.Length()-1) < 1e-12 {
					smooth++
				}
			}
			if len(m.Triangles) != c.triangles || len(m.Positions) != c.vertices || math.Abs(m.Area()-c.area) > 1e-12 || smooth != c.smooth || dropped != c.dropped {
				t.Errorf("%d triangles, %d vertices, area %v, %d normals, %d dropped; want %d, %d, %v, %d, %d",
					len(m.Triangles), len(m.Positions), m.Area(), smooth, dropped, c.triangles, c.vertices, c.area, c.smooth, c.dropped)
			}
		})
	}
}

func TestReadOBJFaultsHaveAPlace(t *testing.T) {
	const tri = "v 0 0 0\nv 1 0 0\nv 0 1 0\n"
	for _, c := range []struct{ name, text, want string }{
		{"a corner above the last", tri + "f 1 2 4\n", "x.obj:4: a corner names a vertex that is not there; read \"4\"; allowed: 1 to 3"},
		{"a corner of zero", tri + "f 0 1 2\n", "x.obj:4: a corner names a vertex"},
		{"a corner before the first", tri + "f -4 1 2\n", "x.obj:4: a corner names a vertex"},
		{"a normal that is not there", tri + "f 1//1 2 3\n", "x.obj:4: a corner names a normal"},
		{"a face of two", tri + "f 1 2\n", "x.obj:4: a face has fewer than three corners"},
		{"a word for a number", "v 0 zero 0\n", "x.obj:1: a vertex has a coordinate that is no usable number; read \"zero\""},
		{"not a number", "v 0 NaN 0\n", "x.obj:1: a vertex has a coordinate"},
		{"infinity", "v 0 0 Inf\n", "x.obj:1: a vertex has a coordinate"},
		{"a coordinate past all use", "v 0 0 1e10\n", "x.obj:1: a vertex has a coordinate"},
		{"two numbers", tri + "vn 1 0\n", "x.obj:4: a normal has fewer than three numbers"},
		{"nothing", "", "x.obj: the file holds no triangle"},
		{"a line without end", "v " + strings.Repeat("0", 2<<20), "x.obj:1: the line is too long"},
		{"a continued line without end", strings.Repeat("v 0 \\\n", 1<<19), "x.obj:"},
		{"all of no area", tri + strings.Repeat("f 1 2 2\n", 1_000_000), "x.obj: all 1000000 triangles have no area"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := ReadOBJ("x.obj", strings.NewReader(c.text))
			var list fault.List
			if !errors.As(err, &list) {
				t.Fatalf("error %v is no list of faults", err)
			}
			if !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("told %q, want %q", err, c.want)
			}
		})
	}
}

func TestReadOBJTellsTwentyFaultsAtMost(t *testing.T) {
	_, _, err := ReadOBJ("x.obj", strings.NewReader(strings.Repeat("f 1 2 3\n", 1000)))
	if n := len(fault.Of(err, fault.Input)); n < 20 || n > 21 {
		t.Errorf("%d faults told", n)
	}
}

func FuzzReadOBJ(f *testing.F) {
	f.Add("v 0 0 0\nv 1 0 0\nv 0 1 0\nvn 0 0 1\nf 1//1 2/3/1 -1\n")
	f.Add("f -1 -2 -3\nv 1e9 0 \\\n0\n")
	f.Fuzz(func(t *testing.T, text string) {
		m, _, err := ReadOBJ("x.obj", strings.NewReader(text))
		if err != nil {
			return
		}
		if err := m.Check(); err != nil {
			t.Fatal(err)
		}
		if len(m.Triangles) == 0 || !(m.Area() > 0) {
			t.Fatalf("%d triangles of area %v and no fault", len(m.Triangles), m.Area())
		}
	})
}
