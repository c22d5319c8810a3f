package server

import (
	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// PersonDrawn is a person from above.
type PersonDrawn struct {
	Name   string     `json:"name"`
	At     Spot       `json:"at"`
	Feet   unit.Metre `json:"feet_m" doc:"height of what they stand on"`
	Looks  Spot       `json:"looks" doc:"way they look, of length 1"`
	Shadow Spot       `json:"shadow" doc:"way their shadow side faces; 0 0 where the plan does not say which that is"`
	Face   unit.Metre `json:"face_m" doc:"height of the face"`
}

func (d *drawer) people() {
	for i := range d.view.Document.People {
		p := &d.view.Document.People[i]
		f, ok := d.where.Figure(p.Name)
		if !ok {
			continue
		}
		path := document.Path("people").Join(p.Name)
		drawn := PersonDrawn{Name: p.Name, At: d.spot(f.Feet), Feet: unit.Metre(f.Feet.Z), Looks: Spot{f.Basis.Y.X, f.Basis.Y.Y}, Face: unit.Metre(f.Face.Z)}
		if _, way, known := d.where.PersonPoint(plan.Name{Thing: p.Name, Point: plan.ShadowSide}); known {
			drawn.Shadow = Spot{way.X, way.Y}
		}
		d.out.People = append(d.out.People, drawn)
		h := d.handle("person", p.Name, path, f.Feet, "at", "faces", "key", "face", "height")
		h.moves(d, &p.Value.At, true)
		h.faces("faces", f.Basis.Y)
	}
}
