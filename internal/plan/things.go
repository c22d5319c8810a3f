package plan

import (
	"strings"

	"gloam/internal/document"
	"gloam/internal/unit"
)

// kind is what a name is declared as.
type kind string

const (
	markKind      kind = "mark"
	walkKind      kind = "walk"
	personKind    kind = "person"
	pointKind     kind = "point"
	lampKind      kind = "lamp"
	practicalKind kind = "practical"
	clothKind     kind = "cloth"
	ambientKind   kind = "ambient"
	openingKind   kind = "opening"
	objectKind    kind = "object"
	cameraKind    kind = "camera"
)

// one returns the kind with its article.
func (k kind) one() string {
	if strings.Contains("aeio", string(k[0])) {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// thing is one declared name. All things share one space of names.
type thing struct {
	name   string
	kind   kind
	path   document.Path
	at     *Where     // where it is; nil for openings, walks and ambient
	height unit.Metre // above at
	person *Person
	object *Object
	room   *Room // of an opening
	hole   *Opening
	walk   *Walk
}

// placed reports whether other things can be measured from it and aimed at it.
func (t *thing) placed() bool { return t.kind != ambientKind }

// things returns every declared name, kind by kind, each in the order written.
func (d *Document) things() []*thing {
	var all []*thing
	add := func(section document.Path, name string, k kind, t thing) {
		t.name, t.kind, t.path = name, k, section.Join(name)
		all = append(all, &t)
	}
	for i := range d.Set.Rooms {
		r := &d.Set.Rooms[i]
		for j := range r.Value.Openings {
			o := &r.Value.Openings[j]
			add(roomPath(r.Name).Join("openings"), o.Name, openingKind, thing{room: &r.Value, hole: &o.Value})
		}
	}
	for i := range d.Set.Objects {
		o := &d.Set.Objects[i]
		add("set.objects", o.Name, objectKind, thing{at: &o.Value.At, object: &o.Value})
	}
	for i := range d.Marks {
		add("marks", d.Marks[i].Name, markKind, thing{at: &d.Marks[i].Value.At})
	}
	for i := range d.Walks {
		add("walks", d.Walks[i].Name, walkKind, thing{walk: &d.Walks[i].Value})
	}
	for i := range d.People {
		p := &d.People[i]
		add("people", p.Name, personKind, thing{at: &p.Value.At, person: &p.Value})
	}
	for i := range d.Points {
		p := &d.Points[i]
		add("points", p.Name, pointKind, thing{at: &p.Value.At, height: p.Value.Height})
	}
	for i := range d.Lamps {
		l := &d.Lamps[i]
		add("lamps", l.Name, lampKind, thing{at: &l.Value.At, height: l.Value.Height})
	}
	for i := range d.Practicals {
		p := &d.Practicals[i]
		add("practicals", p.Name, practicalKind, thing{at: &p.Value.At, height: p.Value.Height})
	}
	for i := range d.Cloths {
		c := &d.Cloths[i]
		add("cloths", c.Name, clothKind, thing{at: &c.Value.At, height: c.Value.Height})
	}
	for i := range d.Ambient {
		add("ambient", d.Ambient[i].Name, ambientKind, thing{})
	}
	return all
}

func roomPath(name string) document.Path { return document.Path("set.rooms").Join(name) }

// index returns the things by name; of two with one name, the first.
func index(all []*thing) map[string]*thing {
	named := make(map[string]*thing, len(all))
	for _, t := range all {
		if _, taken := named[t.name]; !taken {
			named[t.name] = t
		}
	}
	return named
}
