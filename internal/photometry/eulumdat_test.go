package photometry

import (
	"strings"
	"testing"
)

// The expected numbers follow by hand from each file: table × flux of the first lamp set ÷ 1000 × conversion factor,
// planes in the order of [STOCKMAR].
func TestEULUMDAT(t *testing.T) {
	for _, c := range []struct {
		file     string
		symmetry Symmetry
		lamps    float64 // lm
		flux     float64 // lm, 0 not stated
		at       []atC
	}{
		{"e01_isym1_lambert.ldt", Axial, 1000, 994.249, []atC{{0, 0, 318.3099}, {77, 60, 159.155}}},
		{"e02_isym4.ldt", Quadrant, 5200, 0, []atC{{0, 45, 520}, {150, 45, 676}, {285, 45, 910}, {0, 0, 1040}}},
		// C45 holds 55, mirrored about C0–C180 to C315.
		{"e03_isym2.ldt", AboutC0, 1000, 0, []atC{{0, 45, 10}, {45, 45, 55}, {315, 45, 55}, {180, 45, 190}, {270, 45, 100}}},
		{"e04_isym3.ldt", AboutC90, 1000, 0,
			[]atC{{90, 45, 100}, {0, 45, 190}, {180, 45, 190}, {45, 45, 145}, {135, 45, 145}, {315, 45, 235}, {225, 45, 235}, {270, 45, 280}}},
		{"e05_isym0.ldt", None, 2500, 0, []atC{{0, 30, 200}, {45, 30, 212.5}, {315, 30, 175}, {180, 45, 125}}},
		{"e06_negative_lamps_absolute.ldt", Axial, 1500, 0, []atC{{0, 0, 1851}, {0, 45, 925.5}}},
		// Two lamp sets are alternatives; the first, 6600 lm, is used.
		{"e07_two_sets.ldt", Axial, 6600, 0, []atC{{0, 0, 1980}, {0, 45, 1320}}},
	} {
		t.Run(c.file, func(t *testing.T) {
			f := open(t, c.file)
			if f.Format != EULUMDAT || f.Type != TypeC || f.Symmetry != c.symmetry {
				t.Errorf("read as %s, type %s, symmetry %s", f.Format, f.Type, f.Symmetry)
			}
			near(t, "lamps' flux", float64(f.LampFlux), c.lamps, 1e-12)
			if c.flux > 0 {
				near(t, "flux", float64(f.Table.Flux()), c.flux, 1e-4)
			}
			checkAt(t, f, c.at, 1e-4)
		})
	}
}

func TestEULUMDATHeader(t *testing.T) {
	f := open(t, "e07_two_sets.ldt")
	if f.LampType != "HIT 70" || f.Watts != 85 || f.Rendering != "83" || f.Colour != "3000" || f.Absolute {
		t.Errorf("first set %+v", f.LampSet)
	}
	if len(f.Alternatives) != 1 || f.Alternatives[0].LampFlux != 14500 || len(f.Notes) != 1 {
		t.Errorf("alternatives %+v, notes %v", f.Alternatives, f.Notes)
	}
	if !open(t, "e06_negative_lamps_absolute.ldt").Absolute {
		t.Error("minus one lamps: not absolute")
	}
	if o := f.Opening; o.Shape != Circle || o.Width != 0.3 || o.Length != 0.3 {
		t.Errorf("opening %+v, want a circle of 0.3 m", o)
	}
	if f.keyword("LUMINAIRE") != "Synthetic e07_two_sets.ldt" {
		t.Errorf("keywords %q", f.Keywords)
	}
}

// [STOCKMAR]: Isym 3 stores C270 … C0 … C90. A file that lists its own stored planes first is taken at its word.
func TestStoredPlanes(t *testing.T) {
	usual := []float64{0, 45, 90, 135, 180, 225, 270, 315}
	for _, c := range []struct {
		name   string
		isym   int
		listed []float64
		want   []float64 // nil: refused
	}{
		{"isym 0", 0, usual, usual},
		{"isym 1", 1, usual, []float64{0}},
		{"isym 2", 2, usual, []float64{0, 45, 90, 135, 180}},
		{"isym 3", 3, usual, []float64{270, 315, 360, 405, 450}},
		{"isym 3 listed from C270", 3, []float64{270, 315, 0, 45, 90, 135, 180, 225}, []float64{270, 315, 360, 405, 450}},
		{"isym 3 listed from C90", 3, []float64{90, 135, 180, 225, 270, 315, 0, 45}, []float64{90, 135, 180, 225, 270}},
		{"isym 4", 4, usual, []float64{0, 45, 90}},
		{"isym 2 of one plane", 2, []float64{0}, nil},
		{"isym 4 of six planes", 4, []float64{0, 60, 120, 180, 240, 300}, nil},
		{"isym 0 not ascending", 0, []float64{0, 90, 45, 180}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, got, allowed := storedPlanes(c.isym, c.listed)
			if (c.want == nil) != (allowed != "") {
				t.Fatalf("allowed %q", allowed)
			}
			if c.want != nil && !equal(got, c.want) {
				t.Errorf("planes %v, want %v", got, c.want)
			}
		})
	}
}

// Makers' files come in Latin-1, with decimal commas and with Unix line ends.
func TestEULUMDATForeignText(t *testing.T) {
	f := open(t, "e01_isym1_lambert.ldt")
	var b strings.Builder
	if err := WriteEULUMDAT(&b, f); err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(b.String(), "Synthetic", "Stra\xdfenleuchte", 1)
	text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ","), "\r\n", "\n")
	g, err := ReadFile("comma.ldt", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if g.keyword("LUMINAIRE") != "Straßenleuchte e01_isym1_lambert,ldt" {
		t.Errorf("name %q", g.keyword("LUMINAIRE"))
	}
	near(t, "flux", float64(g.Table.Flux()), float64(f.Table.Flux()), 1e-12)
}

func equal(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
