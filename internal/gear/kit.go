package gear

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"gloam/internal/document"
	"gloam/internal/fault"
)

//go:embed kit.yaml
var builtInText []byte

// Kit is a set of lamps and cloths by name. Names are told apart without regard to capitals and to how many blanks stand
// between words. A Kit and what it holds never change once made.
type Kit struct {
	lamps  []*Lamp
	cloths []*Cloth
	lamp   map[string]int // by folded name
	cloth  map[string]int // by folded name, aliases too
	notes  fault.List
}

// BuiltIn returns the generic kit: invented generic figures, no maker's data.
func BuiltIn() *Kit { return builtIn() }

var builtIn = sync.OnceValue(func() *Kit {
	k, faults := read("kit.yaml", builtInText, nil, &Kit{})
	if len(faults) > 0 {
		panic("gear: the built-in kit has faults")
	}
	return k
})

// With returns the kit with a user's own kit laid over it: an own lamp or cloth stands in for that of the same name, and
// Notes says so. A cloth of which any name is taken is replaced, and its other names then mean the own one too.
func (k *Kit) With(own *Kit) *Kit {
	merged := &Kit{notes: slices.Concat(k.notes, own.notes)}
	for _, l := range k.lamps {
		o, ok := own.Lamp(l.Name)
		if !ok {
			merged.lamps = append(merged.lamps, l)
			continue
		}
		merged.note(o.at, lampPath(o.Name), fmt.Sprintf("stands in for the lamp %q", l.Name))
	}
	heirlooms := map[*Cloth][]string{} // further names that own cloths come by
	for _, c := range k.cloths {
		o, others := own.replaces(c)
		if o == nil {
			merged.cloths = append(merged.cloths, c)
			continue
		}
		merged.note(o.at, clothPath(o.Name), fmt.Sprintf("stands in for the cloth %q", c.Name))
		heirlooms[o] = append(heirlooms[o], others...)
	}
	merged.lamps = append(merged.lamps, own.lamps...)
	for _, c := range own.cloths {
		if more := heirlooms[c]; len(more) > 0 {
			heir := *c
			heir.Also = slices.Concat(c.Also, more)
			c = &heir
		}
		merged.cloths = append(merged.cloths, c)
	}
	merged.fill()
	return merged
}

// replaces returns the first cloth of the kit that takes a name of c, and the names of c that none takes; nil if none takes
// any.
func (k *Kit) replaces(c *Cloth) (by *Cloth, others []string) {
	for _, name := range c.names() {
		o, ok := k.Cloth(name)
		switch {
		case !ok:
			others = append(others, name)
		case by == nil:
			by = o
		}
	}
	return by, others
}

func (k *Kit) note(at fault.Place, path document.Path, text string) {
	k.notes = append(k.notes, fault.Fault{Kind: fault.Note, Place: at, Path: string(path), Text: text})
}

// Notes returns what laying kits over one another replaced.
func (k *Kit) Notes() fault.List { return slices.Clone(k.notes) }

// fill makes the tables of names.
func (k *Kit) fill() {
	k.lamp, k.cloth = map[string]int{}, map[string]int{}
	for i, l := range k.lamps {
		k.lamp[fold(l.Name)] = i
	}
	for i, c := range k.cloths {
		for _, name := range c.names() {
			k.cloth[fold(name)] = i
		}
	}
}

// fold returns what names are told apart by.
func fold(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// Lamp returns a lamp by name, and whether the kit has it.
func (k *Kit) Lamp(name string) (*Lamp, bool) {
	i, ok := k.lamp[fold(name)]
	if !ok {
		return nil, false
	}
	return k.lamps[i], true
}

// LampNames returns the names of the lamps: the kit's own order, a user's after it.
func (k *Kit) LampNames() []string {
	names := make([]string, len(k.lamps))
	for i, l := range k.lamps {
		names[i] = l.Name
	}
	return names
}

// Cloth returns a cloth by its name or one of its further names, and whether the kit has it.
func (k *Kit) Cloth(name string) (*Cloth, bool) {
	i, ok := k.cloth[fold(name)]
	if !ok {
		return nil, false
	}
	return k.cloths[i], true
}

// ClothNames returns the names of the cloths, each with its further names behind it: the kit's own order, a user's after
// it.
func (k *Kit) ClothNames() []string {
	var names []string
	for _, c := range k.cloths {
		names = append(names, c.names()...)
	}
	return names
}
