package document

import (
	"fmt"
	"reflect"
	"slices"

	"gloam/internal/fault"
)

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
	if d.silent(c) {
		return
	}
	if path == "" {
		names = slices.DeleteFunc(append(names, d.own...), func(n string) bool { return n == d.holder })
	}
	f := fault.Fault{Text: fmt.Sprintf("no such field %q", e.name), Hint: fault.Meant(e.name, names)}
	if f.Hint == "" {
		f.Allowed = short(names)
	}
	d.tell(c, path, e.lead, f)
}

// missing tells a required field that is not written in the struct at c.
func (d *decoder) missing(c cursor, f field, t reflect.Type) {
	if d.silent(c) {
		return
	}
	hint := ""
	if c.near != nil {
		hint = c.near()
	}
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
			child.near = func() string { return fault.Meant(e.name, baseNames(c.node)) }
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
