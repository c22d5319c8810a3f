package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/unit"

	"pgregory.net/rapid"
)

// everyChart draws each kind of chart from ordinary values.
func everyChart(f Frame) map[string]Drawing {
	return map[string]Drawing{
		"ladder": workshop.Draw(f), "mireds": mixed.Draw(f), "day": dusk().Draw(f), "spectra": lamps().Draw(f), "chromaticity": sink.Draw(f),
	}
}

// checkDrawing fails when a drawing is not well-formed XML, has a place that is no number or lies outside, or when two
// texts overlap.
func checkDrawing(t interface{ Errorf(string, ...any) }, d Drawing) {
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Errorf("svg: %v", err)
	}
	for _, s := range d.Scales {
		if !finite(s.Places[0]) || !finite(s.Places[1]) || !finite(s.Values[0]) || !finite(s.Values[1]) {
			t.Errorf("scale %v", s)
		}
	}
	for decoder := xml.NewDecoder(&b); ; {
		if _, err := decoder.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Errorf("xml: %v", err)
			break
		}
	}
	paper := box{-0.01, -0.01, d.Width + 0.01, d.Height + 0.01}
	var boxes []box
	var words []string
	r := newRuler()
	for _, item := range d.Items {
		if item.Text == nil {
			for _, step := range item.Shape.Path {
				if step.Op != Close && !paper.contains(step.To) || step.Op == CubicTo && !(paper.contains(step.A) && paper.contains(step.B)) {
					t.Errorf("%s %q reaches %v, outside %v × %v", item.Class, item.Name, step, d.Width, d.Height)
				}
			}
			continue
		}
		w := r.width(item.Text.String, item.Text.Size, item.Text.Bold)
		left := item.Text.X - w*[...]float64{0, 0.5, 1}[item.Text.Align]
		area := box{left, item.Text.Y - 0.72*item.Text.Size, left + w, item.Text.Y + 0.1*item.Text.Size}
		if !paper.contains(XY{area.left, area.top}) || !paper.contains(XY{area.right, area.bottom}) {
			t.Errorf("%q at %v lies outside %v × %v", item.Text.String, area, d.Width, d.Height)
		}
		for i, other := range boxes {
			if area.overlaps(other) {
				t.Errorf("%q at %v overlaps %q at %v", item.Text.String, area, words[i], other)
			}
		}
		boxes, words = append(boxes, area), append(words, item.Text.String)
	}
}

func TestChartsAreSound(t *testing.T) {
	for _, size := range [][2]float64{{320, 240}, {360, 640}, {640, 400}, {900, 620}, {1600, 900}} {
		for themed, theme := range themes {
			for name, d := range everyChart(Frame{ID: "chart", Title: "A title", Width: size[0], Height: size[1], Theme: theme}) {
				t.Run(name+" "+themed+" "+strconv.Itoa(int(size[0])), func(t *testing.T) { checkDrawing(t, d) })
			}
		}
	}
}

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

func TestDegenerate(t *testing.T) {
	odd := []Sample{{600, unit.Stop(nan), 0}, {610, unit.Stop(inf), unit.Stop(inf)}, {610, unit.Stop(-inf), unit.Stop(nan)}, {605, 1e300, 1e300}, {620, 2, -1}}
	at := unit.Clock(700)
	cases := map[string]interface{ Draw(Frame) Drawing }{
		"ladder of nothing":   Ladder{},
		"ladder of no values": Ladder{Points: []Point{{"a", "", unit.Stop(nan), unit.Stop(nan), &Range{unit.Stop(nan), 1}, ""}}},
		"ladder beyond": Ladder{Points: []Point{{"a", "b", 1e300, unit.Stop(inf), &Range{unit.Stop(-inf), unit.Stop(inf)}, Met},
			{"c", "d", unit.Stop(-inf), 0, &Range{2, 1}, Dark}}, Clip: stop(-1e9), Noise: stop(1e9)},
		"ladder with limits that are none": Ladder{Clip: stop(nan), Noise: stop(inf)},
		"mireds of nothing":                Mireds{},
		"mireds beyond":                    Mireds{Sources: []Source{{"a", "", unit.Mired(inf), 0, 0}, {"b", "", -1e9, 5, unit.Mired(nan)}}},
		"day of nothing":                   Day{},
		"day of one minute":                Day{From: 700, To: 700, Now: &Moment{at, "now"}, Lines: []Line{{"a", "", []Sample{{700, 1, 0.5}}, around(1, 1)}}},
		"day that ends before it begins":   Day{From: 1300, To: 100, Sun: []SunSample{{1300, 5}, {1290, 4}}, Now: &Moment{100, ""}},
		"day of odd samples": Day{From: 590, To: 640, Lines: []Line{{"a", "", odd, nil}, {"b", "", nil, around(unit.Stop(nan), 1)}},
			Ratio: &Line{Name: "r", Samples: odd}, Sun: []SunSample{{590, unit.Degree(nan)}, {600, 90}, {640, unit.Degree(-inf)}},
			Windows: []Window{{"w", "", []Span{{640, 600, 590, true}, {-50, -40, -30, false}, {2000, 2000, 2000, false}}}}},
		"day that begins at night":  Day{From: -120, To: 120, Sun: []SunSample{{-120, -30}, {120, -40}}},
		"spectra of nothing":        Spectra{},
		"spectra of one wavelength": Spectra{Spectra: []Spectrum{{"a", "", []float64{500}, []float64{1}}}},
		"spectra of odd values":     Spectra{Spectra: []Spectrum{{"a", "", []float64{400, 500, 450, nan}, []float64{nan, inf, -3, 1}}, {"b", "", nil, nil}}},
		"chromaticity of nothing":   Chromaticity{},
		"chromaticity of one place": Chromaticity{Whites: []White{{"a", "", colour.UV{U: 0.2, V: 0.48}}, {"b", "", colour.UV{U: 0.2, V: 0.48}}}},
		"chromaticity beyond": Chromaticity{Whites: []White{{"a", "", colour.UV{U: 0.62, V: 0.1}}, {"b", "", colour.UV{U: nan, V: 0}}, {"c", "", colour.UV{U: 9, V: inf}}},
			Match: &Match{"m", "", colour.UV{U: 0.2, V: 0.5}, nan}},
	}
	frames := map[string]Frame{
		"": {Width: 480, Height: 400, Theme: Paper}, " in no room": {Width: nan, Height: -inf, Theme: Night},
		" under a long title": {Title: strings.Repeat("dämmerung", 40) + " \x00<&\"'", Note: strings.Repeat("long ", 60), Width: 320, Height: 300, Theme: Rain},
	}
	for name, chart := range cases {
		for more, f := range frames {
			t.Run(name+more, func(t *testing.T) {
				d := chart.Draw(f)
				checkDrawing(t, d)
				if err := d.PNG(io.Discard, 0.5); err != nil {
					t.Error(err)
				}
			})
		}
	}
}

// Whatever stands on a ladder, its texts do not overlap and stay on the paper.
func TestLaddersOfManyPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l Ladder
		for range rapid.IntRange(0, 25).Draw(t, "points") {
			p := Point{Name: rapid.StringMatching(`[A-Za-zäöü ]{1,40}`).Draw(t, "name"), Text: rapid.StringMatching(`[+−]?[0-9]⅓? ±[⅓⅔]`).Draw(t, "text"),
				Level: unit.Stop(rapid.Float64Range(-12, 12).Draw(t, "level")), Interval: unit.Stop(rapid.Float64Range(0, 3).Draw(t, "interval"))}
			if rapid.Bool().Draw(t, "wanted") {
				p.Target = around(unit.Stop(rapid.Float64Range(-6, 6).Draw(t, "target")), 0.5)
			}
			l.Points = append(l.Points, p)
		}
		width, height := rapid.Float64Range(320, 900).Draw(t, "width"), rapid.Float64Range(240, 900).Draw(t, "height")
		checkDrawing(t, l.Draw(Frame{Title: "Stop ladder", Width: width, Height: height, Theme: Paper}))
	})
}

// The same holds for days of many lines and windows.
func TestDaysOfManyLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minute := rapid.Map(rapid.IntRange(300, 1700), func(m int) unit.Clock { return unit.Clock(m) })
		name := rapid.StringMatching(`[A-Za-zäöü ]{1,30}`)
		d := Day{From: minute.Draw(t, "from"), To: minute.Draw(t, "to"), Now: &Moment{minute.Draw(t, "now"), "now"}}
		for range rapid.IntRange(0, 10).Draw(t, "lines") {
			l := Line{Name: name.Draw(t, "line"), Text: name.Draw(t, "text"), Target: around(unit.Stop(rapid.Float64Range(-8, 8).Draw(t, "target")), 0.5)}
			for at := unit.Clock(300); at < 1700; at += 100 {
				l.Samples = append(l.Samples, Sample{at, unit.Stop(rapid.Float64Range(-20, 12).Draw(t, "level")), 0.5})
			}
			d.Lines = append(d.Lines, l)
		}
		for range rapid.IntRange(0, 4).Draw(t, "windows") {
			w := Window{Name: name.Draw(t, "window"), Text: "wanted"}
			for range rapid.IntRange(0, 4).Draw(t, "spans") {
				w.Spans = append(w.Spans, Span{minute.Draw(t, "opens"), minute.Draw(t, "best"), minute.Draw(t, "closes"), rapid.Bool().Draw(t, "maybe")})
			}
			d.Windows = append(d.Windows, w)
		}
		checkDrawing(t, d.Draw(Frame{Title: "Light clock", Width: rapid.Float64Range(320, 1200).Draw(t, "width"), Height: 500, Theme: Rain}))
	})
}

// And for many lights on the diagram.
func TestDiagramsOfManyLights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c Chromaticity
		for range rapid.IntRange(0, 12).Draw(t, "lights") {
			at := colour.UV{U: rapid.Float64Range(0.15, 0.35).Draw(t, "u"), V: rapid.Float64Range(0.4, 0.55).Draw(t, "v")}
			c.Whites = append(c.Whites, White{rapid.StringMatching(`[A-Za-z ]{1,30}`).Draw(t, "name"), "10 mired warm, green", at})
		}
		if len(c.Whites) > 0 {
			c.Match = &Match{"wanted", "within", c.Whites[0].At, rapid.Float64Range(0.0001, 0.05).Draw(t, "radius")}
		}
		width, height := rapid.Float64Range(320, 900).Draw(t, "width"), rapid.Float64Range(240, 900).Draw(t, "height")
		checkDrawing(t, c.Draw(Frame{Title: "Match", Width: width, Height: height, Theme: Night}))
	})
}

func TestPNG(t *testing.T) {
	d := workshop.Draw(Frame{Title: "Stop ladder", Width: 400, Height: 500, Theme: Paper})
	var b bytes.Buffer
	if err := d.PNG(&b, 2); err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if size := picture.Bounds().Size(); size.X != 800 || size.Y != int(math.Ceil(2*d.Height)) {
		t.Errorf("the picture is %v", size)
	}
	// The thick line of the key crosses the right edge of the plot in ink, and the corner is ground.
	scale := d.Scales[0]
	if got := picture.At(2*(400-margin)-4, int(2*scale.at(0))); got != Paper.Ink.rgba() {
		t.Errorf("the key's line is %v", got)
	}
	if got := picture.At(1, 1); got != Paper.Ground.rgba() {
		t.Errorf("the corner is %v", got)
	}
	for _, scale := range []float64{0, -1, nan, inf, 1e6} {
		var f fault.Fault
		if err := d.PNG(io.Discard, scale); !errors.As(err, &f) || f.Kind != fault.Call {
			t.Errorf("scale %v: %v", scale, err)
		}
	}
}

// A page turns places into values by the scales that stand in the file.
func TestScalesInTheFile(t *testing.T) {
	var b bytes.Buffer
	d := dusk().Draw(Frame{ID: "day", Width: 900, Height: 600, Theme: Paper})
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`class="scale" data-name="(\w+)" data-unit="(\w+)" data-along="([xy])" data-p0="([^"]+)" data-p1="([^"]+)" data-v0="([^"]+)" data-v1="([^"]+)"`).
		FindAllStringSubmatch(b.String(), -1)
	var names []string
	for _, m := range found {
		names = append(names, m[1]+" "+m[2]+" "+m[3])
	}
	if got, want := strings.Join(names, ", "), "time min x, sun deg y, level stop y, ratio stop y"; got != want {
		t.Fatalf("scales %s, want %s", got, want)
	}
	if m := found[0]; m[6] != "900" || m[7] != "1500" {
		t.Errorf("time runs from %s to %s, want 900 to 1500", m[6], m[7])
	}
}
