package spectrum

import (
	"embed"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

//go:embed data
var data embed.FS

// Table holds the curves of a CSV: a first column of wavelengths (nm) and a column for each curve.
type Table struct {
	Names []string // of the curves, as the first line gives them; empty texts when it gives none

	file    string
	nm      []float64
	columns [][]float64
	lines   []int // of the file, one for each wavelength
}

// What ReadTable takes at most.
const (
	mostBytes   = 1 << 20
	mostRows    = 10_000
	mostColumns = 128
)

// ReadTable reads a CSV whose first column holds wavelengths in nm, ascending, and every other one a curve. A first line
// of names, empty lines and lines that begin with # are allowed; columns are set apart by commas, or by semicolons or tabs,
// and then a decimal comma may stand for the point. At most 1 MiB, 10000 wavelengths and 127 curves. Faults are of kind Input
// and give file, line and column.
func ReadTable(file string, text []byte) (Table, error) {
	t := Table{file: file}
	if len(text) > mostBytes {
		return t, t.fault(0, 0, "the file is too large for a spectrum", fmt.Sprintf("%d bytes", len(text)), "up to 1 MiB")
	}
	number := 0
	for line := range strings.Lines(strings.TrimPrefix(string(text), "\ufeff")) {
		number++
		if line = strings.TrimRight(line, " \t\r\n"); line == "" || line[0] == '#' {
			continue
		}
		if err := t.row(number, line); err != nil {
			return t, err
		}
	}
	if len(t.nm) == 0 {
		return t, t.fault(number, 0, "the file holds no wavelengths", "", "lines of nm,value")
	}
	return t, nil
}

// row takes one line that is neither empty nor a comment.
func (t *Table) row(number int, line string) error {
	separator := ","
	for _, s := range []string{";", "\t"} {
		if strings.Contains(line, s) {
			separator = s
			break
		}
	}
	fields := strings.Split(line, separator)
	if t.Names == nil {
		if len(fields) < 2 || len(fields) > mostColumns {
			return t.fault(number, 1, "not a line of a spectrum", line, fmt.Sprintf("a wavelength in nm and 1 to %d values", mostColumns-1))
		}
		t.Names = make([]string, len(fields)-1)
		t.columns = make([][]float64, len(fields)-1)
		if _, err := parseNumber(fields[0], separator); err != nil {
			for i := range t.Names {
				t.Names[i] = strings.TrimSpace(fields[i+1])
			}
			return nil
		}
	}
	if len(fields) != len(t.Names)+1 {
		return t.fault(number, 1, "this line has another number of columns than the first", line, fmt.Sprintf("%d columns", len(t.Names)+1))
	}
	if len(t.nm) == mostRows {
		return t.fault(number, 1, "the file holds too many wavelengths", "", fmt.Sprintf("up to %d", mostRows))
	}
	column := 1
	for i, field := range fields {
		v, err := parseNumber(field, separator)
		switch {
		case err != nil || math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > brightest:
			return t.fault(number, column, "not a number", field, "a decimal number up to 1e100")
		case i > 0:
			t.columns[i-1] = append(t.columns[i-1], v)
		case !(v >= 10 && v <= 100_000):
			return t.fault(number, column, "not a wavelength in nm", field, "10 to 100000")
		case len(t.nm) > 0 && v <= t.nm[len(t.nm)-1]:
			return t.fault(number, column, "the wavelengths do not ascend", field, fmt.Sprintf("above %g nm", t.nm[len(t.nm)-1]))
		default:
			t.nm, t.lines = append(t.nm, v), append(t.lines, number)
		}
		column += len(field) + 1
	}
	return nil
}

func parseNumber(text, separator string) (float64, error) {
	text = strings.TrimSpace(text)
	if separator != "," {
		text = strings.Replace(text, ",", ".", 1)
	}
	return strconv.ParseFloat(text, 64)
}

func (t *Table) fault(line, column int, text, read, allowed string) error {
	return fault.Fault{Place: fault.Place{File: t.file, Line: line, Column: column}, Text: text, Read: read, Allowed: allowed}
}

// Power returns column i as the relative power of a source. A value below 0 is a fault.
func (t Table) Power(i int) (Curve, error) { return t.curve(i, brightest, true) }

// Factor returns column i as a reflectance or transmittance. A value outside 0 to 1 is a fault.
func (t Table) Factor(i int) (Curve, error) { return t.curve(i, 1, false) }

func (t Table) curve(i int, most float64, zeroOutside bool) (Curve, error) {
	for k, v := range t.columns[i] {
		if !(v >= 0 && v <= most) {
			return Curve{}, t.fault(t.lines[k], 0, "a value of the spectrum is out of range", fmt.Sprint(v), allowed(most))
		}
	}
	return Curve{t.nm, t.columns[i], zeroOutside}, nil
}

// readTable reads an embedded table. It panics when the file is not well formed, which only a change to it can bring about.
func readTable(name string) Table {
	text, err := data.ReadFile("data/" + name)
	if err != nil {
		panic("spectrum: embedded table missing")
	}
	t, err := ReadTable(name, text)
	if err != nil {
		panic("spectrum: embedded table not well formed")
	}
	return t
}

// column returns the values of one column, nil when there is none of that name.
func (t Table) column(name string) []float64 {
	for i, n := range t.Names {
		if n == name {
			return t.columns[i]
		}
	}
	return nil
}
