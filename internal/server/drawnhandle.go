package server

import (
	"slices"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// Handle is a thing that can be taken by hand, in plan or in section.
type Handle struct {
	Name   string          `json:"name"`
	Kind   string          `json:"kind" enum:"room,opening,object,mark,walk,step,person,point,lamp,practical,cloth,ambient,camera,photograph"`
	At     [3]float64      `json:"at" doc:"where it is, in metres"`
	Path   document.Path   `json:"path" doc:"where its fields are edited"`
	Fields []Field         `json:"fields" doc:"what can be typed"`
	Move   *Move           `json:"move,omitempty" doc:"absent of what hangs on another thing"`
	Turn   *Turn           `json:"turn,omitempty"`
	Remove []document.Path `json:"remove" doc:"what to take out, in this order, so that it is gone from the whole plan"`
	Copy   []Field         `json:"copy" doc:"what a copy of it says, each at its path below the copy's"`
}

// Move is how the place of a thing is written: x y z, or x y where it stands on the floor or has its height apart.
type Move struct {
	Path   document.Path `json:"path"`
	Height document.Path `json:"height,omitempty" doc:"where its height is written, if apart from x y"`
	Floor  bool          `json:"floor" doc:"a height of 0 is not written"`
	First  []desk.Change `json:"first" doc:"to be changed before it"`
}

// Turn is which way a thing faces and how that is written: a bearing from true north, with how far below level; or degrees
// clockwise from the plan's own ways.
type Turn struct {
	Path   document.Path `json:"path"`
	Looks  Spot          `json:"looks" doc:"seen from above, of length 1; 0 0 where that is straight up or down"`
	Below  unit.Degree   `json:"below_deg" doc:"how far below level"`
	Degree bool          `json:"degree" doc:"in degrees clockwise from where it stands unturned, and not by the compass"`
	Aims   bool          `json:"aims" doc:"it may lead to a thing by its name"`
}

// handle puts a thing's handle into the drawing.
func (d *drawer) handle(kind, name string, path document.Path, at geometry.Vector, fields ...string) *Handle {
	h := &Handle{Name: name, Kind: kind, At: [3]float64{at.X, at.Y, at.Z}, Path: d.edited(path), Fields: []Field{}, Remove: d.everywhere(path, name),
		Copy: d.copyOf(path)}
	for _, f := range fields {
		h.Fields = append(h.Fields, Field{f, d.edited(path.Join(f)), d.text(path.Join(f))})
	}
	d.out.Handles = append(d.out.Handles, h)
	return h
}

// moves lets a thing be moved by its field at; a point that is simply at another thing goes with that.
func (h *Handle) moves(d *drawer, at *plan.Where, floor bool) {
	if at.Place == nil && at.Distance == 0 && h.Kind == "point" {
		return
	}
	h.Move = &Move{Path: h.Path.Join("at"), Floor: floor, First: []desk.Change{}}
	raised := h.Path.Join("height")
	switch {
	case floor:
	case at.Place != nil && at.Place.Z == nil:
		h.Move.Height = raised
	case len(d.source.Leaves(raised)) > 0:
		h.Move.First = append(h.Move.First, desk.Change{Path: raised}) // x y z has its height already
	}
}

// faces lets a thing be turned by a field that says where it looks.
func (h *Handle) faces(field string, way geometry.Vector) {
	h.Turn = &Turn{Path: h.Path.Join(field), Aims: true}
	h.Turn.Looks, h.Turn.Below = looksOf(way)
}

// edited is where a path of the set-up is edited: in the set-up itself, if the plan has set-ups.
func (d *drawer) edited(path document.Path) document.Path {
	if d.view.Path == "" {
		return path
	}
	return d.view.Path + "." + path
}

// written is where a value is written that the set-up shows: in its own fragment, or in the plan.
func (d *drawer) written(path document.Path) document.Path {
	if own := d.edited(path); len(d.source.Leaves(own)) > 0 {
		return own
	}
	return path
}

// text is a single value as it is written, "" for none.
func (d *drawer) text(path document.Path) string {
	if leaves := d.source.Leaves(d.written(path)); len(leaves) == 1 && leaves[0].Path == d.written(path) {
		return leaves[0].Value
	}
	return ""
}

// short reports whether a thing is written as one value.
func (d *drawer) short(path document.Path) bool { return d.text(path) != "" }

// everywhere lists where a thing is written and used.
func (d *drawer) everywhere(path document.Path, name string) []document.Path {
	places := []document.Path{}
	if len(d.source.Leaves(path)) > 0 {
		places = append(places, path)
	}
	for _, setup := range d.source.Names("setups") {
		own := document.Path("setups").Join(setup)
		if fragment := own + "." + path; len(d.source.Leaves(fragment)) > 0 {
			places = append(places, fragment)
		}
		for _, use := range d.source.Leaves(own.Join("uses")) {
			if use.Value == name {
				places = append(places, use.Path)
			}
		}
	}
	return places
}

// copyOf returns what is written of a thing, the set-up's own before the plan's. The path of each is what follows the thing's.
func (d *drawer) copyOf(path document.Path) []Field {
	said := []Field{}
	for _, from := range slices.Compact([]document.Path{d.edited(path), path}) {
		for _, l := range d.source.Leaves(from) {
			below := l.Path[len(from):]
			if !slices.ContainsFunc(said, func(f Field) bool { return f.Path == below }) {
				said = append(said, Field{Path: below, Value: l.Value})
			}
		}
	}
	return said
}
