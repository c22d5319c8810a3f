package document

import (
	"reflect"

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

// told is a fault that has been told: an alias's text is read once for each use, under another path.
type told struct {
	offset int
	text   string
	step   Path // the last step of the path
}

// cursor is a value on its way into a Go value.
type cursor struct {
	node  *node
	path  Path
	from  Path // the fragment that brought it
	place int
	field field
	near  func() string // hint for an entry that is not complete; nil for none
}

// tell adds a fault at an offset, under path.
func (d *decoder) tell(c cursor, path Path, offset int, f fault.Fault) {
	if d.silent(c) {
		return
	}
	key := told{offset, f.Text, path[len(path.parent()):]}
	if d.told[key] {
		return
	}
	d.told[key] = true
	f.Place, f.Path = d.source.place(offset), string(written(c.from, path))
	d.faults = append(d.faults, f)
}

// silent reports that no fault at c is told: it is the document's own, or there are enough.
func (d *decoder) silent(c cursor) bool {
	return d.overlaid && c.from == "" || len(d.faults) == maxFaults
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
