package chart

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

func stop(v float64) *unit.Stop { s := unit.Stop(v); return &s }

func around(v, half unit.Stop) *Range { return &Range{v - half, v + half} }

// workshop is a person at a bench by a window.
var workshop = Ladder{
	Points: []Point{
		{"A key side", "at stop ±⅓", 0.02, 0.31, around(0, 0.5), Met},
		{"A shadow side", "−3 ±⅓", -3.02, 0.33, around(-3, 0.5), Met},
		{"window", "+1 ±1", 1.04, 0.9, around(1, 0.5), Maybe},
		{"globe", "+4⅓ ±0.2", 4.3, 0.2, around(4, 0.25), Missed},
		{"tools on the wall behind the bench", "−4⅔ ±⅓", -4.7, 0.3, nil, ""},
		{"under the bench", "no light", unit.Stop(math.Inf(-1)), 0, around(-5, 0.5), Dark},
		{"door", "not traced", unit.Stop(math.NaN()), 0, nil, ""},
	},
	Clip: stop(5.5), Noise: stop(-5),
}

var mixed = Mireds{Balance: "balance 5000 K", Sources: []Source{
	{"lamp 1", "2700 K, +170 mired, warm", 170, 0, 0},
	{"lamp 2", "4900 K, +4 mired, neutral", 4, 10, 0},
	{"tube over the sink", "4200 K, +38 mired, warm, green", 38, 10, 0},
	{"window", "6500 K, −46 mired, cool", -46, 0, 0},
	{"blue sign", "no colour temperature", unit.Mired(math.NaN()), 0, 0},
}}

// dusk is an afternoon into the night at 57.7° north in late September, with curves of no physics.
func dusk() Day {
	d := Day{From: 15 * 60, To: 25 * 60, Now: &Moment{17*60 + 25, "now"}}
	window := Line{Name: "window", Text: "wanted +1 ±½", Target: around(1, 0.5)}
	face := Line{Name: "A key side", Text: "wanted 0 ±½", Target: around(0, 0.5)}
	wall := Line{Name: "wall", Text: "meter lost from 17:00 to 18:00"}
	ratio := Line{Name: "window to face", Text: "wanted 2:1", Target: around(1, 0.5)}
	for t := d.From; t <= d.To; t += 10 {
		hour := float64(t) / 60
		altitude := 32*math.Cos((hour-13)*math.Pi/12) - 2 - 0.6*hour/13
		level := unit.Stop(3.4 - math.Exp((hour-16.4)*0.62))
		half := unit.Stop(0.3 + 0.08*(hour-15))
		d.Sun = append(d.Sun, SunSample{t, unit.Degree(altitude)})
		window.Samples = append(window.Samples, Sample{t, level, half})
		lit := unit.Stop(math.Log2(math.Exp2(float64(level-2)) + 0.9))
		face.Samples = append(face.Samples, Sample{t, lit, 0.25})
		ratio.Samples = append(ratio.Samples, Sample{t, level - lit, half})
		if t > 17*60 && t < 18*60 {
			lit = unit.Stop(math.NaN())
		}
		wall.Samples = append(wall.Samples, Sample{t, lit - 1.5, 0.5})
	}
	d.Lines, d.Ratio = []Line{window, face, wall}, &ratio
	d.Windows = []Window{
		{"window", "+1 ±½", []Span{{17*60 + 22, 17*60 + 58, 18*60 + 31, false}, {18*60 + 31, 18*60 + 40, 18*60 + 55, true}}},
		{"A key side", "0 ±½", []Span{{15*60 + 50, 18*60 + 5, 25 * 60, false}}},
		{"moon on the wall", "+3 ±½", nil},
	}
	return d
}

// lamps are a black body and daylight, equal at 560 nm.
func lamps() Spectra {
	s := Spectra{Quantity: "relative power, equal at 560 nm"}
	day, err := spectrum.Daylight(5600)
	if err != nil {
		panic(err)
	}
	for n, c := range []spectrum.Curve{spectrum.Planck(3200), day} {
		one := Spectrum{Name: []string{"practical", "lamp 2"}[n], Text: []string{"black body 3200 K", "daylight 5600 K"}[n]}
		for nm := 360.0; nm <= 830; nm += 5 {
			one.NM, one.Values = append(one.NM, nm), append(one.Values, c.At(nm)/c.At(560))
		}
		s.Spectra = append(s.Spectra, one)
	}
	return s
}

// sink is a match of a lamp to a tube: chromaticities near 4200 K, some green; the circle is two steps of 0.0011 [ANSIC78377].
var sink = Chromaticity{
	Whites: []White{
		{"lamp 2", "4400 K, 11 mired cool, neutral", colour.UV{U: 0.2165, V: 0.4960}},
		{"key side", "3300 K, 65 mired warm, neutral", colour.UV{U: 0.2385, V: 0.5145}},
		{"window", "6500 K, 84 mired cool, slightly green", colour.UV{U: 0.1978, V: 0.4683}},
		{"neon", "", colour.UV{U: math.NaN(), V: 0.5}},
	},
	Match: &Match{"tube over the sink", "4200 K, green; within 2 steps", colour.UV{U: 0.2150, V: 0.5060}, 0.0022},
}

// drawings are the charts that are kept and looked at, by name.
func drawings() map[string]Drawing {
	frame := func(id, title, note string, width, height float64, theme Theme) Frame {
		return Frame{id, title, note, width, height, theme}
	}
	return map[string]Drawing{
		"ladder":             workshop.Draw(frame("ladder", "Stop ladder", "set-up 2, 12:25", 420, 640, Paper)),
		"ladder-night":       workshop.Draw(frame("ladder", "Stop ladder", "set-up 2, 12:25", 320, 560, Night)),
		"day":                dusk().Draw(frame("day", "Light clock", "22 Sep 2027, set-up 2, clear sky", 900, 620, Paper)),
		"day-rain":           dusk().Draw(frame("day", "Light clock", "22 Sep 2027, set-up 2, clear sky", 360, 640, Rain)),
		"spectrum":           lamps().Draw(frame("spectrum", "Lamp 2 against the practical", "", 640, 360, Paper)),
		"chromaticity":       sink.Draw(frame("uv", "Match", "lamp 2 to the tube", 680, 460, Paper)),
		"chromaticity-night": sink.Draw(frame("uv", "Match", "lamp 2 to the tube", 360, 520, Night)),
		"mireds":             mixed.Draw(frame("mireds", "Colour from balance", "", 420, 480, Paper)),
	}
}

func TestGolden(t *testing.T) {
	for name, d := range drawings() {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := d.SVG(&b); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join("testdata", name+".svg")
			if *update {
				if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(b.Bytes(), want) {
				t.Errorf("%s differs; look at it and run with -update", path)
			}
		})
	}
}
