package scene

import (
	"math"
	"testing"

	"gloam/internal/fault"
)

// A box of 1 x 0.5 x 2 m, the middle of its foot at 3 1, turned 30° clockwise as seen from above.
func TestBoxTurned(t *testing.T) {
	s := built(t, "set: {objects: {crate: {kind: box, size: 1 x 0.5 x 2 m, at: 3 1, turn: 30 deg, material: 0.25}}}\n")
	crate := s.surface(t, "crate")
	even(t, "crate", crate.Optics.ReflectFront, 0.25)
	area, _ := facet(crate.Mesh)
	within(t, "area", area, 2*(1*0.5+1*2+0.5*2), 1e-9)
	sin, cos := math.Sincos(30 * math.Pi / 180)
	right, ahead := vec{X: cos, Y: -sin}, vec{X: sin, Y: cos} // what was +x and +y, turned clockwise
	want := map[vec]bool{}
	for _, x := range []float64{-0.5, 0.5} {
		for _, y := range []float64{-0.25, 0.25} {
			for _, z := range []float64{0, 2} {
				want[round(vec{X: 3, Y: 1, Z: z}.AddMul(x, right).AddMul(y, ahead))] = true
			}
		}
	}
	for _, p := range crate.Mesh.Positions {
		if !want[round(p)] {
			t.Errorf("a corner lies at %v", p)
		}
		delete(want, round(p))
	}
	if len(want) > 0 {
		t.Errorf("no corner lies at %v", want)
	}
}

// round brings a place to the tenth of a millimetre.
func round(v vec) vec {
	r := func(x float64) float64 { return math.Round(x*1e4) / 1e4 }
	return vec{X: r(v.X), Y: r(v.Y), Z: r(v.Z) + 0}
}

// A table is a top on four legs: seen from above it is whole, and between the legs one looks through.
func TestTable(t *testing.T) {
	bench := built(t, "set: {objects: {bench: {kind: table, size: 1.5 x 0.6 x 0.85 m, at: 2 2.6, material: 0.4}}}\n").surface(t, "bench")
	low, high := bounds(bench.Mesh)
	near(t, "least corner", low, vec{X: 1.25, Y: 2.3})
	near(t, "most corner", high, vec{X: 2.75, Y: 2.9, Z: 0.85})
	within(t, "way down to the top", hit(bench.Mesh, vec{X: 2.1, Y: 2.55, Z: 2}, vec{Z: -1}), 1.15, 1e-9)
	if !math.IsInf(hit(bench.Mesh, vec{X: 2.01, Y: 0, Z: 0.4}, vec{Y: 1}), 1) {
		t.Error("one does not look through under the table")
	}
	within(t, "way to a leg", hit(bench.Mesh, vec{X: 1.26, Y: 0, Z: 0.4}, vec{Y: 1}), 2.3, 1e-9)
}

// A slope's foot is the middle of its lower edge; it faces the bearing downhill and up by 90° less its rise.
func TestSlope(t *testing.T) {
	sin, cos := math.Sincos(20 * math.Pi / 180)
	for _, row := range []struct {
		name, faces, north string
		down               vec
	}{
		{"faces south", "S", "0", vec{Y: -1}},
		{"faces east, +y looks north", "E", "0", vec{X: 1}},
		{"faces east, +y looks east", "E", "90", vec{Y: 1}},
		{"faces a bearing", "225 deg", "0", vec{X: -math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "set: {north: "+row.north+" deg, objects: {bowl: {kind: slope, size: 10 x 6 m, at: 1 2, rise: 20 deg, faces: "+row.faces+"}}}\n")
			m := s.surface(t, "bowl").Mesh
			area, normal := facet(m)
			within(t, "area", area, 60, 1e-9)
			near(t, "normal", normal, row.down.Mul(sin).Add(vec{Z: cos}))
			low, high := bounds(m)
			within(t, "lower edge", low.Z, 0, 1e-9)
			within(t, "upper edge", high.Z, 6*sin, 1e-9)
			foot := vec{}
			for _, p := range m.Positions {
				if p.Z < 1e-9 {
					foot = foot.AddMul(0.5, p)
				}
			}
			near(t, "middle of the lower edge", foot, vec{X: 1, Y: 2})
		})
	}
}

func TestMirror(t *testing.T) {
	s := built(t, "set: {objects: {glass: {kind: mirror, size: 0.4 x 0.6 m, at: 1 2 1.5, faces: E, material: mirror 0.85}, plain: {kind: mirror, size: 1 x 1 m, at: 4 2 1.5, faces: glass, material: mirror}}}\n")
	glass := s.surface(t, "glass")
	area, normal := facet(glass.Mesh)
	within(t, "area", area, 0.24, 1e-9)
	near(t, "normal", normal, vec{X: 1})
	even(t, "mirror", glass.Optics.Mirror, 0.85)
	even(t, "matt part", glass.Optics.ReflectFront, 0)
	low, high := bounds(glass.Mesh)
	near(t, "least corner", low, vec{X: 1, Y: 1.8, Z: 1.2})
	near(t, "most corner", high, vec{X: 1, Y: 2.2, Z: 1.8})
	near(t, "a mirror that faces a mirror", second(facet(s.surface(t, "plain").Mesh)), vec{X: -1})
	even(t, "a mirror without a figure", s.surface(t, "plain").Optics.Mirror, 0.9)
}

// A wedge given in centimetres, turned a quarter clockwise from above: its +x becomes −y.
func TestMesh(t *testing.T) {
	files := shelf{"wedge.obj": "v 0 0 0\nv 100 0 0\nv 0 50 0\nv 0 0 200\nf 1 2 3\nf 1 2 4\nf 1 4 3\nf 2 3 4\nf 1 1 2\n"}
	body := "set: {objects: {rock: {kind: mesh, file: wedge.obj, scale: 0.01, at: 2 3 0.5, turn: 90 deg, material: 0.2}}}\n"
	rock := builtWith(t, body, files).surface(t, "rock")
	even(t, "rock", rock.Optics.ReflectFront, 0.2)
	if n := len(rock.Mesh.Triangles); n != 4 {
		t.Errorf("has %d triangles, want 4: the fifth has no area", n)
	}
	want := []vec{{X: 2, Y: 3, Z: 0.5}, {X: 2, Y: 2, Z: 0.5}, {X: 2.5, Y: 3, Z: 0.5}, {X: 2, Y: 3, Z: 2.5}}
	for i, p := range rock.Mesh.Positions {
		near(t, "corner", p, want[i])
	}
}

func TestMaterials(t *testing.T) {
	s := built(t, `materials: {apron: {luminance: 40 cd/m2, level: 640 lx}, board: 0.85}
set: {objects: {a: {kind: box, size: 1 x 1 x 1 m, at: 0 0, material: apron}, b: {kind: box, size: 1 x 1 x 1 m, at: 3 0, material: board},
  c: {kind: box, size: 1 x 1 x 1 m, at: 6 0, material: 18 %}, d: {kind: box, size: 1 x 1 x 1 m, at: 9 0}}}
`)
	for name, rho := range map[string]float64{"a": math.Pi * 40 / 640, "b": 0.85, "c": 0.18, "d": 0.5} { // ρ = πL/E
		even(t, name, s.surface(t, name).Optics.ReflectFront, rho)
		even(t, name+" from behind", s.surface(t, name).Optics.ReflectBack, rho)
	}
}

// With black surroundings only what is there to work gives light: the fronts of cloths and what passes them, and panes.
func TestBlackSurroundings(t *testing.T) {
	body := `set:
  ground: 0.3
  rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m}}}}
  objects: {glass: {kind: mirror, size: 1 x 1 m, at: 0.5 2 1.5, faces: E, material: mirror}, bench: {kind: table, size: 1 x 1 x 1 m, at: 1 1}}
people: {maker: {at: 2 2, faces: E, key: left}}
cloths: {frame: {kind: full white, size: 1 x 1 m, at: 4 2 1.5, faces: maker}}
practicals: {bulb: {kind: shade, at: 3 3 1.5, diameter: 0.3 m, length: 0.2 m, flux: 470 lm}}
`
	v := viewed(t, body, nil)
	real, faults := Build(v, false)
	black, more := Build(v, true)
	if err := append(faults, more...).Err(); err != nil {
		t.Fatal(err)
	}
	none := [8]float64{}
	for i, dark := range black.Scene.Surfaces {
		lit := &real.Scene.Surfaces[i].Optics
		switch dark.Name {
		case "frame":
			even(t, "front of the frame", dark.Optics.ReflectFront, 0.5)
			even(t, "through the frame", dark.Optics.Transmit, 0.4)
			even(t, "back of the frame", dark.Optics.ReflectBack, 0)
			even(t, "back of the frame in the real set", lit.ReflectBack, 0.5)
		case "window", "bulb shade":
			if dark.Optics != *lit {
				t.Errorf("%s is not as in the real set", dark.Name)
			}
		default:
			if dark.Optics.ReflectFront != none || dark.Optics.ReflectBack != none || dark.Optics.Mirror != none {
				t.Errorf("%s gives light back", dark.Name)
			}
			if lit.ReflectFront == none && lit.Mirror == none {
				t.Errorf("%s gives no light back in the real set", dark.Name)
			}
		}
	}
}

// What only shows once things stand in their places is a fault with its place in the plan.
func TestBuildFaults(t *testing.T) {
	faults := misbuilt(t, "set: {rooms: {shop: 5 x 4 x 3 m}}\ncloths:\n"+manyCloths(65)+light)
	wantFault(t, faults, "64 pieces of cloth")
}

func manyCloths(n int) (text string) {
	for i := range n {
		text += "  c" + string(rune('A'+i/26)) + string(rune('a'+i%26)) + ": {kind: black, size: 1 x 1 m, at: 1 1 1, faces: N}\n"
	}
	return text
}

// wantFault fails unless one fault, which has a place, holds the text.
func wantFault(t *testing.T, faults fault.List, text string) {
	t.Helper()
	if len(faults) != 1 {
		t.Fatalf("%d faults, want 1: %v", len(faults), faults)
	}
	if got := faults[0].Error(); !contains(got, text) || faults[0].Place.Line == 0 {
		t.Errorf("the fault is %q, want a place and %q", got, text)
	}
}
