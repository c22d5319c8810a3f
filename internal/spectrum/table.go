package spectrum

import (
	"embed"
	"strconv"
	"strings"
)

//go:embed data
var data embed.FS

// table is an embedded CSV: a first column of wavelengths (nm) and one named column a curve.
type table struct {
	names   []string
	nm      []float64
	columns [][]float64
}

// readTable reads an embedded table. It panics when the file is not well formed, which only a change to it can bring about.
func readTable(name string) table {
	text, err := data.ReadFile("data/" + name)
	if err != nil {
		panic("spectrum: embedded table missing")
	}
	return parseTable(string(text))
}

func parseTable(text string) table {
	var t table
	for line := range strings.Lines(text) {
		if line[0] == '#' {
			continue
		}
		fields := strings.Split(strings.TrimSpace(line), ",")
		if t.names == nil {
			t.names = fields[1:]
			t.columns = make([][]float64, len(t.names))
			continue
		}
		t.nm = append(t.nm, number(fields[0]))
		for i := range t.columns {
			t.columns[i] = append(t.columns[i], number(fields[i+1]))
		}
	}
	return t
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("spectrum: embedded table holds a text that is no number")
	}
	return v
}

// column returns the values of one column, nil when there is none of that name.
func (t table) column(name string) []float64 {
	for i, n := range t.names {
		if n == name {
			return t.columns[i]
		}
	}
	return nil
}
