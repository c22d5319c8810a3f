package photometry

import (
	"errors"
	"os"
	"runtime"
	"strings"
	"testing"

	"gloam/internal/fault"
)

// Each file is refused with one fault that names the place.
func TestRefusesBrokenFiles(t *testing.T) {
	for _, c := range []struct {
		file, want   string
		line, column int
	}{
		{"x01_too_few_candela.ies", "the file ends before intensity 4 of 4", 12, 1},
		{"x02_nonmonotonic_angles.ies", "vertical angle does not ascend", 9, 6},
		{"x03_no_tilt.ies", "the line TILT= is missing", 11, 1},
		{"x04_tilt_file.ies", "in another file", 6, 1},
		{"x05_nan.ies", "intensity 1 of 4 is not a number", 11, 1},
		{"x06_negative_cd.ies", "an intensity is not possible", 11, 6},
		{"x07_huge_counts.ies", "declares too many intensities", 7, 8},
		{"x08_empty.ies", "the file is empty", 0, 0},
	} {
		t.Run(c.file, func(t *testing.T) {
			data, err := os.ReadFile("testdata/" + c.file)
			if err != nil {
				t.Fatal(err)
			}
			refused(t, c.file, string(data), c.want, c.line, c.column)
		})
	}
}

func refused(t *testing.T, name, text, want string, line, column int) {
	t.Helper()
	_, err := ReadFile(name, strings.NewReader(text))
	var list fault.List
	if !errors.As(err, &list) {
		t.Fatalf("error %v, want a fault.List", err)
	}
	if len(list) != 1 || !strings.Contains(list[0].Text, want) {
		t.Fatalf("faults:\n%v\nwant one with %q", list, want)
	}
	if p := list[0].Place; p.File != name || p.Line != line || p.Column != column {
		t.Errorf("place %v, want %s:%d:%d", p, name, line, column)
	}
}

// good is a small valid file that the rows below break in one place each.
const good = "IESNA:LM-63-2002\n[TEST] x\nTILT=NONE\n1 -1 1 3 1 1 2 0 0 0\n1 1 100\n0 45 90\n0\n3 2 1\n"

func TestRefusesBrokenLM63(t *testing.T) {
	if _, err := ReadFile("good.ies", strings.NewReader(good)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, old, new, want string
		line, column         int
	}{
		{"unknown edition", "2002", "2077", "edition of LM-63 is not known", 1, 1},
		{"word for a count", "1 -1 1 3 1", "1 -1 1 three 1", "vertical angles is not a number", 4, 8},
		{"half an angle", "1 -1 1 3 1", "1 -1 1 2.5 1", "vertical angles is not possible", 4, 8},
		{"one angle", "1 -1 1 3 1", "1 -1 1 1 1", "vertical angles is not possible", 4, 8},
		{"1e18 angles", "1 -1 1 3 1", "1 -1 1 1e18 1", "declares too many intensities", 4, 8},
		{"more than the file can hold", "1 -1 1 3 1", "1 -1 1 1000 1000", "more than it can hold", 4, 8},
		{"type 4", "1 -1 1 3 1 1 2", "1 -1 1 3 1 4 2", "photometric type is not possible", 4, 12},
		{"units 3", "1 -1 1 3 1 1 2", "1 -1 1 3 1 1 3", "units type is not possible", 4, 14},
		{"no multiplier", "1 -1 1 3 1", "1 -1 0 3 1", "candela multiplier is not possible", 4, 6},
		{"minus two lumens", "1 -1 1", "1 -2 1", "lumens per lamp are not possible", 4, 3},
		{"angle past 180", "0 45 90", "0 45 190", "out of range", 6, 6},
		{"planes of no symmetry", "0 45 90\n0\n", "0 45 90\n20\n", "none of type C", 6, 8},
		{"hexadecimal", "3 2 1", "3 0x2 1", "not a number", 8, 3},
		{"beyond all lamps", "3 2 1", "3 2e300 1", "an intensity is not possible", 8, 3},
		{"one value too many", "3 2 1", "3 2 1 0", "more values than the file declares", 8, 7},
		{"dark", "3 2 1", "0 0 0", "no light", 6, 8},
		{"tilt factors cut off", "TILT=NONE", "TILT=INCLUDE\n1\n900\n0 45", "more than it can hold", 5, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			refused(t, "bad.ies", strings.Replace(good, c.old, c.new, 1), c.want, c.line, c.column)
		})
	}
	refused(t, "a.txt", "some\nother\ntext\n", "neither an LM-63 nor a EULUMDAT file", 0, 0)
}

func TestRefusesBrokenEULUMDAT(t *testing.T) {
	data, err := os.ReadFile("testdata/e01_isym1_lambert.ldt")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.ReplaceAll(string(data), "\r", ""), "\n")
	for _, c := range []struct {
		name  string
		line  int
		value string
		want  string
	}{
		{"isym 5", 3, "5", "Isym is not possible"},
		{"1e18 planes", 4, "1e18", "declares too many intensities"},
		{"a word for Ng", 6, "x", "neither an LM-63 nor a EULUMDAT file"},
		{"blank Ng", 6, "", "Ng is not a number"},
		{"no conversion factor", 24, "0", "conversion factor is not possible"},
		{"no lamp sets", 26, "0", "number of lamp sets is not possible"},
		{"no flux", 29, "0", "total flux of the lamps is not possible"},
		{"descending γ", 46, "10", "γ does not ascend"},
		{"negative value", 54, "-1", "an intensity is not possible"},
	} {
		t.Run(c.name, func(t *testing.T) {
			broken := append([]string(nil), lines...)
			broken[c.line-1] = c.value
			line, column := c.line, 1
			if strings.HasPrefix(c.want, "neither") {
				line, column = 0, 0
			}
			refused(t, "bad.ldt", strings.Join(broken, "\n"), c.want, line, column)
		})
	}
	refused(t, "cut.ldt", strings.Join(lines[:55], "\n"), "the file ends before intensity 6 of 7", 56, 1)
	refused(t, "long.ldt", strings.Join(lines, "\n")+"5\n", "more values than the file declares", 58, 1)
}

// A file of 206 bytes that declares 1e18 values must not have memory set aside for them.
func TestHugeCountsTakeNoMemory(t *testing.T) {
	data, err := os.ReadFile("testdata/x07_huge_counts.ies")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"declared":    string(data),
		"within most": strings.Replace(good, "1 -1 1 3 1", "1 -1 1 1000 1000", 1),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := ReadFile(name, strings.NewReader(text)); err == nil {
			t.Error("not refused")
		}
		runtime.ReadMemStats(&after)
		if used := after.TotalAlloc - before.TotalAlloc; used > 100_000 {
			t.Errorf("%s: %d bytes set aside", name, used)
		}
	}
	if _, err := ReadFile("long", strings.NewReader(strings.Repeat(" ", maxBytes+1))); err == nil {
		t.Error("a file over 16 MiB is not refused")
	}
}
