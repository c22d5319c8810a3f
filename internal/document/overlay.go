package document

import (
	"fmt"
	"slices"

	"gloam/internal/fault"
)

// DecodeOverlaid reads the document with fragments of itself laid over its root, one after the other: what a set-up
// changes. Fields and names merge, deeply; single values and lists replace. A fragment's own names are left out, and so
// is the field under which the fragments stand. Only faults that a fragment brought are told, at its lines and under
// its path; those of the document are Decode's to tell.
func (s *Source) DecodeOverlaid(fragments []Path, own []string, into any) (Places, fault.List) {
	d := s.newDecoder()
	d.overlaid, d.own = true, own
	root := s.root.real()
	for _, path := range fragments {
		over, holder, err := s.fragment(path)
		if err != nil {
			return d.places, fault.Of(err, fault.Input)
		}
		kept := without(over, own...)
		if i := slices.IndexFunc(kept.entries, func(e entry) bool { return e.name == holder }); i >= 0 {
			d.tell(cursor{from: path}, "", kept.entries[i].lead, fault.Fault{Text: fmt.Sprintf("no such field %q", holder)})
		}
		root = d.lay(without(root, holder), without(kept, holder), "", path)
		d.holder = holder
	}
	return d.decode(root, into)
}

// fragment returns the fields at path and the name of the field that holds all fragments. What is no set of fields has
// been told by Decode and changes nothing.
func (s *Source) fragment(path Path) (over *node, holder string, err error) {
	steps, err := path.steps()
	if err != nil {
		return nil, "", s.refuse(path, 0, err.Error())
	}
	trail, rest := s.follow(steps)
	if len(steps) == 0 || len(rest) > 0 {
		return nil, "", s.refuse(path, trail[len(trail)-1].lead, "it is not written")
	}
	over = trail[len(trail)-1].value.real()
	if over.kind != mapping {
		over = &node{}
	}
	return over, steps[0].name, nil
}

// follow goes along steps as far as they are written. It returns the entries passed, the root's first, and the steps
// that are left.
func (s *Source) follow(steps []step) (trail []entry, rest []step) {
	trail = []entry{{value: s.root}}
	for i, step := range steps {
		at := trail[i].value.real()
		k := at.index(step)
		if k < 0 {
			return trail, steps[i:]
		}
		trail = append(trail, at.entries[k])
	}
	return trail, nil
}

// index returns which entry of n a step leads to, or -1.
func (n *node) index(s step) int {
	switch {
	case n.kind == list && s.item >= 0 && s.item < len(n.entries):
		return s.item
	case n.kind == mapping && s.item < 0:
		return slices.IndexFunc(n.entries, func(e entry) bool { return e.name == s.name })
	}
	return -1
}

// without returns n without the entries of these names.
func without(n *node, names ...string) *node {
	kept := *n
	kept.entries = slices.DeleteFunc(slices.Clone(n.entries), func(e entry) bool { return slices.Contains(names, e.name) })
	return &kept
}

// lay returns base with over laid over it.
func (d *decoder) lay(base, over *node, path, from Path) *node {
	merged := *base
	merged.kind, merged.entries = mapping, slices.Clone(base.entries)
	index := map[string]int{}
	for i := len(base.entries) - 1; i >= 0; i-- {
		index[base.entries[i].name] = i
	}
	seen := map[string]entry{}
	for _, e := range over.entries {
		if !d.first(cursor{path: path, from: from}, e, seen) {
			continue
		}
		e.from = from
		i, known := index[e.name]
		if !known {
			merged.entries = append(merged.entries, e)
			continue
		}
		below, above := merged.entries[i].value.real(), e.value.real()
		if below.kind == mapping && above.kind == mapping {
			merged.entries[i].value = d.lay(below, above, path.Join(e.name), from)
		} else {
			merged.entries[i] = e
		}
	}
	return &merged
}
