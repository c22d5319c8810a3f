package server

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// RoomDrawn is a room by its inner faces.
type RoomDrawn struct {
	Name     string         `json:"name"`
	Low      Spot           `json:"low"`
	High     Spot           `json:"high"`
	Floor    unit.Metre     `json:"floor_m"`
	Height   unit.Metre     `json:"height_m"`
	Walls    []WallDrawn    `json:"walls"`
	Openings []OpeningDrawn `json:"openings"`
	Path     document.Path  `json:"path" doc:"where its fields are edited"`
	First    []desk.Change  `json:"first" doc:"to be changed before a field is added to it"`
}

// WallDrawn is a wall by its ends, from left to right seen from inside.
type WallDrawn struct {
	Name string `json:"name"`
	From Spot   `json:"from"`
	To   Spot   `json:"to"`
}

// OpeningDrawn is a hole in a wall, by its two sides.
type OpeningDrawn struct {
	Name   string     `json:"name"`
	From   Spot       `json:"from"`
	To     Spot       `json:"to"`
	Sill   unit.Metre `json:"sill_m"`
	Height unit.Metre `json:"height_m"`
	Fields []Field    `json:"fields"`
}

func (d *drawer) rooms() {
	set := &d.view.Document.Set
	for i := range set.Rooms {
		r := &set.Rooms[i].Value
		corner, ok := d.where.Place(r.Corner, 0)
		if !ok {
			continue
		}
		path := document.Path("set.rooms").Join(set.Rooms[i].Name)
		far := corner.Add(geometry.Vector{X: float64(r.Size.Width), Y: float64(r.Size.Depth)})
		room := RoomDrawn{set.Rooms[i].Name, d.spot(corner), d.spot(far), unit.Metre(corner.Z), r.Size.Height, []WallDrawn{}, []OpeningDrawn{},
			d.edited(path), d.opened(path)}
		h := d.handle("room", room.Name, path, corner, "size", "corner", "walls", "floor", "ceiling")
		h.Move = &Move{Path: h.Path.Join("corner"), Floor: true, First: room.First}
		if d.short(path) {
			h.Fields[0] = Field{"size", h.Path, d.text(path)}
		}
		walls := plan.Walls(corner, r.Size)
		for _, w := range walls {
			if w.Name != "ceiling" {
				room.Walls = append(room.Walls, WallDrawn{w.Name, Spot{w.Corner.X, w.Corner.Y}, d.spot(w.Corner.AddMul(w.Width, w.Basis.X))})
			}
		}
		for j := range r.Openings {
			name, o := r.Openings[j].Name, &r.Openings[j].Value
			if w, found := plan.FindWall(walls, o.Wall, set.North); found {
				d.opening(&room, path.Join("openings").Join(name), name, o, w)
			}
		}
		d.out.Rooms = append(d.out.Rooms, room)
	}
}

// opened is what makes fields of a room that is written as one value, its size.
func (d *drawer) opened(path document.Path) []desk.Change {
	size := d.text(path)
	if size == "" {
		return []desk.Change{}
	}
	whole := desk.Change{Path: d.edited(path).Join("size"), Value: &size}
	if d.written(path) != d.edited(path) {
		return []desk.Change{whole}
	}
	return []desk.Change{{Path: d.edited(path)}, whole}
}

func (d *drawer) opening(room *RoomDrawn, path document.Path, name string, o *plan.Opening, w *plan.Wall) {
	hole := o.HoleIn(w)
	d.handle("opening", name, path, hole.Centre(w), "wall", "size", "at", "sill", "glass", "gel")
	if w.Name == "ceiling" {
		return
	}
	from := w.Corner.AddMul(hole.X, w.Basis.X)
	room.Openings = append(room.Openings, OpeningDrawn{name, d.spot(from), d.spot(from.AddMul(hole.W, w.Basis.X)),
		unit.Metre(hole.Y), unit.Metre(hole.H), []Field{d.field("gel", path.Join("gel"), o.Gel)}})
}
