package scene

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/plan"
)

// offTheSkin is how far a person's points lie off the skin, m, as the plan's documents say.
const offTheSkin = 0.10

// A person who stands at 2 2 and looks east: the four points lie 0.10 m off the skin, in front, 45° to either side, level,
// and over the crown, and face away from it.
func TestPersonPoints(t *testing.T) {
	const aside = math.Sqrt2 / 2
	for _, row := range []struct {
		name, fields string
		height, face float64
		points       map[string]vec // what each faces
	}{
		{"stands, key left", "key: left", 1.72, 0.925 * 1.72, map[string]vec{
			plan.Front: {X: 1}, plan.Hair: {Z: 1}, plan.KeySide: {X: aside, Y: aside}, plan.ShadowSide: {X: aside, Y: -aside}}},
		{"stands, key right", "key: right", 1.72, 0.925 * 1.72, map[string]vec{
			plan.Front: {X: 1}, plan.Hair: {Z: 1}, plan.KeySide: {X: aside, Y: -aside}, plan.ShadowSide: {X: aside, Y: aside}}},
		{"sits", "key: left, face: 1.25 m", 1.72, 1.25, map[string]vec{
			plan.Front: {X: 1}, plan.Hair: {Z: 1}, plan.KeySide: {X: aside, Y: aside}, plan.ShadowSide: {X: aside, Y: -aside}}},
		{"is tall", "key: left, height: 1.95 m", 1.95, 0.925 * 1.95, map[string]vec{
			plan.Front: {X: 1}, plan.Hair: {Z: 1}, plan.KeySide: {X: aside, Y: aside}, plan.ShadowSide: {X: aside, Y: -aside}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "people: {maker: {at: 2 2, faces: E, "+row.fields+"}}\n")
			body := s.surface(t, "maker").Mesh
			for name, facing := range row.points {
				r := s.receiver(t, "maker."+name)
				near(t, name+" faces", r.Normal, facing)
				within(t, name+" off the skin", hit(body, r.Position, r.Normal.Neg()), offTheSkin, 1e-6)
				if r.Kind != Flat {
					t.Errorf("%s is a %s receptor", name, r.Kind)
				}
				if name != plan.Hair {
					within(t, "height of "+name, r.Position.Z, row.face, 1e-9)
				}
			}
			hair := s.receiver(t, "maker.hair").Position
			within(t, "height of hair", hair.Z, row.face+0.075*row.height+offTheSkin, 1e-3) // the model's crown, a little behind the head's middle
			front := s.receiver(t, "maker.front").Position
			if !(front.X > 2.1 && front.X < 2.35) {
				t.Errorf("front lies at x %.3f, want before a face over 2", front.X)
			}
			within(t, "front is straight ahead", front.Y, 2, 1e-9)
			_, high := bounds(body)
			within(t, "crown", high.Z, row.face+0.075*row.height, 1e-9)
		})
	}
}

// The key side that nothing states is the side of the lamp marked key.
func TestKeySideByTheKeyLamp(t *testing.T) {
	for _, row := range []struct{ name, at, key string }{
		{"lamp to the left of who looks east", "3 5 2", "left"},
		{"lamp to the right", "3 -5 2", "right"},
		{"behind and left", "-3 2.5 2", "left"},
	} {
		t.Run(row.name, func(t *testing.T) {
			const person = "people: {maker: {at: 2 2, faces: E%s}}\nlamps: {other: {kit: P20, at: 3 2 1, aim: maker}, lamp: {kit: P20, aim: maker, key: true, at: "
			open := built(t, replaced(person, "%s", "")+row.at+"}}\n")
			said := built(t, replaced(person, "%s", ", key: "+row.key)+row.at+"}}\n")
			for _, point := range []string{plan.KeySide, plan.ShadowSide} {
				near(t, point, open.receiver(t, "maker."+point).Position, said.receiver(t, "maker."+point).Position)
			}
		})
	}
	// What is stated wins over the lamp.
	s := built(t, "people: {maker: {at: 2 2, faces: E, key: right}}\nlamps: {lamp: {kit: P20, aim: maker, key: true, at: 3 5 2}}\n")
	near(t, "stated key side faces", s.receiver(t, "maker.key side").Normal, vec{X: math.Sqrt2 / 2, Y: -math.Sqrt2 / 2})
}

func TestPersonUse(t *testing.T) {
	s := built(t, "people: {maker: {at: 2 2, faces: E, key: left}, visitor: {at: 3 2, faces: maker, key: right}}\npoints: {sill: {at: 0 0 1, faces: up}}\n")
	var names []string
	for _, p := range s.Points {
		names = append(names, p.Name)
	}
	want := []string{"maker.front", "maker.key side", "maker.shadow side", "maker.hair",
		"visitor.front", "visitor.key side", "visitor.shadow side", "visitor.hair", "sill"}
	if len(names) != len(want) {
		t.Fatalf("the points are %q, want %q", names, want)
	}
	for i := range want {
		if names[i] != want[i] {
			t.Fatalf("the points are %q, want %q", names, want)
		}
	}
	for _, p := range s.People {
		if s.Points[p.Key].Name != p.Name+".key side" || s.Points[p.Shadow].Name != p.Name+".shadow side" {
			t.Errorf("%s compares %s with %s", p.Name, s.Points[p.Key].Name, s.Points[p.Shadow].Name)
		}
	}
	near(t, "visitor looks at the maker, level", s.receiver(t, "visitor.front").Normal, vec{X: -1})
}

// Skin ends and clothes begin under the chin: no vertex is lost, and both have their own material.
func TestSkinAndClothes(t *testing.T) {
	s := built(t, "people: {maker: {at: 2 2, faces: E, key: left, skin: 0.3, wears: 0.05}}\n")
	skin, clothes := s.surface(t, "maker"), s.surface(t, "maker clothes")
	even(t, "skin", skin.Optics.ReflectFront, 0.3)
	even(t, "clothes", clothes.Optics.ReflectFront, 0.05)
	whole := geometry.Person{Height: 1.72}.Mesh()
	if got := len(skin.Mesh.Triangles) + len(clothes.Mesh.Triangles); got != len(whole.Triangles) {
		t.Errorf("skin and clothes have %d triangles, the body %d", got, len(whole.Triangles))
	}
	if len(skin.Mesh.Triangles) == 0 || len(clothes.Mesh.Triangles) == 0 {
		t.Error("one of skin and clothes is nothing")
	}
	for i := range skin.Mesh.Triangles {
		a, _, _ := skin.Mesh.Corners(i)
		if a.Z < 1.35 {
			t.Fatalf("skin at a height of %.2f m", a.Z)
		}
	}
}

// Two people may face each other: each looks toward where the other stands.
func TestPeopleFaceEachOther(t *testing.T) {
	s := built(t, "people: {a: {at: 1 1, faces: b, key: left}, b: {at: 3 1, faces: a, key: left}}\nambient: {sky: {reading: 640 lx, shape: everywhere}}\n")
	near(t, "a faces", s.receiver(t, "a.front").Normal, vec{X: 1})
	near(t, "b faces", s.receiver(t, "b.front").Normal, vec{X: -1})
}
