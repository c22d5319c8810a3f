package photometry

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// good files under testdata.
func goodFiles(t *testing.T, pattern string) map[string]*File {
	names, err := filepath.Glob(filepath.Join("testdata", pattern))
	if err != nil || len(names) == 0 {
		t.Fatalf("no files %s: %v", pattern, err)
	}
	files := map[string]*File{}
	for _, n := range names {
		files[filepath.Base(n)] = openPath(t, n)
	}
	return files
}

// sameLight compares two files over the sphere.
func sameLight(t *testing.T, a, b *File, tolerance float64) {
	t.Helper()
	near(t, "flux", float64(b.Table.Flux()), float64(a.Table.Flux()), tolerance)
	near(t, "peak", float64(b.Table.Peak()), float64(a.Table.Peak()), tolerance)
	for c := 0.0; c < 360; c += 7.5 {
		for g := 1.25; g < 180; g += 2.5 {
			d := Direction(unit.Degree(c), unit.Degree(g))
			want := a.Table.At(d)
			if got := b.Table.At(d); abs(got-want) > tolerance*(want+1e-6*float64(a.Table.Peak())) {
				t.Fatalf("C %g γ %g: %g cd, want %g", c, g, got, want)
			}
		}
	}
}

func TestLM63RoundTrip(t *testing.T) {
	for name, f := range goodFiles(t, "[se]*.*") {
		for _, edition := range []string{"2002", "2019"} {
			t.Run(name+" "+edition, func(t *testing.T) {
				var b bytes.Buffer
				if err := WriteLM63(&b, f, edition); err != nil {
					t.Fatal(err)
				}
				g, err := ReadFile("again.ies", &b)
				if err != nil {
					t.Fatal(err)
				}
				sameLight(t, f, g, 1e-12)
				if g.Edition != edition || g.Type != f.Type || g.Opening != f.Opening || g.Watts != f.Watts || g.Absolute != f.Absolute ||
					!reflect.DeepEqual(g.Tilt, f.Tilt) {
					t.Errorf("%+v became %+v", f, g)
				}
				want := f.Symmetry
				if want == AboutC90 {
					want = None // editions 2002 and 2019 know it only as a whole turn
				}
				if g.Symmetry != want {
					t.Errorf("symmetry %s, want %s", g.Symmetry, want)
				}
				if f.Format == LM63 && !f.Absolute && (g.LampCount != f.LampCount || g.LampFlux != f.LampFlux) {
					t.Errorf("lamps %+v became %+v", f.LampSet, g.LampSet)
				}
			})
		}
	}
}

func TestEULUMDATRoundTrip(t *testing.T) {
	for name, f := range goodFiles(t, "[se]*.*") {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			err := WriteEULUMDAT(&b, f)
			if f.Type != TypeC {
				if err == nil {
					t.Error("type A or B is not refused")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			g, err := ReadFile("again.ldt", &b)
			if err != nil {
				t.Fatal(err)
			}
			sameLight(t, f, g, 1e-9)
			if g.Symmetry != f.Symmetry || g.Watts != f.Watts || g.Opening != f.Opening {
				t.Errorf("%+v became %+v", f, g)
			}
			if f.Format == EULUMDAT && (g.LampSet != f.LampSet || !reflect.DeepEqual(g.Alternatives, f.Alternatives) ||
				!reflect.DeepEqual(g.Keywords, f.Keywords) || g.Absolute != f.Absolute) {
				t.Errorf("%+v became %+v", f, g)
			}
		})
	}
}

// Planes that do not stand as Isym 3 demands are written for the whole turn, and labels reach over lines.
func TestUnevenPlanesAndLabels(t *testing.T) {
	text := "IESNA:LM-63-1995\n[LUMINAIRE] one\n[MORE] two\n[LAMP] six\nTILT=NONE\n1 -1 1 2 4 1 2 -0.5 0 0\n1 1 7\n0 90\n" +
		"90 150 200 270\n4 1\n4 2\n4 3\n4 4\n"
	f, err := ReadFile("uneven.ies", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if f.keyword("LUMINAIRE") != "one\ntwo" || f.LampType != "six" {
		t.Errorf("keywords %q", f.Keywords)
	}
	var ldt, ies bytes.Buffer
	if err := errors.Join(WriteEULUMDAT(&ldt, f), WriteLM63(&ies, f, "2019")); err != nil {
		t.Fatal(err)
	}
	for _, r := range []io.Reader{&ldt, &ies} {
		g, err := ReadFile("again", r)
		if err != nil {
			t.Fatal(err)
		}
		if g.Symmetry != None {
			t.Errorf("symmetry %s", g.Symmetry)
		}
		sameLight(t, f, g, 1e-9)
		if g.Format == LM63 && g.keyword("LUMINAIRE") != "one\ntwo" {
			t.Errorf("keywords %q", g.Keywords)
		}
	}
}

// DFF and LORL of a written EULUMDAT file: an isotropic light sends half down; 12566 lm of its own flux are 100 %.
func TestWrittenFractions(t *testing.T) {
	var b strings.Builder
	if err := WriteEULUMDAT(&b, open(t, "s01_isotropic_typeC.ies")); err != nil {
		t.Fatal(err)
	}
	l := strings.Split(b.String(), "\r\n")
	down, _ := parseNumber(l[21])
	out, _ := parseNumber(l[22])
	near(t, "downward", down, 50, 1e-9)
	near(t, "output ratio", out, 100, 1e-9)
}

func TestWriteRefuses(t *testing.T) {
	f := open(t, "s01_isotropic_typeC.ies")
	if err := WriteLM63(io.Discard, f, "1986"); fault.Code(err) != 2 {
		t.Errorf("edition 1986: %v", err)
	}
	if err := WriteLM63(full{}, f, "2019"); fault.Code(err) != 4 {
		t.Errorf("full disk: %v", err)
	}
	if err := WriteEULUMDAT(full{}, f); fault.Code(err) != 4 {
		t.Errorf("full disk: %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }
