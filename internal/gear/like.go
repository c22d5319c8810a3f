package gear

import (
	"reflect"
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
)

// lamps builds every lamp of the kit file, each after the one it is like.
func (r *reader) lamps() []*Lamp {
	seen := map[string]string{}
	f := lineage{reader: r, index: map[string]int{}, made: make([]*Lamp, len(r.kit.Lamps)), state: make([]state, len(r.kit.Lamps))}
	for i, e := range r.kit.Lamps {
		r.twice(seen, e.Name, lampPath(e.Name))
		f.index[fold(e.Name)] = i
		r.checkWritten(lampPath(e.Name), &r.kit.Lamps[i].Value)
	}
	for i := range r.kit.Lamps {
		f.lamp(i)
	}
	return slices.DeleteFunc(f.made, func(l *Lamp) bool { return l == nil })
}

func lampPath(name string) document.Path { return document.Path("lamps").Join(name) }

// lineage makes lamps of which some are like others.
type lineage struct {
	*reader
	index map[string]int // of a lamp in the kit file, by folded name
	made  []*Lamp        // nil where a fault stands in the way
	state []state
}

// state is how far a lamp is.
type state int

const (
	waiting state = iota
	begun
	done
)

// lamp returns lamp i of the file, made at the first call. What a lamp lacks that is like a faulty one is not told.
func (f *lineage) lamp(i int) *Lamp {
	if f.state[i] != waiting {
		return f.made[i]
	}
	f.state[i] = begun
	defer func() { f.state[i] = done }()
	e := &f.kit.Lamps[i]
	whole := &e.Value
	if whole.Like != "" {
		parent := f.parent(i)
		if parent == nil {
			return nil
		}
		whole = inherit(e.Value, parent.text)
	}
	f.made[i] = f.build(e.Name, &e.Value, whole)
	return f.made[i]
}

// parent returns the lamp that lamp i is like: one of the file, or of the kit it is read over; that too when a lamp is like
// its own name.
func (f *lineage) parent(i int) *Lamp {
	e := &f.kit.Lamps[i]
	like := e.Value.Like
	path := lampPath(e.Name).Join("like")
	j, own := f.index[fold(like)]
	if own && j != i {
		if f.state[j] == begun {
			f.tell(path, fault.Fault{Text: "the lamps are like one another in a circle", Read: like})
			return nil
		}
		return f.lamp(j)
	}
	base, ok := f.base.Lamp(like)
	if !ok {
		names := slices.Concat(f.kit.Lamps.Names(), f.base.LampNames())
		f.tell(path, fault.Fault{Text: "no lamp of that name", Read: like, Hint: fault.Meant(like, names)})
	}
	return base
}

// inherit returns the lamp with all it does not write taken from its parent. Its light is one thing: who writes beams anew
// does not keep the old quality.
func inherit(own, parent lampText) *lampText {
	parent.Title = ""
	if own.forms() > 0 {
		parent.Beams, parent.Matt, parent.Photometry, parent.file, parent.Quality = nil, nil, "", nil, ""
	}
	to, from := reflect.ValueOf(&own).Elem(), reflect.ValueOf(parent)
	for i := range to.NumField() {
		if to.Type().Field(i).IsExported() && to.Field(i).IsZero() {
			to.Field(i).Set(from.Field(i))
		}
	}
	if own.file == nil {
		own.file = parent.file
	}
	return &own
}

// forms returns in how many ways the light is written.
func (t *lampText) forms() int {
	n := 0
	for _, written := range []bool{len(t.Beams) > 0, t.Matt != nil, t.Photometry != ""} {
		if written {
			n++
		}
	}
	return n
}
