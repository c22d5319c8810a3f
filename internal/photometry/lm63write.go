package photometry

import (
	"bufio"
	"io"
	"slices"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

// WriteLM63 writes a file in edition 2002 or 2019 of [LM-63], in metres, with every multiplier 1. What was read is read
// again from it digit for digit, but for the planes of a table symmetric about C90–C270, which these editions only know
// as a whole turn, and for the lamps' flux of an absolute EULUMDAT file, which has no place. Keywords the standard
// demands and f lacks are written as not stated.
func WriteLM63(w io.Writer, f *File, edition string) error {
	version := map[string]string{"2002": "IESNA:LM-63-2002", "2019": "IES:LM-63-2019"}[edition]
	if version == "" {
		return fault.Fault{Kind: fault.Call, Text: "this edition of LM-63 is not written", Read: edition, Allowed: "2002 or 2019"}
	}
	out := lines{w: bufio.NewWriter(w)}
	out.line(version)
	out.labels(f)
	if f.Tilt == nil {
		out.line("TILT=NONE")
	} else {
		out.line("TILT=INCLUDE")
		out.numbers(float64(f.Tilt.Geometry))
		out.numbers(float64(len(f.Tilt.Angles)))
		angles := make([]float64, len(f.Tilt.Angles))
		for i, a := range f.Tilt.Angles {
			angles[i] = float64(a)
		}
		out.numbers(angles...)
		out.numbers(f.Tilt.Factors...)
	}
	h, cd := f.Table.writtenPlanes()
	lamps, lumens := max(f.LampCount, 1), -1.0
	if !f.Absolute {
		lumens = float64(f.LampFlux) / float64(lamps)
	}
	kind := map[Type]float64{TypeC: 1, TypeB: 2, TypeA: 3}[f.Type]
	wide, long, high := f.Opening.code()
	out.numbers(float64(lamps), lumens, 1, float64(len(f.Table.vertical)), float64(len(h)), kind, 2,
		float64(wide), float64(long), float64(high))
	out.numbers(1, f.secondFactor(edition), float64(f.Watts))
	out.numbers(f.Table.vertical...)
	out.numbers(h...)
	for _, plane := range cd {
		out.numbers(plane...)
	}
	return out.flush()
}

// secondFactor is the value behind the ballast factor: reserved and 1 in 2002, the file generation type in 2019, where
// 1.00001 says undefined (from memory).
func (f *File) secondFactor(edition string) float64 {
	switch {
	case edition == "2002":
		return 1
	case f.Generation != 0:
		return f.Generation
	}
	return 1.00001
}

// writtenPlanes returns horizontal angles and planes as LM-63-2002 allows them.
func (t *Table) writtenPlanes() (h []float64, cd [][]float64) {
	last := t.horizontal[len(t.horizontal)-1]
	if t.kind != TypeC || t.symmetry != AboutC90 && (t.symmetry != None || last == turn) {
		return t.horizontal, t.cd
	}
	h = append(t.allRound(), turn)
	return h, t.planesAt(h)
}

// allRound returns the C-angles of a type C table's planes in ascending order from 0 up to, not including, 360. Where
// no plane stands at 0 one is added, which changes nothing in a table that is linear between planes.
func (t *Table) allRound() []float64 {
	lon := t.grid.lon[:len(t.grid.lon)-1]
	k := len(lon)
	for k > 0 && lon[k-1] >= turn {
		k--
	}
	c := []float64{0}
	for _, a := range lon[k:] {
		if a != turn {
			c = append(c, a-turn)
		}
	}
	for _, a := range lon[:k] {
		if a != 0 {
			c = append(c, a)
		}
	}
	return c
}

// planesAt returns the intensities of the planes at the given C-angles.
func (t *Table) planesAt(c []float64) [][]float64 {
	out := make([][]float64, len(c))
	for i := range c {
		for _, g := range t.vertical {
			out[i] = append(out[i], t.grid.at(c[i], g))
		}
	}
	return out
}

// labels writes the keywords, those LM-63 demands first; texts without a keyword go under OTHER.
func (l *lines) labels(f *File) {
	demanded := []string{"TEST", "TESTLAB", "ISSUEDATE", "MANUFAC"}
	for _, name := range demanded {
		text := f.keyword(name)
		if text == "" {
			text = "not stated"
		}
		l.keyword(name, text)
	}
	seen := map[string]bool{}
	for _, k := range f.Keywords {
		first := !seen[k.Name]
		seen[k.Name] = true
		if first && slices.Contains(demanded, k.Name) && k.Text != "" {
			continue // written above
		}
		name := k.Name
		if name == "" {
			name = "OTHER"
		}
		l.keyword(name, k.Text)
	}
	if f.keyword("LAMP") == "" && f.LampType != "" {
		l.keyword("LAMP", f.LampType)
	}
}

func (l *lines) keyword(name, text string) {
	for i, part := range strings.Split(text, "\n") {
		if i > 0 {
			name = "MORE"
		}
		l.line("[" + name + "] " + part)
	}
}

// lines writes lines ending in CR LF and keeps the first error.
type lines struct {
	w *bufio.Writer
}

func (l *lines) line(text string) { l.w.WriteString(text + "\r\n") }

// numbers writes values with blanks between them, in lines of at most 130 characters, each with the fewest digits that
// read back the same.
func (l *lines) numbers(values ...float64) {
	length := 0
	for i, x := range values {
		word := strconv.FormatFloat(x, 'g', -1, 64)
		switch {
		case i == 0:
		case length+1+len(word) > 130:
			l.w.WriteString("\r\n")
			length = 0
		default:
			l.w.WriteByte(' ')
			length++
		}
		l.w.WriteString(word)
		length += len(word)
	}
	l.w.WriteString("\r\n")
}

// flush returns what went wrong while writing: bufio keeps its first error.
func (l *lines) flush() error {
	if err := l.w.Flush(); err != nil {
		return fault.Fault{Kind: fault.Unfinished, Text: err.Error()}
	}
	return nil
}
