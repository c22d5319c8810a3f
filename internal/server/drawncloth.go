package server

import (
	"gloam/internal/document"
	"gloam/internal/unit"
)

// ClothDrawn is a cloth from above, with what it takes to move and turn it.
type ClothDrawn struct {
	ThingDrawn
	At     Spot        `json:"at" doc:"its middle"`
	Height unit.Metre  `json:"height_m" doc:"of its middle"`
	Looks  Spot        `json:"looks" doc:"way its front faces, seen from above, of length 1; 0 0 where that is straight up or down"`
	Below  unit.Degree `json:"below_deg" doc:"how far below level its front faces, before it is tilted"`
}

func (d *drawer) cloths() {
	for i := range d.view.Document.Cloths {
		name, c := d.view.Document.Cloths[i].Name, &d.view.Document.Cloths[i].Value
		path := document.Path("cloths").Join(name)
		thing, ok := d.outlined(name, c.Kind, d.field("at", path.Join("at"), c.At.String()), d.field("faces", path.Join("faces"), c.Faces.String()),
			d.field("kind", path.Join("kind"), c.Kind))
		at, placed := d.where.Place(&c.At, c.Height)
		way, leads := d.where.Way(&c.Faces, at)
		if !ok || !placed || !leads {
			continue
		}
		drawn := ClothDrawn{ThingDrawn: thing, At: d.spot(at), Height: unit.Metre(at.Z)}
		drawn.Looks, drawn.Below = looksOf(way)
		d.out.Cloths = append(d.out.Cloths, drawn)
		h := d.handle("cloth", name, path, at, "at", "height", "faces", "kind", "size", "tilt")
		h.moves(d, &c.At, false)
		h.faces("faces", way)
	}
}
