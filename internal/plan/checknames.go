package plan

import (
	"fmt"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
)

// checkNames tells names that cannot be used and names that two things have.
func (c *checker) checkNames() {
	first := map[string]*thing{}
	for _, t := range c.things {
		c.checkName(t)
		other, taken := first[t.name]
		if !taken {
			first[t.name] = t
			continue
		}
		earlier, later := other, t
		if c.places.At(later.path).Line < c.places.At(earlier.path).Line {
			earlier, later = later, earlier
		}
		c.tell(later.path, fault.Fault{
			Text: fmt.Sprintf("the name %q is taken: line %d has %s of that name", t.name, c.places.At(earlier.path).Line, earlier.kind.one()),
			Hint: "call one of them something else"})
	}
}

// checkName tells a name that could not be told from something else where it is used.
func (c *checker) checkName(t *thing) {
	var w Where
	var to Toward
	text := ""
	switch {
	case strings.Contains(t.name, "."):
		text = "a name cannot hold a dot, which leads to a person's point"
	case t.name != strings.Join(strings.Fields(t.name), " "):
		text = "a name has single blanks, and none at its ends"
	case t.name == CameraName || t.name == SunName && t.kind != ambientKind:
		text = fmt.Sprintf("the name %q is kept for the %[1]s", t.name)
	case t.kind == pointKind && (t.name == OverKey || t.name == OverAmbient):
		text = fmt.Sprintf("the name %q is kept for targets", t.name)
	case w.Parse(t.name) != nil || w.Name.Thing != t.name || to.Parse(t.name) != nil || to.Name.Thing != t.name:
		text = fmt.Sprintf("the name %q reads as a place or a direction", t.name)
	}
	if text != "" {
		c.tell(t.path, fault.Fault{Text: text, Hint: "call it something else"})
	}
}

// where checks the names a place is measured from.
func (c *checker) where(path document.Path, w *Where) {
	if w == nil {
		return
	}
	for _, n := range w.names() {
		c.thing(path, n)
	}
}

// toward checks the name of what something faces or is aimed at.
func (c *checker) toward(path document.Path, t *Toward) {
	switch {
	case t == nil || t.Name == (Name{}):
	case t.Name == (Name{Thing: SunName}):
		c.sun(path)
	default:
		c.thing(path, t.Name)
	}
}

// sun tells that nothing says where the sun stands.
func (c *checker) sun(path document.Path) {
	if c.doc.Sky != nil {
		return // what place and time lack is told there
	}
	for i := range c.doc.Ambient {
		if a := &c.doc.Ambient[i].Value; a.Shape == sunShape {
			return // what it lacks is told there
		}
	}
	if c.clean("ambient") {
		c.lacks(path, fault.Fault{Text: "nothing says where the sun stands",
			Hint: "add an ambient of shape sun, with altitude and azimuth, or a sky"})
	}
}

// thing tells a name that has no place.
func (c *checker) thing(path document.Path, n Name) {
	if n == (Name{Thing: CameraName}) {
		if c.doc.Camera != nil && c.doc.Camera.At == nil && c.clean("camera") {
			c.lacks(path, fault.Fault{Text: "the camera has no place", Hint: "say where it stands: camera.at"})
		}
		return
	}
	t, ok := c.named[n.Thing]
	switch {
	case !ok:
		c.unknown(path, n.Thing, c.namesOf((*thing).placed))
	case !t.placed():
		c.tell(path, faultText("%q is %s and has no place", n.Thing, t.kind.one()))
	case n.Point != "" && t.person == nil:
		c.tell(path, faultText("%q is %s; only a person has points", n.Thing, t.kind.one()))
	case n.Point != "" && !slices.Contains(PersonPoints(), n.Point):
		c.tell(path, fault.Fault{Text: "a person has no such point", Read: n.String(),
			Allowed: strings.Join(PersonPoints(), ", "), Hint: fault.Meant(n.Point, PersonPoints())})
	}
}

// unknown tells a name that nothing has.
func (c *checker) unknown(path document.Path, name string, names []string) {
	switch {
	case name == "" || c.later[name]:
	case c.left[name]:
		c.tell(path, fault.Fault{Text: fmt.Sprintf("set-up %q does not use %q", c.setup, name), Hint: "add it to uses"})
	case !c.partial:
		f := fault.Fault{Text: fmt.Sprintf("nothing is called %q", name), Hint: fault.Meant(name, some(names))}
		switch few := 12; {
		case f.Hint != "":
		case name[0] >= '0' && name[0] <= '9': // figures that are no place
			f.Allowed = Where{}.Forms()
		case len(names) <= few:
			f.Allowed = strings.Join(names, ", ")
		}
		c.tell(path, f)
	}
}

// some returns as many names as are worth comparing with.
func some(names []string) []string { return names[:min(len(names), 500)] }

// namesOf returns the names of the things that fit, in the order of their kinds.
func (c *checker) namesOf(fits func(*thing) bool) []string {
	var names []string
	for _, t := range c.things {
		if fits(t) {
			names = append(names, t.name)
		}
	}
	return names
}

// isA tells a name that no thing of the kind has.
func (c *checker) isA(path document.Path, name string, kinds ...kind) {
	switch t, ok := c.named[name]; {
	case !ok:
		c.unknown(path, name, c.of(kinds...))
	case !slices.Contains(kinds, t.kind):
		f := faultText("%q is %s, not %s", name, t.kind.one(), kinds[0].one())
		f.Allowed = strings.Join(c.of(kinds...), ", ")
		c.tell(path, f)
	}
}

// of returns the names of some kinds.
func (c *checker) of(kinds ...kind) []string {
	return c.namesOf(func(t *thing) bool { return slices.Contains(kinds, t.kind) })
}

// meteringPoint tells a name that is no metering point: one of the plan's own, or a person's.
func (c *checker) meteringPoint(path document.Path, text string) {
	if text == "" {
		return
	}
	n := ParseName(text)
	t, ok := c.named[n.Thing]
	switch {
	case ok && t.kind == pointKind && n.Point == "":
	case ok && t.person != nil && n.Point == "":
		c.tell(path, fault.Fault{Text: fmt.Sprintf("%q is a person, not a metering point", text), Hint: "say which of their points: " + text + "." + Front})
	case ok && t.person != nil:
		c.thing(path, n)
	case ok:
		c.tell(path, fault.Fault{Text: fmt.Sprintf("%q is no metering point but %s", text, t.kind.one()), Hint: "add a point there, under points"})
	default:
		c.unknown(path, n.Thing, c.meteringPoints())
	}
}

// meteringPoints returns the names of all metering points.
func (c *checker) meteringPoints() []string {
	var names []string
	for _, t := range c.things {
		switch t.kind {
		case pointKind:
			names = append(names, t.name)
		case personKind:
			for _, p := range PersonPoints() {
				names = append(names, Name{t.name, p}.String())
			}
		}
	}
	return names
}
