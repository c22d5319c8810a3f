package gear

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// openTestdata opens a photometric file of the tests.
func openTestdata(name string) ([]byte, error) {
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		return nil, errors.New("there is no such file")
	}
	return data, nil
}

// readKit reads a kit that has no faults, and returns it with the notes.
func readKit(t *testing.T, text string) (*Kit, fault.List) {
	t.Helper()
	k, faults := Read("own.yaml", []byte(text), openTestdata)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return k, faults
}

// rest is what a lamp needs beside its light.
const rest = "opening: disc 0.2 m, reference: 5600 K"

// A Fresnel lens whose light seems to come from 0.35 m behind it: the levels are of exact inverse-square law from there.
func TestLevelsFindTheSource(t *testing.T) {
	levels := ""
	for _, d := range []float64{2, 3, 5, 8, 12} {
		levels += fmt.Sprintf("%.9g lx @ %g m, ", 200_000/((d+0.35)*(d+0.35)), d)
	}
	k, notes := readKit(t, "kit: 1\nlamps:\n  lens: {beams: {beam: 24 deg, levels: ["+levels+"]}, "+rest+"}\n")
	l, _ := k.Lamp("lens")
	d, offset := beamOf(t, l, 0)
	near(t, "offset", float64(offset), 0.35, 1e-5)
	near(t, "peak", float64(d.Peak()), 200_000, 1e-6)
	if len(notes) > 0 {
		t.Errorf("notes on exact levels: %v", notes)
	}
}

// Spot and flood of such a lens, of different offsets: half way in ln β both ln I0 and the offset are half way.
func TestZoomFromLevels(t *testing.T) {
	at := func(peak, offset, d float64) string {
		return fmt.Sprintf("%.9g lx @ %g m", peak/((d+offset)*(d+offset)), d)
	}
	k, _ := readKit(t, fmt.Sprintf(`kit: 1
lamps:
  lens:
    engine: 60 klm
    opening: disc 0.25 m
    reference: 5600 K
    beams:
      - {beam: 40 deg, levels: [%s, %s]}
      - {beam: 10 deg, levels: [%s, %s]}
`, at(75_000, 0.1, 2), at(75_000, 0.1, 6), at(600_000, 0.5, 2), at(600_000, 0.5, 6)))
	l, _ := k.Lamp("lens")
	d, offset := beamOf(t, l, 20)
	near(t, "offset", float64(offset), 0.3, 1e-5)
	near(t, "peak", float64(d.Peak()), math.Sqrt(75_000*600_000), 1e-5)
}

// One reading is the plain inverse square.
func TestOneReading(t *testing.T) {
	k, _ := readKit(t, "kit: 1\nlamps:\n  mine: {like: B12-D26, quality: measured, beams: {beam: 26 deg, levels: 9700 lx @ 5 m}}\n")
	l, _ := k.Lamp("mine")
	d, offset := beamOf(t, l, 0)
	near(t, "peak", float64(d.Peak()), 9700*25, 1e-12)
	if offset != 0 || l.Quality != Measured || l.Power.Full != 1350 || l.Title != "mine" {
		t.Errorf("offset %v, quality %q, power %v, title %q", offset, l.Quality, l.Power.Full, l.Title)
	}
}

func TestPhotometricFile(t *testing.T) {
	k, _ := readKit(t, "kit: 1\nlamps:\n  panel: {photometry: matt.ies, reference: 5600 K}\n  like panel: {like: panel, opening: disc 0.5 m}\n")
	l, _ := k.Lamp("panel")
	d, _ := beamOf(t, l, 0)
	near(t, "peak", float64(d.Peak()), 1000, 1e-12)
	near(t, "at 60°", d.At(photometry.Direction(0, 60)), 500, 1e-9)
	// Length runs along C0, the file's second dimension.
	if want := (Opening{Shape: Rectangle, Width: 0.3, Height: 0.6}); l.Opening != want {
		t.Errorf("opening %v, want %v", l.Opening, want)
	}
	like, _ := k.Lamp("like panel")
	if again, _ := beamOf(t, like, 0); again != d {
		t.Error("the lamp that is like it has another light")
	}
}

func TestLike(t *testing.T) {
	k, _ := readKit(t, `kit: 1
lamps:
  third: {like: second, mass: {head: 3 kg}}
  second: {like: first, quality: guess, ip: none}
  first: {like: b12-d26, quality: measured, matt: 2 kcd, dim: {50 %: 30 %}}
  B12-D60: {like: B12-D60, engine: 70 klm}
`)
	l, _ := k.Lamp("third")
	d, _ := beamOf(t, l, 0)
	near(t, "flux", float64(d.Flux()), math.Pi*2000, 1e-12)
	if l.Mass.Head != 3 || l.Mass.Supply != 0 || l.Quality != Guess || l.IP != "" || l.Fan.Quiet.Noise != 20 {
		t.Errorf("third is %+v", l)
	}
	near(t, "half level", l.AtLevel(0.5), 0.3, 1e-12)
	near(t, "draw at half level", l.draw(t, 0.5), 60+1290*0.3, 1e-12)
	// 60 % of the light stands between 50 % (30 %) and 100 % (100 %) of the control.
	near(t, "quiet mode", float64(l.MaxDim(Quiet)), 0.5+0.5*0.3/0.7, 1e-12)
	own, _ := k.Lamp("B12-D60")
	if d, _ := beamOf(t, own, 0); d.Peak() != 50_000 || *own.text.Engine != 70_000 {
		t.Errorf("the own lamp like its namesake has %v", d.Peak())
	}
}

func (l *Lamp) draw(t *testing.T, dim unit.Fraction) float64 {
	t.Helper()
	w, ok := l.Draw(dim)
	if !ok {
		t.Fatalf("%s: draw unknown", l.Name)
	}
	return float64(w)
}

// Figures that do not agree with each other are told and stop nothing.
func TestNotes(t *testing.T) {
	cases := []struct{ name, lamp, want string }{
		{"flux", "beams: {beam: 26 deg, peak: 250 kcd, flux: 61 klm}", "the beam adds up to 57.6 klm, not 61 klm"},
		{"flux of a matt opening", "matt: {peak: 1 kcd, flux: 3 klm}", "the beam adds up to 3.14 klm, not 3 klm"},
		{"field", "beams: {beam: 26 deg, peak: 250 kcd, field: 60 deg}", "a bell of this beam has a field of 47.4°"},
		{"scattered levels", "beams: {beam: 26 deg, levels: [10000 lx @ 5 m, 3600 lx @ 10 m, 1111 lx @ 15 m]}", "stop rms from one curve"},
		{"a source far behind", "beams: {beam: 26 deg, levels: [1000 lx @ 2 m, 500 lx @ 4 m]}", "the light seems to come from 2.83 m behind the front"},
		{"scattered levels of a matt opening", "matt: {levels: [1000 lx @ 2 m, 330 lx @ 4 m]}", "stop rms from one curve"},
		{"within rounding", "beams: {beam: 26 deg, peak: 250 kcd, flux: 57 klm, field: 47 deg}", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, notes := readKit(t, "kit: 1\nlamps:\n  mine: {"+c.lamp+", "+rest+"}\n  again: {like: mine}\n")
			switch {
			case c.want == "" && len(notes) == 0:
			case len(notes) != 1:
				t.Errorf("notes %v, want one like %q", notes, c.want)
			case !strings.Contains(notes[0].Text, c.want) || notes[0].Kind != fault.Note || notes[0].Place.Line != 3:
				t.Errorf("note %v, want %q in line 3", notes[0], c.want)
			}
		})
	}
}

func TestWith(t *testing.T) {
	own, _ := readKit(t, `kit: 1
lamps:
  b12-d26: {like: B12-D26, quality: measured, beams: {beam: 26 deg, peak: 240 kcd}}
  mine: {like: P20}
cloths:
  Full  Grid: {also: [house grid], kind: heavy, through: 20 %, front: 60 %}
  velvet: {kind: black, front: 1 %}
`)
	k := BuiltIn().With(own)
	l, ok := k.Lamp("B12-D26")
	if d, _ := beamOf(t, l, 0); !ok || d.Peak() != 240_000 {
		t.Errorf("the own lamp does not hold: %v", d.Peak())
	}
	for _, name := range []string{"full grid", "full grid cloth", "GRID CLOTH", "house grid"} {
		if c, ok := k.Cloth(name); !ok || c.Name != "Full  Grid" {
			t.Errorf("%q is not the own cloth", name)
		}
	}
	if len(k.LampNames()) != len(BuiltIn().LampNames())+1 || len(k.ClothNames()) != len(BuiltIn().ClothNames())+2 {
		t.Errorf("names %q, %q", k.LampNames(), k.ClothNames())
	}
	var notes []string
	for _, n := range k.Notes() {
		notes = append(notes, n.Error())
	}
	want := []string{
		`own.yaml:3:3: lamps.b12-d26: stands in for the lamp "B12-D26"`,
		`own.yaml:6:3: cloths.Full  Grid: stands in for the cloth "full grid cloth"`,
	}
	if strings.Join(notes, "\n") != strings.Join(want, "\n") {
		t.Errorf("notes\n%s\nwant\n%s", strings.Join(notes, "\n"), strings.Join(want, "\n"))
	}
	if c, _ := BuiltIn().Cloth("full grid"); c.Through != 0.22 || len(BuiltIn().Notes()) > 0 {
		t.Error("laying a kit over the built-in one has changed it")
	}
}

// Two own cloths that take names of one of the kit keep theirs; what is left goes to the first by the kit's order.
func TestWithTwoHeirs(t *testing.T) {
	own, _ := readKit(t, `kit: 1
cloths:
  grid cloth: {kind: heavy, through: 20 %, front: 60 %}
  full grid: {kind: heavy, through: 21 %, front: 60 %}
`)
	k := BuiltIn().With(own)
	for name, want := range map[string]unit.Fraction{"full grid": 0.21, "grid cloth": 0.20, "full grid cloth": 0.21} {
		if c, ok := k.Cloth(name); !ok || c.Through != want {
			t.Errorf("%q passes %v, want %v", name, c.Through, want)
		}
	}
}

func TestMilliampere(t *testing.T) {
	for text, want := range map[string]Milliampere{"2 mA": 2, "3,5 mA": 3.5, "0": 0, " 1.5MA ": 1.5} {
		var got Milliampere
		if err := got.Parse(text); err != nil || got != want {
			t.Errorf("%q reads as %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "mA", "-1 mA", "NaN", "1 A", "2000 mA"} {
		var got Milliampere
		if err := got.Parse(text); err == nil {
			t.Errorf("%q reads as %v", text, got)
		}
	}
}

func TestOpeningReadsWhatItPrints(t *testing.T) {
	for _, text := range []string{"disc 0.30 m", "0.60 × 0.30 m", "tube 1.20 × 0.04 m"} {
		var o Opening
		if err := o.Parse(text); err != nil || o.String() != text {
			t.Errorf("%q reads as %q, %v", text, o, err)
		}
	}
	for _, text := range []string{"", "disc", "disc 0 m", "tube 1.2 m", "0.6 m", "5 kg", "disc 0.6 x 0.3 m"} {
		var o Opening
		if err := o.Parse(text); err == nil {
			t.Errorf("%q reads as %v", text, o)
		}
	}
}
