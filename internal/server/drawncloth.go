package server

import (
	"gloam/internal/document"
	"gloam/internal/unit"
)

// ClothDrawn is a cloth from above.
type ClothDrawn struct {
	ThingDrawn
	At     Spot       `json:"at" doc:"its middle"`
	Height unit.Metre `json:"height_m" doc:"of its middle"`
}

func (d *drawer) cloths() {
	for i := range d.view.Document.Cloths {
		name, c := d.view.Document.Cloths[i].Name, &d.view.Document.Cloths[i].Value
		path := document.Path("cloths").Join(name)
		thing, ok := d.outlined(name, c.Kind)
		at, placed := d.where.Place(&c.At, c.Height)
		way, leads := d.where.Way(&c.Faces, at)
		if !ok || !placed || !leads {
			continue
		}
		d.out.Cloths = append(d.out.Cloths, ClothDrawn{thing, d.spot(at), unit.Metre(at.Z)})
		h := d.handle("cloth", name, path, at, "at", "height", "faces", "kind", "size", "tilt")
		h.moves(d, &c.At, false)
		h.faces("faces", way)
	}
}
