package desk

import (
	"bytes"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"gloam/internal/document"
)

// step is one step of a path: to a name, or to an item of a list.
type step struct {
	name string
	item int // -1: a name
}

// steps takes a path apart, as package document writes it.
func steps(p document.Path) ([]step, error) {
	bad := errors.New("the path can't be read")
	var all []step
	for rest := string(p); rest != ""; {
		if len(all) > 0 && rest[0] == '.' {
			rest = rest[1:]
		} else if len(all) > 0 && rest[0] != '[' || rest[0] == '.' {
			return nil, bad
		}
		switch {
		case strings.HasPrefix(rest, "["):
			number, after, found := strings.Cut(rest[1:], "]")
			item, err := strconv.ParseUint(number, 10, 31)
			if !found || err != nil {
				return nil, bad
			}
			all, rest = append(all, step{item: int(item)}), after
		case strings.HasPrefix(rest, `"`):
			quoted, err := strconv.QuotedPrefix(rest)
			if err != nil {
				return nil, bad
			}
			name, err := strconv.Unquote(quoted)
			if err != nil {
				return nil, bad
			}
			all, rest = append(all, step{name, -1}), rest[len(quoted):]
		default:
			end := strings.IndexAny(rest, ".[")
			if end < 0 {
				end = len(rest)
			}
			if end == 0 {
				return nil, bad
			}
			all, rest = append(all, step{rest[:end], -1}), rest[end:]
		}
	}
	if len(all) == 0 {
		return nil, bad
	}
	return all, nil
}

// join puts steps together to a path, always in the same way.
func join(all []step) document.Path {
	var p document.Path
	for _, s := range all {
		if s.item >= 0 {
			p = p.Item(s.item)
		} else {
			p = p.Join(s.name)
		}
	}
	return p
}

// within reports whether path is holder or lies in it.
func within(path, holder string) bool {
	rest, found := strings.CutPrefix(path, holder)
	return found && (rest == "" || rest[0] == '.' || rest[0] == '[' || holder == "")
}

// fields is a text's single values by path, and the lengths of its lists.
type fields struct {
	values map[string]string
	lists  map[string]int
}

// fieldsOf reads the fields of a text; ok is false where its form is not right.
func fieldsOf(text []byte) (fields, bool) {
	f := fields{map[string]string{}, map[string]int{}}
	if _, err := document.Parse("", text); err != nil {
		return f, false
	}
	file, err := parser.ParseBytes(bytes.TrimPrefix(text, []byte("\ufeff")), 0)
	if err != nil {
		return f, false
	}
	for _, d := range file.Docs {
		if d.Body != nil {
			f.walk("", d.Body)
		}
	}
	return f, true
}

func (f *fields) walk(at document.Path, n ast.Node) {
	switch n := n.(type) {
	case *ast.MappingNode:
		if len(n.Values) == 0 {
			f.values[string(at)] = "{}"
		}
		for _, v := range n.Values {
			f.walk(at.Join(v.Key.GetToken().Value), v.Value)
		}
	case *ast.MappingValueNode:
		f.walk(at.Join(n.Key.GetToken().Value), n.Value)
	case *ast.SequenceNode:
		f.lists[string(at)] = len(n.Values)
		for i, v := range n.Values {
			f.walk(at.Item(i), v)
		}
	case *ast.AnchorNode:
		f.walk(at, n.Value)
	case *ast.AliasNode:
		f.values[string(at)] = "*" + n.Value.String()
	case *ast.LiteralNode:
		f.values[string(at)] = n.Value.Value
	case *ast.NullNode:
		f.values[string(at)] = ""
	case nil:
	default:
		f.values[string(at)] = n.GetToken().Value
	}
}

// holds reports whether any value lies at a path or in it.
func (f *fields) holds(path string) bool {
	for p := range f.values {
		if within(p, path) {
			return true
		}
	}
	return false
}

// compare books in the record what a step did to the bytes and to the fields.
func (r *record) compare(before, after []byte) {
	r.Splice = spliceOf(before, after)
	old, ok := fieldsOf(before)
	now, fine := fieldsOf(after)
	if !ok || !fine {
		r.Form = true
		return
	}
	came := map[string]string{} // values before, by where they are now
	for _, p := range slices.Sorted(maps.Keys(old.values)) {
		moved, stays := r.moved(p)
		if _, there := now.values[moved]; stays && there {
			came[moved] = old.values[p]
		} else {
			r.Gone = append(r.Gone, p)
		}
	}
	for _, p := range slices.Sorted(maps.Keys(now.values)) {
		if was, there := came[p]; !there || was != now.values[p] {
			r.Set = append(r.Set, p)
		}
	}
	if r.Kind == edited {
		return // its shifts tell how items moved
	}
	for _, p := range slices.Sorted(maps.Keys(old.lists)) {
		if n, there := now.lists[p]; there && n != old.lists[p] {
			r.Lists = append(r.Lists, p)
		}
	}
}

// moved returns where a value is after the record's shifts, and whether it is still there.
func (r *record) moved(path string) (string, bool) {
	if len(r.Shifts) == 0 {
		return path, true
	}
	way, err := steps(document.Path(path))
	if err != nil {
		return path, true // the whole document
	}
	m := mover{way: way}
	for _, s := range r.Shifts {
		m.shift(s)
	}
	return string(join(m.way)), !m.gone
}
