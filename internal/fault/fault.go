// Package fault holds the one record the program uses for everything it must tell a person: a mistake in a plan, a
// foreign file it cannot read, a call it cannot carry out.
//
// A fault says where it is, what was read, what is allowed and, where one is near, the word that was probably meant.
// Faults are gathered in a List, so that a person sees them all at once.
package fault

import (
	"errors"
	"fmt"
	"sort"
	"strings"
)

// Kind says who has to act, and with that the exit code of the terminal (Code).
type Kind int

const (
	// Input is a mistake in a plan, a kit or a foreign file.
	Input Kind = iota
	// Call is a mistake in how the program was called.
	Call
	// Unfinished is work that could not be ended: disk, memory, cancelled.
	Unfinished
	// Note is worth knowing and stops nothing.
	Note
)

// Place is where a fault stands. Line and Column count from 1; 0 is unknown. The zero Place is nowhere.
type Place struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
}

// String returns file:line:column, shortened by what is unknown.
func (p Place) String() string {
	parts := make([]string, 0, 3)
	if p.File != "" {
		parts = append(parts, p.File)
	}
	if p.Line > 0 {
		parts = append(parts, fmt.Sprint(p.Line))
		if p.Column > 0 {
			parts = append(parts, fmt.Sprint(p.Column))
		}
	}
	return strings.Join(parts, ":")
}

// Fault is one thing to tell. Text is a whole clause without a full stop and says what is wrong; Path names the field
// as a person would look it up (`lamps.key.dim`); Read is the text found there; Allowed what would be accepted;
// Hint what to try, such as the nearest valid name.
type Fault struct {
	Kind    Kind   `json:"-"`
	Place   Place  `json:"place"`
	Path    string `json:"path,omitempty"`
	Text    string `json:"text"`
	Read    string `json:"read,omitempty"`
	Allowed string `json:"allowed,omitempty"`
	Hint    string `json:"hint,omitempty"`
}

// Error returns the fault on one line: place, path, what is wrong, what was read, what is allowed, the hint.
func (f Fault) Error() string {
	var b strings.Builder
	if p := f.Place.String(); p != "" {
		b.WriteString(p + ": ")
	}
	if f.Path != "" {
		b.WriteString(f.Path + ": ")
	}
	b.WriteString(f.Text)
	if f.Read != "" {
		fmt.Fprintf(&b, "; read %q", shorten(f.Read))
	}
	if f.Allowed != "" {
		b.WriteString("; allowed: " + f.Allowed)
	}
	if f.Hint != "" {
		b.WriteString("; " + f.Hint)
	}
	return b.String()
}

// shorten keeps one runaway value from filling the screen.
func shorten(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// List is a set of faults as one error. A nil or empty List is no error: return Err, never the List itself.
type List []Fault

// Error returns one fault a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, f := range l {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Err returns the list as an error, or nil when it holds nothing but notes.
func (l List) Err() error {
	for _, f := range l {
		if f.Kind != Note {
			return l
		}
	}
	return nil
}

// Sort orders the list by file, line and column, keeping the order of faults at one place.
func (l List) Sort() {
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i].Place, l[j].Place
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// Of returns the faults inside err: its List, its single Fault, or the error's text as one fault of the given kind.
func Of(err error, otherwise Kind) List {
	if err == nil {
		return nil
	}
	var list List
	if errors.As(err, &list) {
		return list
	}
	var one Fault
	if errors.As(err, &one) {
		return List{one}
	}
	return List{{Kind: otherwise, Text: err.Error()}}
}

// Code returns the exit code of the terminal: 0 without faults, 1 the input is at fault, 2 the call is, 4 could not finish.
// The gravest wins.
func Code(err error) int {
	code := 0
	for _, f := range Of(err, Input) {
		switch f.Kind {
		case Input:
			code = max(code, 1)
		case Call:
			code = max(code, 2)
		case Unfinished:
			code = max(code, 4)
		}
	}
	return code
}

// Nearest returns the name closest to read by edit distance, or "" when none is near enough to be meant.
func Nearest(read string, names []string) string {
	best, bestDistance := "", 1<<30
	want := strings.ToLower(read)
	for _, n := range names {
		d := distance(want, strings.ToLower(n))
		if d < bestDistance {
			best, bestDistance = n, d
		}
	}
	if bestDistance > max(2, len(want)/3) {
		return ""
	}
	return best
}

// Meant returns the hint `did you mean "x"?`, or "" when no name is near.
func Meant(read string, names []string) string {
	if n := Nearest(read, names); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return ""
}

// distance is the Levenshtein distance between two texts, in runes (textbook two-row form). Texts over 64 runes are
// cut, since nobody mistypes a name of that length by a letter.
func distance(a, b string) int {
	x, y := cut(a), cut(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		corner := row[0]
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			corner, row[j] = row[j], min(row[j]+1, row[j-1]+1, corner+cost)
		}
	}
	return row[len(y)]
}

func cut(s string) []rune {
	r := []rune(s)
	if len(r) > 64 {
		r = r[:64]
	}
	return r
}
