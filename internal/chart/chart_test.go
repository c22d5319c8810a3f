package chart

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

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

// drawings are the charts that are kept and looked at, by name.
func drawings() map[string]Drawing {
	frame := func(id, title, note string, width, height float64, theme Theme) Frame {
		return Frame{id, title, note, width, height, theme}
	}
	return map[string]Drawing{
		"ladder":       workshop.Draw(frame("ladder", "Stop ladder", "set-up 2, 12:25", 420, 640, Paper)),
		"ladder-night": workshop.Draw(frame("ladder", "Stop ladder", "set-up 2, 12:25", 320, 560, Night)),
		"mireds":       mixed.Draw(frame("mireds", "Colour from balance", "", 420, 480, Paper)),
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
