package document

import (
	"fmt"
	"reflect"
	"slices"

	"gloam/internal/fault"
)

// Decode reads the document into the struct that into points to and returns where each value stands, and every fault.
// A struct's fields are those with a yaml tag; doc, required, words, min, max and default describe them. A faulty value
// is left zero. Nothing under a name is an empty list or mapping; where one value is wanted it is a fault.
//
// Values may be strings, bools, ints, float64s, Texts, pointers to what may be absent, structs, slices and Nameds. Where
// a list is wanted, a single value is a list of one.
func (s *Source) Decode(into any) (Places, fault.List) {
	return s.newDecoder().decode(s.root, into)
}

func (s *Source) newDecoder() *decoder {
	return &decoder{source: s, places: Places{source: s, spots: map[Path]spot{}}, told: map[told]bool{}}
}

func (d *decoder) decode(root *node, into any) (Places, fault.List) {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() || v.Elem().Kind() != reflect.Struct {
		panic("document: Decode needs a pointer to a struct")
	}
	d.value(cursor{node: root, place: root.span.start}, v.Elem())
	d.faults.Sort()
	if len(d.faults) == maxFaults {
		last := d.faults[maxFaults-1].Place
		d.faults = append(d.faults, fault.Fault{Place: last, Text: "there may be more faults", Hint: "mend those above first"})
	}
	return d.places, d.faults
}

// decoder holds what one reading gathers.
type decoder struct {
	source   *Source
	overlaid bool     // tell only what a fragment brought
	own      []string // names of the fragment's own, for hints
	holder   string   // the field under which the fragments stand, which none may have
	places   Places
	faults   fault.List
	told     map[told]bool
}

// told is a fault that has been told: an alias's text is read once for each use.
type told struct {
	offset int
	text   string
}

// cursor is a value on its way into a Go value.
type cursor struct {
	node  *node
	path  Path
	from  Path // the fragment that brought it
	place int
	field field
	near  string // hint for an entry that is not complete
}

// tell adds a fault at an offset, under path.
func (d *decoder) tell(c cursor, path Path, offset int, f fault.Fault) {
	key := told{offset, f.Text}
	if d.overlaid && c.from == "" || d.told[key] || len(d.faults) == maxFaults {
		return
	}
	d.told[key] = true
	f.Place, f.Path = d.source.place(offset), string(written(c.from, path))
	d.faults = append(d.faults, f)
}

// child returns the cursor of an entry of c.
func (c cursor) child(e entry, path Path, f field) cursor {
	to := cursor{node: e.value, path: path, from: c.from, place: e.place(), field: f}
	if e.from != "" {
		to.from = e.from
	}
	return to
}

// value reads c into v and reports whether that went well.
func (d *decoder) value(c cursor, v reflect.Value) bool {
	d.places.spots[c.path] = spot{c.place, c.from}
	c.node = c.node.real()
	switch form := formOf(v.Type()); form {
	case optionalForm:
		to := reflect.New(v.Type().Elem())
		ok := d.value(c, to.Elem())
		if ok {
			v.Set(to)
		}
		return ok
	case namedForm:
		return d.named(c, v)
	case listForm:
		return d.list(c, v)
	case structForm:
		return d.fields(c, v)
	default:
		return d.scalar(c, v, form)
	}
}

// fields reads a mapping into a struct.
func (d *decoder) fields(c cursor, v reflect.Value) bool {
	switch c.node.kind {
	case scalar:
		if s, ok := v.Addr().Interface().(Short); ok {
			return d.parsed(c, v, s.ParseShort(c.node.text))
		}
		d.tell(c, c.path, c.place, fault.Fault{Text: "one value where fields are wanted", Read: c.node.text, Allowed: c.field.allowed(v.Type())})
		return false
	case list:
		d.tell(c, c.path, c.place, fault.Fault{Text: "a list where fields are wanted", Allowed: c.field.allowed(v.Type())})
		return false
	}
	fields, rest := fieldsOf(v.Type())
	seen := map[string]entry{}
	for _, e := range c.node.entries {
		if !d.first(c, e, seen) {
			continue
		}
		child := c.child(e, c.path.Join(e.name), field{})
		i := indexOf(fields, e.name)
		switch {
		case i >= 0:
			child.field = fields[i]
			d.whole(child, v.Field(fields[i].index))
		case rest >= 0:
			d.places.spots[child.path] = spot{e.lead, child.from}
			v.Field(rest).Set(reflect.Append(v.Field(rest), reflect.ValueOf(e.name)))
		default:
			d.unknown(child, c.path, e, fieldNames(fields))
		}
	}
	for _, f := range fields {
		if _, ok := seen[f.name]; !ok && f.required {
			d.missing(c, f, v.Type().Field(f.index).Type)
		}
	}
	return true
}

// whole reads a field; a required list or text that is empty is a fault.
func (d *decoder) whole(c cursor, v reflect.Value) {
	if !d.value(c, v) || !c.field.required {
		return
	}
	if k := v.Kind(); (k == reflect.Slice || k == reflect.String) && v.Len() == 0 {
		d.tell(c, c.path, c.place, fault.Fault{Text: "is empty", Hint: c.field.doc})
	}
}

// first notes an entry and reports whether its name is new in this mapping.
func (d *decoder) first(c cursor, e entry, seen map[string]entry) bool {
	before, twice := seen[e.name]
	if !twice {
		seen[e.name] = e
		return true
	}
	path := c.path.Join(e.name)
	at := d.source.place(before.lead)
	d.tell(c.child(e, path, field{}), path, e.lead, fault.Fault{
		Text: fmt.Sprintf("written twice: first in line %d, column %d", at.Line, at.Column),
	})
	return false
}

// unknown tells an entry that names no field of the struct at path.
func (d *decoder) unknown(c cursor, path Path, e entry, names []string) {
	if path == "" {
		names = slices.DeleteFunc(append(names, d.own...), func(n string) bool { return n == d.holder })
	}
	f := fault.Fault{Text: fmt.Sprintf("no such field %q", e.name), Hint: fault.Meant(e.name, names)}
	if f.Hint == "" {
		f.Allowed = short(names)
	}
	d.tell(c, path, e.lead, f)
}

func (d *decoder) missing(c cursor, f field, t reflect.Type) {
	hint := c.near
	if hint == "" {
		hint = f.doc
	}
	d.tell(c, c.path.Join(f.name), c.place, fault.Fault{Text: "is missing", Allowed: f.allowed(t), Hint: hint})
}

// named reads a mapping into a Named.
func (d *decoder) named(c cursor, v reflect.Value) bool {
	switch c.node.kind {
	case scalar:
		d.tell(c, c.path, c.place, fault.Fault{Text: "one value where names are wanted", Read: c.node.text, Hint: "write each on a line of its own, name: value"})
		return false
	case list:
		d.tell(c, c.path, c.place, fault.Fault{Text: "a list where names are wanted", Hint: "write each on a line of its own, name: value"})
		return false
	}
	to := v.Addr().Interface().(named)
	seen := map[string]entry{}
	for _, e := range c.node.entries {
		child := c.child(e, c.path.Join(e.name), c.field)
		if e.name == "" {
			d.tell(child, c.path, e.lead, fault.Fault{Text: "a name is empty"})
			continue
		}
		if !d.first(c, e, seen) {
			continue
		}
		if c.from != child.from {
			child.near = fault.Meant(e.name, baseNames(c.node))
		}
		d.value(child, to.add(e.name))
	}
	return true
}

// list reads a list, or a single value as a list of one.
func (d *decoder) list(c cursor, v reflect.Value) bool {
	entries := c.node.entries
	single := c.node.kind == scalar || c.node.kind == mapping
	if single {
		entries = []entry{{value: c.node}}
	}
	whole := reflect.MakeSlice(v.Type(), len(entries), len(entries))
	ok := true
	for i, e := range entries {
		item := c.child(e, c.path.Item(i), c.field)
		if single {
			item = c
		}
		ok = d.value(item, whole.Index(i)) && ok
	}
	if len(entries) > 0 {
		v.Set(whole)
	}
	return ok
}

func indexOf(fields []field, name string) int {
	for i, f := range fields {
		if f.name == name {
			return i
		}
	}
	return -1
}

// baseNames returns the names that the document itself has in a mapping laid over by a fragment.
func baseNames(n *node) []string {
	var names []string
	for _, e := range n.entries {
		if e.from == "" {
			names = append(names, e.name)
		}
	}
	return names
}
