package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/gear"
)

// View is one set-up: the document with the set-up's fragment laid over it and only the used things left.
type View struct {
	Name     string
	Path     document.Path // of the fragment; "" of a plan without set-ups
	Document Document      // Setups is empty
	Places   document.Places
	Kit      *gear.Kit
	Files    map[string][]byte

	left     map[string]bool // names that uses leaves out
	declared []string        // names of the set-up's own
}

// wholePlan is the name of the one set-up of a plan without set-ups.
const wholePlan = "plan"

func setupPath(name string) document.Path { return document.Path("setups").Join(name) }

// Setups returns the names of the set-ups in the order written. A plan without any is one set-up, called plan.
func (p *Plan) Setups() []string {
	if len(p.Document.Setups) == 0 {
		return []string{wholePlan}
	}
	return p.Document.Setups.Names()
}

// Setup returns a set-up by name. The one fault that a plan that was read can give is a name it does not have, of kind
// Call.
func (p *Plan) Setup(name string) (*View, fault.List) {
	names := p.Setups()
	if !slices.Contains(names, name) {
		return nil, fault.List{{Kind: fault.Call, Text: fmt.Sprintf("the plan has no set-up %q", name),
			Allowed: strings.Join(names, ", "), Hint: fault.Meant(name, names)}}
	}
	if len(p.Document.Setups) == 0 {
		return &View{Name: name, Document: p.Document, Places: p.Places, Kit: p.Kit, Files: p.Files}, nil
	}
	return p.view(name)
}

// forAll are the fields of a plan that no set-up may change.
var forAll = []string{"gloam", "kit"}

// view lays the set-up's fragment over the plan.
func (p *Plan) view(name string) (*View, fault.List) {
	path := setupPath(name)
	setup, _ := p.Document.Setups.Get(name)
	v := &View{Name: name, Path: path, Kit: p.Kit, Files: p.Files}
	var faults fault.List
	v.Places, faults = p.Source.DecodeOverlaid([]document.Path{path}, []string{"uses"}, &v.Document)
	for _, field := range setup.Changes {
		if slices.Contains(forAll, field) {
			at := path.Join(field)
			faults = append(faults, fault.Fault{Place: p.Places.At(at), Path: string(at), Text: "belongs to the whole plan and not to a set-up"})
		}
	}
	p.settle(&v.Document)
	v.Document.Setups = nil
	for _, t := range v.Document.things() {
		if v.written(t.path) {
			v.declared = append(v.declared, t.name)
		}
	}
	if len(setup.Uses) > 0 {
		faults = append(faults, v.use(setup.Uses, p.Places, path.Join("uses"))...)
	}
	return v, faults
}

// usable are the kinds of things a set-up's uses chooses among; all others are always there.
var usable = []kind{lampKind, clothKind, practicalKind, personKind, ambientKind, objectKind}

// use keeps the things named and the set-up's own, and of points, walks, targets and tones those that need no other.
func (v *View) use(uses []string, places document.Places, path document.Path) (faults fault.List) {
	named := index(v.Document.things())
	var names []string
	for name, t := range named {
		if slices.Contains(usable, t.kind) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for i, name := range uses {
		if t, ok := named[name]; ok && slices.Contains(usable, t.kind) {
			continue
		}
		f := fault.Fault{Place: places.At(path.Item(i)), Path: string(path.Item(i))}
		if t, ok := named[name]; ok {
			f.Text = fmt.Sprintf("%q is %s, which is always there", name, t.kind.one())
		} else {
			f.Text = fmt.Sprintf("there is no lamp, cloth, practical, person, ambient or object called %q", name)
			f.Hint = fault.Meant(name, some(names))
		}
		faults = append(faults, f)
	}
	if len(faults) > 0 {
		return faults // what is meant is not known, so nothing is left out
	}
	v.left = map[string]bool{}
	for _, name := range names {
		v.left[name] = !slices.Contains(uses, name) && !slices.Contains(v.declared, name)
	}
	v.drop()
	return nil
}

// drop takes out of the document what is left out and what of the plan's own wishes needs it. What the set-up itself
// writes stays, so that a wish that cannot be is told.
func (v *View) drop() {
	d := &v.Document
	d.Lamps = kept(d.Lamps, uses[Lamp](v))
	d.Cloths = kept(d.Cloths, uses[Cloth](v))
	d.Practicals = kept(d.Practicals, uses[Practical](v))
	d.People = kept(d.People, uses[Person](v))
	d.Ambient = kept(d.Ambient, uses[Ambient](v))
	d.Set.Objects = kept(d.Set.Objects, uses[Object](v))
	for gone := true; gone; { // until no point or walk hangs on one that went
		gone = false
		d.Points = kept(d.Points, func(name string, p *Point) bool {
			return v.stays("points", name, &gone, append(p.At.names(), p.Faces.names()...))
		})
		d.Walks = kept(d.Walks, func(name string, w *Walk) bool {
			hangsOn := w.Faces.names()
			for i := range w.Marks {
				hangsOn = append(hangsOn, w.Marks[i].names()...)
			}
			return v.stays("walks", name, &gone, hangsOn)
		})
	}
	d.Tones = kept(d.Tones, func(name string, t *Tone) bool {
		return v.stays("tones", name, nil, []Name{ParseName(t.In)})
	})
	var targets []Target
	for _, t := range d.Targets {
		if v.written(t.Path()) || !v.leavesOut(t.names()) {
			targets = append(targets, t)
		}
	}
	d.Targets = targets
}

// names returns what a target is about.
func (t *Target) names() []Name {
	names := []Name{ParseName(t.Point), {Thing: t.Walk}, {Thing: t.By}}
	for _, point := range t.Across {
		names = append(names, ParseName(point))
	}
	if t.Over != OverKey && t.Over != OverAmbient {
		names = append(names, ParseName(t.Over))
	}
	return names
}

func kept[T any](all document.Named[T], keep func(name string, value *T) bool) document.Named[T] {
	var left document.Named[T]
	for i := range all {
		if keep(all[i].Name, &all[i].Value) {
			left = append(left, all[i])
		}
	}
	return left
}

// uses reports whether a thing is not left out.
func uses[T any](v *View) func(string, *T) bool {
	return func(name string, _ *T) bool { return !v.left[name] }
}

// stays reports whether a wish of the plan's own can be kept: nothing it hangs on is left out. It notes one that cannot as
// left out too.
func (v *View) stays(section document.Path, name string, gone *bool, hangsOn []Name) bool {
	if v.written(section.Join(name)) || !v.leavesOut(hangsOn) {
		return true
	}
	if gone != nil {
		v.left[name], *gone = true, true
	}
	return false
}

func (v *View) leavesOut(names []Name) bool {
	return slices.ContainsFunc(names, func(n Name) bool { return v.left[n.Thing] })
}

// written reports whether the set-up itself writes what is at path.
func (v *View) written(path document.Path) bool { return v.Places.Path(path) != path }

// Change is a value to stand at a path of a set-up's document.
type Change struct {
	Path  document.Path
	Value string
}

// With returns the set-up with values changed, as if they were written in it; the view itself stays as it is. Only each
// value by itself is checked. The error is a fault.
func (v *View) With(changes ...Change) (*View, error) {
	to := *v
	for _, c := range changes {
		if err := document.Set(&to.Document, c.Path, c.Value); err != nil {
			return nil, err
		}
	}
	setDefaults(reflect.ValueOf(&to.Document).Elem())
	return &to, nil
}

// Written returns where in the plan's text a change to a set-up is written: in the set-up, where the plan has some.
func (p *Plan) Written(setup string, path document.Path) document.Path {
	if len(p.Document.Setups) == 0 {
		return path
	}
	return setupPath(setup) + "." + path
}

// Text returns how a value stands in the set-up's document, or "" for what is not there or holds more than one.
func (v *View) Text(path document.Path) string { return document.TextAt(&v.Document, path) }
