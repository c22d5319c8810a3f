package document

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Path names a value as a person would look it up: `lamps.key.dim`, `walks.entry[2]`, items counted from 0. A name that
// is empty or holds a dot, a bracket, a quote or a control character is written as a Go string: `lamps."B12.5".dim`.
// The empty Path is the whole document.
type Path string

// Join returns the path of a name under p.
func (p Path) Join(name string) Path {
	if name == "" || strings.ContainsAny(name, `.[]"`) || strings.ContainsFunc(name, unicode.IsControl) {
		name = strconv.Quote(name)
	}
	if p == "" {
		return Path(name)
	}
	return p + "." + Path(name)
}

// Item returns the path of item i of the list at p.
func (p Path) Item(i int) Path { return p + Path("["+strconv.Itoa(i)+"]") }

// step is one step of a path: to a name, or to an item when item is not -1.
type step struct {
	name string
	item int
	end  int // where the step ends in the path
}

// steps takes the path apart. A path that is not well formed is an error.
func (p Path) steps() ([]step, error) {
	var steps []step
	for i := 0; i < len(p); i = steps[len(steps)-1].end {
		rest := string(p[i:])
		if len(steps) > 0 && rest[0] == '.' {
			rest = rest[1:]
		} else if len(steps) > 0 && rest[0] != '[' {
			return nil, fmt.Errorf("the path %q has no dot before %q", string(p), rest)
		}
		s, length, err := firstStep(rest)
		if err != nil {
			return nil, fmt.Errorf("the path %q cannot be read at %q", string(p), rest)
		}
		s.end = len(p) - len(rest) + length
		steps = append(steps, s)
	}
	return steps, nil
}

// firstStep reads the step that text begins with and returns its length in bytes.
func firstStep(text string) (step, int, error) {
	switch {
	case strings.HasPrefix(text, "["):
		end := strings.IndexByte(text, ']')
		if end < 0 {
			return step{}, 0, strconv.ErrSyntax
		}
		i, err := strconv.ParseUint(text[1:end], 10, 31)
		return step{item: int(i)}, end + 1, err
	case strings.HasPrefix(text, `"`):
		quoted, err := strconv.QuotedPrefix(text)
		if err != nil {
			return step{}, 0, err
		}
		name, err := strconv.Unquote(quoted)
		return step{name: name, item: -1}, len(quoted), err
	}
	end := strings.IndexAny(text, ".[")
	if end < 0 {
		end = len(text)
	}
	if end == 0 {
		return step{}, 0, strconv.ErrSyntax
	}
	return step{name: text[:end], item: -1}, end, nil
}

// parent returns the path without its last step; that of a single step or of an unreadable path is "".
func (p Path) parent() Path {
	steps, err := p.steps()
	if err != nil || len(steps) < 2 {
		return ""
	}
	return p[:steps[len(steps)-2].end]
}

// Ends returns the last two names of a path, what it is about and its field: of lamps.key.dim key and dim. Those that the
// path does not have are empty.
func (p Path) Ends() (of, field string) {
	steps, err := p.steps()
	if err != nil || len(steps) == 0 {
		return "", ""
	}
	if len(steps) > 1 {
		of = steps[len(steps)-2].name
	}
	return of, steps[len(steps)-1].name
}
