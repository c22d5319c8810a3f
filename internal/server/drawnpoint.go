package server

import (
	"fmt"
	"slices"

	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// PointDrawn is a metering point.
type PointDrawn struct {
	Name     string     `json:"name"`
	Receptor string     `json:"receptor"`
	At       Spot       `json:"at"`
	Height   unit.Metre `json:"height_m"`
	Faces    Spot       `json:"faces"`
}

// WalkDrawn is a walk by its points.
type WalkDrawn struct {
	Name  string `json:"name"`
	Spots []Spot `json:"spots"`
}

// MarkDrawn is a named place.
type MarkDrawn struct {
	Name string `json:"name"`
	At   Spot   `json:"at"`
}

// points are drawn where they are read; a spot, where it is aimed.
func (d *drawer) points() {
	for _, p := range d.setup.Points {
		r := d.setup.Scene.Receivers[p.Receiver]
		at := r.Position
		own, ok := d.view.Document.Points.Get(p.Name)
		path := document.Path("points").Join(p.Name)
		if ok {
			if aimed, placed := d.where.Meter(&own.At, own.Height); placed {
				at = aimed
			}
			h := d.handle("point", p.Name, path, at, "at", "height", "faces", "receptor")
			h.moves(d, &own.At, false)
			if r.Kind != scene.Spot && own.Faces != nil {
				h.faces("faces", r.Normal)
			}
		}
		d.out.Points = append(d.out.Points, PointDrawn{p.Name, r.Kind.String(), d.spot(at), unit.Metre(at.Z), Spot{r.Normal.X, r.Normal.Y}})
	}
}

func (d *drawer) marks() {
	for i := range d.view.Document.Marks {
		name, m := d.view.Document.Marks[i].Name, &d.view.Document.Marks[i].Value
		at, ok := d.where.Place(&m.At, 0)
		if !ok {
			continue
		}
		d.out.Marks = append(d.out.Marks, MarkDrawn{name, d.spot(at)})
		path := document.Path("marks").Join(name)
		h := d.handle("mark", name, path, at, "at")
		h.moves(d, &m.At, true)
		if d.short(path) {
			h.Move.Path = h.Path
			h.Fields = []Field{{"at", h.Path, d.text(path)}}
		}
	}
}

// walks are drawn by their points. Each place of one is taken by hand; where it is a mark, that mark is.
func (d *drawer) walks() {
	for _, w := range d.setup.Walks {
		walk := WalkDrawn{w.Name, []Spot{}}
		for _, receiver := range w.Receivers {
			walk.Spots = append(walk.Spots, d.spot(d.setup.Scene.Receivers[receiver].Position))
		}
		d.out.Walks = append(d.out.Walks, walk)
		own, ok := d.view.Document.Walks.Get(w.Name)
		if !ok || len(w.Receivers) == 0 {
			continue
		}
		path := document.Path("walks").Join(w.Name)
		middle := w.Receivers[len(w.Receivers)/2]
		d.handle("walk", w.Name, path, d.setup.Scene.Receivers[middle].Position, "height", "faces", "every", "who")
		for i := range own.Marks {
			d.step(w.Name, path.Join("marks"), own, i)
		}
	}
}

// fewestMarks make a walk.
const fewestMarks = 2

// step is one place of a walk. A list is written whole or not at all, so each is edited where it stands.
func (d *drawer) step(walk string, list document.Path, w *plan.Walk, i int) {
	at, ok := d.where.Place(&w.Marks[i], 0)
	if !ok || w.Marks[i].Place == nil && w.Marks[i].Distance == 0 {
		return
	}
	path := d.view.Places.Path(list).Item(i)
	h := &Handle{Name: fmt.Sprintf("%s, place %d", walk, i+1), Kind: "step", At: [3]float64{at.X, at.Y, at.Z}, Path: path,
		Fields: []Field{{"at", path, w.Marks[i].String()}}, Move: &Move{Path: path, Floor: true, First: []desk.Change{}}, Remove: []document.Path{}, Copy: []Field{}}
	if len(w.Marks) > fewestMarks {
		h.Remove = append(h.Remove, path)
	}
	d.out.Handles = append(d.out.Handles, h)
}

// readings are what was metered, drawn where it was; of one at a point, beside that.
func (d *drawer) readings() {
	for i := range d.view.Document.Ambient {
		name, a := d.view.Document.Ambient[i].Name, &d.view.Document.Ambient[i].Value
		path := document.Path("ambient").Join(name)
		if a.At != nil {
			if at, ok := d.where.Meter(a.At, a.Height); ok {
				d.handle("ambient", name, path, at, "reading", "at", "height", "faces", "shape", "colour", "luminance").moves(d, a.At, false)
				d.spot(at)
			}
			continue
		}
		point := slices.IndexFunc(d.out.Points, func(p PointDrawn) bool { return p.Name == a.Point })
		if point >= 0 {
			r := d.setup.Scene.Receivers[d.setup.Points[point].Receiver].Position
			d.handle("ambient", name, path, r, "reading", "point", "shape", "colour", "luminance")
		}
	}
}
