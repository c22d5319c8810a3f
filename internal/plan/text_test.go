package plan

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func at(x, y unit.Metre) *Place { return &Place{X: x, Y: y} }

func atHeight(x, y, z unit.Metre) *Place { return &Place{X: x, Y: y, Z: &z} }

func TestWhereParse(t *testing.T) {
	cases := []struct {
		name, text string
		want       Where
	}{
		{"two coordinates", "2.5 2.0", Where{Place: at(2.5, 2)}},
		{"three with one unit", "2.5 2.0 1.6 m", Where{Place: atHeight(2.5, 2, 1.6)}},
		{"decimal commas", "2,5 2,0 1,6", Where{Place: atHeight(2.5, 2, 1.6)}},
		{"below zero", "-0.919 2.616", Where{Place: at(-0.919, 2.616)}},
		{"feet", "10 ft 5 ft", Where{Place: at(3.048, 1.524)}},
		{"a thing", "bench", Where{Name: Name{"bench", ""}}},
		{"a thing of two words", " violin   maker ", Where{Name: Name{"violin maker", ""}}},
		{"a person's point", "maker.key side", Where{Name: Name{"maker", "key side"}}},
		{"a thing that begins with a figure", "8x8 black", Where{Name: Name{"8x8 black", ""}}},
		{"a lamp by its power", "2K", Where{Name: Name{"2K", ""}}},
		{"away by bearing", "3.2 m from bench bearing 215", Where{Name: Name{"bench", ""}, Distance: 3.2, Bearing: 215}},
		{"away by compass", "10 ft from bench bearing SW", Where{Name: Name{"bench", ""}, Distance: 3.048, Bearing: 225}},
		{"away toward a thing", "1.2 m from bench toward north window",
			Where{Name: Name{"bench", ""}, Distance: 1.2, Toward: Name{"north window", ""}}},
		{"away towards a point", "1.2 m from violin maker towards maker.hair",
			Where{Name: Name{"violin maker", ""}, Distance: 1.2, Toward: Name{"maker", "hair"}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got Where
			if err := got.Parse(c.text); err != nil {
				t.Fatal(err)
			}
			roundPlace(got.Place)
			got.Distance = round(got.Distance)
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("%q is %+v, want %+v", c.text, got, c.want)
			}
		})
	}
}

func round(m unit.Metre) unit.Metre { return unit.Metre(math.Round(float64(m)*1e9) / 1e9) }

func roundPlace(p *Place) {
	if p != nil {
		p.X, p.Y = round(p.X), round(p.Y)
	}
}

func TestWhereRefuses(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"nothing", " ", "is empty"},
		{"one coordinate", "2.5", "has 1 coordinate, 2 are wanted; blanks separate them"},
		{"four coordinates", "1 2 3 4", "has 4 coordinates, 2 are wanted; blanks separate them"},
		{"no number", "NaN", "is not a place in coordinates"},
		{"away by a mass", "5 kg from bench bearing 20", "the distance is a mass, a length is wanted"},
		{"away by nothing", "0 m from bench bearing 20", "the distance is not above 0"},
		{"away backward", "-1 m from bench toward window", "the distance is not above 0"},
		{"away no way", "1 m from bench", "does not say which way: bearing 215, or toward a thing"},
		{"a person's point without a person", ".front", "is no name; a dot stands between a person and their point: maker.front"},
		{"a person's point without the point", "1 m from maker. toward bench", "is no name; a dot stands between a person and their point: maker.front"},
		{"away a bad way", "1 m from bench bearing 500", "the bearing 500° is above 360°"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var w Where
			if err := w.Parse(c.text); err == nil || err.Error() != c.want {
				t.Errorf("%q: error is %v, want %s", c.text, err, c.want)
			}
			if !reflect.DeepEqual(w, Where{}) {
				t.Errorf("%q left %+v", c.text, w)
			}
		})
	}
}

func TestTowardParse(t *testing.T) {
	way := func(b unit.Bearing, below unit.Degree) Toward { return Toward{Bearing: &b, Below: below} }
	cases := []struct {
		name, text string
		want       Toward
	}{
		{"a bearing", "170 deg", way(170, 0)},
		{"a bare bearing", "170", way(170, 0)},
		{"a degree sign", "170°", way(170, 0)},
		{"a compass point", "SE", way(135, 0)},
		{"a compass word", "south-west", way(225, 0)},
		{"a bearing and down", "170 deg 30 deg down", way(170, 30)},
		{"a compass point and up", "SE 12.5° up", way(135, -12.5)},
		{"bare figures and down", "170 30 down", way(170, 30)},
		{"up", "up", way(0, -90)},
		{"down", "down", way(0, 90)},
		{"the camera", "camera", Toward{Name: Name{"camera", ""}}},
		{"the sun", "sun", Toward{Name: Name{"sun", ""}}},
		{"a thing", "violin maker", Toward{Name: Name{"violin maker", ""}}},
		{"a thing that ends in down", "step down", Toward{Name: Name{"step down", ""}}},
		{"a person's point", "maker.shadow side", Toward{Name: Name{"maker", "shadow side"}}},
		{"coordinates", "2.5 2.0 1.6", Toward{Place: atHeight(2.5, 2, 1.6)}},
		{"level coordinates", "0 100", Toward{Place: at(0, 100)}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got Toward
			if err := got.Parse(c.text); err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("%q is %v, want %v", c.text, got, c.want)
			}
		})
	}
}

func TestTowardRefuses(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"nothing", "", "is empty"},
		{"past a turn", "500 deg", "500° is above 360°"},
		{"a length", "5 m", "is a length, a bearing is wanted"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var w Toward
			if err := w.Parse(c.text); err == nil || err.Error() != c.want {
				t.Errorf("%q: error is %v, want %s", c.text, err, c.want)
			}
		})
	}
}

func TestExtentParse(t *testing.T) {
	cases := []struct {
		name, text string
		want       Extent
		fault      string
	}{
		{"two sides", "1.2 x 2.4 m", Extent{1.2, 0, 2.4}, ""},
		{"three sides", "1.8 x 0.7 x 0.9 m", Extent{1.8, 0.7, 0.9}, ""},
		{"a times sign", "1 × 2 × 3", Extent{1, 2, 3}, ""},
		{"one side", "1.2 m", Extent{}, "has 1 side, 3 are wanted"},
		{"two sides, one of nothing", "0 x 2", Extent{}, "has a side that is not above 0"},
		{"three sides, one of nothing", "1 x 2 x 0", Extent{}, "has a side that is not above 0"},
		{"a mass", "1 x 2 kg", Extent{}, "is a mass, a length is wanted"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got Extent
			err := got.Parse(c.text)
			if got != c.want || (err == nil) != (c.fault == "") || err != nil && err.Error() != c.fault {
				t.Errorf("%q is %v, error %v; want %v, %q", c.text, got, err, c.want, c.fault)
			}
		})
	}
}

// TestTextsReadWhatTheyPrint prints places and directions and reads them again.
func TestTextsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[a-z][a-z]{3,8}( [a-z]{3,8})?(\.front)?`)
		centimetres := func(label string) unit.Metre {
			return unit.Metre(rapid.IntRange(-90000, 90000).Draw(t, label)) / 100
		}
		w := Where{Name: ParseName(name.Draw(t, "name"))}
		switch rapid.IntRange(0, 3).Draw(t, "form") {
		case 0:
			w = Where{Place: at(centimetres("x"), centimetres("y"))}
		case 1:
			w = Where{Place: atHeight(centimetres("x"), centimetres("y"), centimetres("z"))}
		case 2:
			w.Distance, w.Bearing = 2.25, unit.Bearing(rapid.IntRange(0, 359).Draw(t, "bearing"))
		case 3:
			w.Distance, w.Toward = 2.25, ParseName(name.Draw(t, "toward"))
		}
		reads(t, w.String(), &w, new(Where))
		b := unit.Bearing(rapid.IntRange(0, 359).Draw(t, "facing"))
		to := Toward{Bearing: &b, Below: unit.Degree(rapid.IntRange(-89, 89).Draw(t, "below"))}
		reads(t, to.String(), &to, new(Toward))
	})
}

func reads[T interface {
	Parse(string) error
	String() string
}](t *rapid.T, text string, want, got T) {
	err := got.Parse(text)
	if err != nil || got.String() != want.String() {
		t.Fatalf("%q reads as %v (%v)", text, got, err)
	}
}

func TestFinish(t *testing.T) {
	half := unit.Fraction(0.5)
	doc := &Document{}
	doc.Materials = append(doc.Materials, entry("varnish", Material{Like: "dark wood", Reflectance: &half}))
	cases := []struct {
		name, text, word string
		reflectance      unit.Fraction // −1: the word's own
		mirror           bool
	}{
		{"a reflectance", "0.35", "", 0.35, false},
		{"percent", "35 %", "", 0.35, false},
		{"a trade word", "dark wood", "dark wood", -1, false},
		{"in another order and case", "Skin Medium", "medium skin", -1, false},
		{"a word and a reflectance", "snow 0.8", "snow", 0.8, false},
		{"a word and percent", "unbleached muslin 50 %", "unbleached muslin", 0.5, false},
		{"a mirror", "mirror", "", mirrorReflectance, true},
		{"a mirror with a figure", "mirror 0.8", "", 0.8, true},
		{"one's own", "varnish", "dark wood", 0.5, false},
		{"one's own with a figure", "varnish 0.1", "dark wood", 0.1, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := doc.Finish(c.text)
			if err != nil {
				t.Fatal(err)
			}
			got := unit.Fraction(-1)
			if f.Reflectance != nil {
				got = *f.Reflectance
			}
			if f.Word != c.word || math.Abs(float64(got-c.reflectance)) > 1e-12 || f.Mirror != c.mirror {
				t.Errorf("%q is %q, %v, mirror %v", c.text, f.Word, got, f.Mirror)
			}
		})
	}
}

// TestMaterialFromReadings: a matt surface of luminance L in the illuminance E reflects πL/E. A grey card of 0.18 in
// 1000 lx shows 0.18·1000/π = 57.3 cd/m².
func TestMaterialFromReadings(t *testing.T) {
	luminance, level := unit.Nit(57.3), unit.Lux(1000)
	f, err := (&Material{Luminance: &luminance, Level: &level}).finish()
	if err != nil || math.Abs(float64(*f.Reflectance)-0.18) > 1e-4 {
		t.Errorf("reflectance is %v (%v), want 0.18", *f.Reflectance, err)
	}
}

func TestShorts(t *testing.T) {
	var r Room
	var g Ground
	var m Mark
	var material Material
	var tone Tone
	for name, err := range map[string]error{
		"room": r.ParseShort("5 x 4 x 2.8 m"), "ground": g.ParseShort("snow 0.8"), "mark": m.ParseShort("2.5 2.0"),
		"material": material.ParseShort("dark wood 0.1"), "tone": tone.ParseShort("snow 0.8 in maker.front"),
	} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if r.Size != (unit.Size3{Width: 5, Depth: 4, Height: 2.8}) || g.Material != "snow 0.8" || m.At.String() != "2.50 2.00 m" ||
		material.Like != "dark wood" || *material.Reflectance != 0.1 || tone != (Tone{"snow 0.8", "maker.front"}) {
		t.Errorf("read %v, %v, %v, %v, %v", r.Size, g, m, material, tone)
	}
	if err := tone.ParseShort("snow"); err == nil || !strings.Contains(err.Error(), "in whose light") {
		t.Errorf("a tone without a point: %v", err)
	}
	if err := material.ParseShort("mirror 0.9"); err == nil {
		t.Error("a mirror passes for a material")
	}
}

func FuzzTexts(f *testing.F) {
	for _, s := range []string{"2.5 2.0 1.6 m", "violin maker", "3.2 m from bench bearing 215", "1.2 m from bench toward window", "170 deg 30 deg down",
		"SE", "maker.key side", "1.8 x 0.7 x 0.9 m", "snow 0.85", "½", "8x8 black", "snow in maker.front"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var w Where
		if w.Parse(text) == nil {
			if w.Place == nil && w.Name.Thing == "" {
				t.Errorf("%q reads as no place", text)
			}
			_ = w.String()
		}
		var to Toward
		if to.Parse(text) == nil {
			if to.Place == nil && to.Bearing == nil && to.Name.Thing == "" {
				t.Errorf("%q reads as no way", text)
			}
			_ = to.String()
		}
		var e Extent
		if e.Parse(text) == nil && !(e.Width > 0 && e.Height > 0 && e.Depth >= 0) {
			t.Errorf("%q reads as the size %v", text, e)
		}
		if f, err := parseFinish(text); err == nil && f.Reflectance != nil && !(*f.Reflectance >= 0 && *f.Reflectance <= 1) {
			t.Errorf("%q reflects %v", text, *f.Reflectance)
		}
		_ = new(Tone).ParseShort(text)
	})
}
