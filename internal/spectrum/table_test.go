package spectrum

import (
	"os"
	"strings"
	"testing"

	"gloam/internal/fault"
)

func TestReadTable(t *testing.T) {
	for _, c := range []struct {
		name, text string
		names      string
		nm, value  float64 // of the last line
	}{
		{"plain", "400,1\n500,2.5\n", "", 500, 2.5},
		{"names, a comment, a blank line, line ends of another system", "# a\r\nnm,lamp\r\n\r\n400,1\r\n", "lamp", 400, 1},
		{"byte order mark", "\ufeffnm,w\n400,1", "w", 400, 1},
		{"decimal comma", "nm;W\n400,5;0,25\n", "W", 400.5, 0.25},
		{"tabs", "400\t1\n405\t2e-3\n", "", 405, 0.002},
		{"more curves", "nm,r,g\n400,1,2\n", "r g", 400, 1},
		{"below zero", "400,-1\n", "", 400, -1},
	} {
		table, err := ReadTable("f.csv", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		n := len(table.nm) - 1
		if table.nm[n] != c.nm || table.columns[0][n] != c.value || strings.Join(table.Names, " ") != c.names {
			t.Errorf("%s: read %q %v %v", c.name, table.Names, table.nm, table.columns)
		}
	}
}

func TestReadTableRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "f.csv: the file holds no wavelengths"},
		{"names alone", "nm,a\n", "f.csv:1: the file holds no wavelengths"},
		{"one column", "400\n", "f.csv:1:1: not a line of a spectrum"},
		{"a text", "Dear gaffer\n", "f.csv:1:1: not a line of a spectrum"},
		{"too many columns", strings.Repeat("1,", 200) + "1\n", "f.csv:1:1: not a line of a spectrum"},
		{"no number", "400,1\n405,x\n", `f.csv:2:5: not a number; read "x"`},
		{"not finite", "400,NaN\n", "f.csv:1:5: not a number"},
		{"too large", "400,1e200\n", "f.csv:1:5: not a number"},
		{"ragged", "400,1\n405,1,2\n", "f.csv:2:1: this line has another number of columns"},
		{"descends", "400,1\n395,1\n", `f.csv:2:1: the wavelengths do not ascend; read "395"; allowed: above 400 nm`},
		{"micrometres", "0.4,1\n", "f.csv:1:1: not a wavelength in nm"},
	} {
		_, err := ReadTable("f.csv", []byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || fault.Code(err) != 1 {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	if _, err := ReadTable("f.csv", make([]byte, mostBytes+1)); err == nil {
		t.Error("takes a file of any size")
	}
}

func TestRead(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"whole", "380,1\n385,1\n390,2\n395,1\n400,1\n405,1\n700,1\n", "filled in by straight lines"},
		{"narrow", "500,1\n505,1\n", "taken as dark"},
		{"noise", "500,1\n505,-0.01\n", "values below 0 are taken as 0; read \"1 values\""},
	} {
		m, err := Read("f.csv", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if !strings.Contains(m.Notes.Error(), c.want) || m.Notes.Err() != nil {
			t.Errorf("%s: notes %v, want %s", c.name, m.Notes, c.want)
		}
	}
	for _, c := range []struct{ name, text, want string }{
		{"negative power", "500,1\n505,-0.5\n", "f.csv:2: a value of the spectrum is out of range; read \"-0.5\""},
		{"two curves", "500,1,2\n", "f.csv:1: more than one spectrum"},
		{"infrared", "900,1\n905,1\n", "f.csv: the spectrum holds no visible light"},
		{"dark", "500,0\n505,0\n", "f.csv: the spectrum holds no visible light"},
		{"below zero throughout", "500,-1\n505,-2\n", "f.csv:1: a value of the spectrum is out of range"},
	} {
		if _, err := Read("f.csv", []byte(c.text)); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// Luminous reflectances (%) of chart patches under D50 and A, computed with colour-science 0.4.6, from a table at 10 nm.
func TestPatchesFromATable(t *testing.T) {
	text, err := os.ReadFile("testdata/patches.csv")
	if err != nil {
		t.Fatal(err)
	}
	table, err := ReadTable("patches.csv", text)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][2]float64{
		"dark skin": {10.33, 11.22}, "light skin": {35.24, 37.69}, "neutral 5": {19.12, 19.07}, "white": {91.28, 91.40}, "black": {3.20, 3.20},
	}
	for i, name := range table.Names {
		patch, err := table.Factor(i)
		if err != nil {
			t.Fatal(err)
		}
		for k, source := range []string{"D50", "A"} {
			c, _ := Illuminant(source)
			within(t, name+" under "+source, 100*luminance(c.Mul(patch))/luminance(c), want[name][k], 0.3)
		}
	}
}

// Whatever a file holds, it is read or refused, and what is read is a light.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"nm,w\n400,1\n405,2\n", "400;1,5\n", "#\n\n400\t-1e-9\n700\t1", "400,1e100\n401,1e-300\n", "\ufeff"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := Read("f.csv", text)
		if err != nil {
			return
		}
		sum := 0.0
		for _, y := range LightOf(m.Curve).Y {
			sum += y
		}
		within(t, "sum of Y", sum, 1, 1e-9)
	})
}
