package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gloam/internal/geometry"
)

// locate reads a body of a plan, which must be sound, and returns its locator.
func locate(t *testing.T, body string) *Locator {
	t.Helper()
	p := sound(t, "gloam: 1\ntitle: Places\n"+body+"ambient: {sky: {reading: 640 lx, shape: everywhere}}\n"+cameraLine)
	return NewLocator(&p.Document)
}

func near(t *testing.T, what string, got, want geometry.Vector) {
	t.Helper()
	if !(got.Sub(want).Length() <= 1e-9) {
		t.Errorf("%s is %.6f, want %.6f", what, got, want)
	}
}

// Two who face each other look level at where the other stands, however tall they are.
func TestFacingEachOther(t *testing.T) {
	l := locate(t, "people: {a: {at: 1 1, faces: b, key: left, height: 1.9 m}, b: {at: 4 5, faces: a, key: right, face: 0.8 m}}\n")
	a, aOK := l.Figure("a")
	b, bOK := l.Figure("b")
	if !aOK || !bOK {
		t.Fatalf("a has a place: %v, b: %v", aOK, bOK)
	}
	way := geometry.Vector{X: 0.6, Y: 0.8} // from 1 1 to 4 5
	near(t, "a looks", a.Basis.Y, way)
	near(t, "b looks", b.Basis.Y, way.Neg())
	near(t, "the right of a", a.Basis.X, geometry.Vector{X: 0.8, Y: -0.6})
	near(t, "the height of b's face", geometry.Vector{Z: b.Face.Z}, geometry.Vector{Z: 0.8})
	aim, _ := l.Way(&Toward{Name: Name{Thing: "b"}}, geometry.Vector{})
	near(t, "what is aimed at b", aim, b.Face)
}

// A ring of people, each of whom faces the next, is no circle of places.
func TestFacingRound(t *testing.T) {
	l := locate(t, "people: {a: {at: 0 0, faces: b, key: left}, b: {at: 1 0, faces: c, key: left}, c: {at: 1 1, faces: a, key: left}}\n")
	for _, name := range []string{"a", "b", "c"} {
		if _, ok := l.Figure(name); !ok {
			t.Errorf("%s has no place", name)
		}
	}
}

// Places measured from a person's points. Who stands at 2 2 and faces +y has the front 0.10 m before the face, and the
// key side at 45° to the left.
func TestPlacesAtPoints(t *testing.T) {
	const person = "people: {maker: {at: 2 2, faces: N, key: left}}\n"
	body := geometry.Person{Height: 1.72}
	feet := geometry.Vector{X: 2, Y: 2}
	front := feet.Add(body.Front()).Add(geometry.Vector{Y: 0.10})
	aside := 0.10 * math.Sqrt2 / 2
	left := feet.Add(body.Left()).Add(geometry.Vector{X: -aside, Y: aside})
	right := feet.Add(body.Right()).Add(geometry.Vector{X: aside, Y: aside})
	hair := feet.Add(body.Hair()).Add(geometry.Vector{Z: 0.10})
	for _, c := range []struct {
		name, at string
		want     geometry.Vector
	}{
		{"at the front", "at: maker.front", front},
		{"above the front", "at: maker.front, height: 0.5 m", front.Add(geometry.Vector{Z: 0.5})},
		{"away from the front", "at: 1.5 m from maker.front bearing 90", front.Add(geometry.Vector{X: 1.5})},
		{"toward the front, level", "at: 1 m from post toward maker.front", geometry.Vector{X: 2, Y: front.Y - 9}},
		{"at the key side", "at: maker.key side", left},
		{"at the shadow side", "at: maker.shadow side", right},
		{"at the hair", "at: maker.hair", hair},
		{"at the face", "at: maker", feet.Add(body.Front())},
		{"above a person", "at: maker, height: 2.5 m", geometry.Vector{X: 2, Y: 2, Z: 2.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := locate(t, fmt.Sprintf("marks: {post: 2 %v}\n", front.Y-10)+person+"points: {here: {"+c.at+", faces: up}}\n")
			at, ok := l.foot(Name{Thing: "here"})
			if !ok {
				t.Fatal("has no place")
			}
			if !(at.Sub(c.want).Length() <= 1e-9) {
				t.Errorf("is at %.6f, want %.6f", at, c.want)
			}
		})
	}
}

// What hangs on a person's point is held against walls and boxes like all else.
func TestInsideByAPoint(t *testing.T) {
	for _, c := range []struct{ name, at, want string }{
		{"in the left wall", "2 m from maker.hair bearing W", `is in the left wall of "shop"; move it 1 cm or more away`},
		{"near the left wall", "1.95 m from maker.hair bearing W", ""},
		{"in a box", "0.5 m from maker.front bearing E", `is inside the box "crate"`},
		{"past the box", "1 m from maker.front bearing E", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			text, place := marked(changed(t, change{"at: 4 1 2", "at: ¶" + c.at}, change{"faces: bench, key: left", "faces: N, key: left"},
				change{"set: {", "set: {objects: {crate: {kind: box, size: 0.4 x 0.4 x 2 m, at: 2.5 2.2}}, "}))
			want := []string(nil)
			if c.want != "" {
				want = []string{"plan.yaml:" + place + ": lamps.lamp.at: " + c.want}
			}
			if _, faults := readText(text); !slices.Equal(lines(faults), want) {
				t.Errorf("got %q, want %q", lines(faults), want)
			}
		})
	}
}

// A place hangs on as little as it can: the front of a person on what they face, their key side on the key lamp too.
func TestCirclesThroughPeople(t *testing.T) {
	const person = "people: {maker: {at: 2 2, faces: %s}, visitor: {at: 4 2, faces: %s, key: left}}\n"
	for _, c := range []struct{ name, body, want string }{
		{"the key lamp, measured from the front", fmt.Sprintf(person, "N", "maker") +
			"lamps: {lamp: {kit: P20, at: 1.5 m from maker.front bearing 30, aim: maker, key: true}}\n", ""},
		{"the key lamp, measured from the key side", fmt.Sprintf(person, "N", "maker") +
			"lamps: {lamp: {kit: P20, at: 1.5 m from maker.key side bearing 30, aim: maker, key: true}}\n",
			"maker hangs on lamp, lamp hangs on maker"},
		{"each faces the other's front", fmt.Sprintf(person, "visitor.front, key: left", "maker.front"),
			"maker hangs on visitor, visitor hangs on maker"},
		{"who faces a point on their own nose", fmt.Sprintf(person, "nose, key: left", "maker") + "points: {nose: {at: maker, faces: up}}\n",
			"maker hangs on nose, nose hangs on maker"},
		{"a lamp aimed at who faces it", fmt.Sprintf(person, "lamp, key: left", "maker") + "lamps: {lamp: {kit: P20, at: 1 5 2, aim: maker}}\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := readText("gloam: 1\ntitle: Circles\n" + c.body + "ambient: {sky: {reading: 640 lx, shape: everywhere}}\n" + cameraLine)
			var want []string
			if c.want != "" {
				want = []string{"plan.yaml:3:10: people.maker: the places go in a circle: " + c.want + "; give one of them a place of its own"}
			}
			if got := lines(faults); !slices.Equal(got, want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		})
	}
}

// What hangs on itself has no place, nor has what hangs on that; all else keeps its own.
func TestNoPlace(t *testing.T) {
	var d Document
	mark := func(text string) Mark {
		var m Mark
		if err := m.ParseShort(text); err != nil {
			t.Fatal(err)
		}
		return m
	}
	d.Marks = append(d.Marks, entry("a", mark("1 m from b bearing 0")), entry("b", mark("1 m from a bearing 0")),
		entry("c", mark("2 m from d toward a")), entry("d", mark("1 2")), entry("e", mark("nobody")))
	l := NewLocator(&d)
	for name, want := range map[string]bool{"a": false, "b": false, "c": false, "d": true, "e": false, "nobody": false} {
		if _, ok := l.Place(&Where{Name: Name{Thing: name}}, 0); ok != want {
			t.Errorf("%s has a place: %v, want %v", name, ok, want)
		}
	}
}

// A hostile plan of circles in circles is told in a short list, at once.
func TestManyCircles(t *testing.T) {
	text := "  m0: 1 m from m2999 bearing 20\n"
	for i := 1; i < 3000; i++ {
		text += fmt.Sprintf("  m%d: 1 m from m%d toward m%d\n", i, i-1, i/2)
	}
	_, faults := readText(changed(t, change{"marks: {stool: 2 2, bench: 3 2}\n", "marks:\n" + text + "  stool: 2 2\n  bench: 3 2\n"}))
	if len(faults) == 0 || len(faults.Error()) > 1e6 || !strings.Contains(faults[0].Text, "the places go in a circle") {
		t.Errorf("%d faults", len(faults))
	}
}

// A walk is met in its middle at the height of its receptor, and stands on the floor.
func TestWalkAsAPlace(t *testing.T) {
	l := locate(t, "walks: {in: {marks: [1 1, 2 5, 3 1 0.4], height: 1.5 m}}\npoints: {p: {at: in, faces: up}, q: {at: in, height: 1 m, faces: up}}\n")
	for name, z := range map[string]float64{"p": 1.7, "q": 1.2} { // halfway from first to last, 0.2 m up
		at, _ := l.foot(Name{Thing: name})
		near(t, name, at, geometry.Vector{X: 2, Y: 1, Z: z})
	}
}

// Absent fields get what follows from others.
func TestSettled(t *testing.T) {
	p := sound(t, changed(t, change{"sill: {at: 2 3.5 1, ", "sill: {at: 2 3.5 1, receptor: dome, "}, change{", colour: 3200 K", ""},
		change{"lamps: {", "practicals: {candle: {kind: candle, at: 1 2 1}, read: {kind: candle, at: 1 3 1, luminance: 5000 cd/m2}, bulb: {kind: globe, diameter: 10 cm, at: 2 3 1, flux: 400 lm}}\nlamps: {"},
		change{"ambient: {", "ambient: {at sill: {reading: 1 lx, point: sill, shape: dome}, by hand: {reading: 1 lx, point: sill, receptor: flat, shape: dome}, "}))
	d := &p.Document
	for i, want := range []string{"dome", "flat", "flat"} {
		if got := d.Ambient[i].Value.Receptor; got != want {
			t.Errorf("%s is read with a %s receptor, want %s", d.Ambient[i].Name, got, want)
		}
	}
	kit, _ := p.Kit.Lamp("B12-D60")
	if got := *d.Lamps[0].Value.Colour; got != kit.Reference {
		t.Errorf("the lamp's colour is %v, want the kit's %v", got, kit.Reference)
	}
	candle, read, bulb := d.Practicals[0].Value, d.Practicals[1].Value, d.Practicals[2].Value
	if *candle.Flux != 13 || *candle.Diameter != 0.015 || *candle.Colour != 1900 {
		t.Errorf("the candle has %v, %v, %v", *candle.Flux, *candle.Diameter, *candle.Colour)
	}
	if read.Flux != nil || *bulb.Colour != 2700 || *bulb.Dim != 1 {
		t.Errorf("the candle that was read has a flux %v, the bulb %v and %v", read.Flux, *bulb.Colour, *bulb.Dim)
	}
}
