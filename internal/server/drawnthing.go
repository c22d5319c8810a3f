package server

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// ThingDrawn is a thing by its outline from above.
type ThingDrawn struct {
	Name    string     `json:"name"`
	Kind    string     `json:"kind"`
	Outline []Spot     `json:"outline"`
	Low     unit.Metre `json:"low_m"`
	High    unit.Metre `json:"high_m"`
}

// objects are drawn by the surfaces they were built of.
func (d *drawer) objects() {
	doc := &d.view.Document
	for i := range doc.Set.Objects {
		name, o := doc.Set.Objects[i].Name, &doc.Set.Objects[i].Value
		path := document.Path("set.objects").Join(name)
		thing, ok := d.outlined(name, o.Kind)
		at, placed := d.where.Place(&o.At, 0)
		if !ok || !placed {
			continue
		}
		d.out.Objects = append(d.out.Objects, thing)
		h := d.handle("object", name, path, at, "at", "size", "turn", "faces", "rise", "material")
		h.moves(d, &o.At, true)
		if o.Faces != nil {
			if way, leads := d.where.Way(o.Faces, at); leads {
				h.faces("faces", way)
			}
			continue
		}
		s, c := math.Sincos(o.Turn.Radians())
		h.Turn = &Turn{Path: h.Path.Join("turn"), Looks: Spot{s, c}, Degree: true}
	}
}

// outlined returns a thing by its surfaces; ok is false where it has none.
func (d *drawer) outlined(name, kind string) (thing ThingDrawn, ok bool) {
	var spots []Spot
	low, high := math.Inf(1), math.Inf(-1)
	d.corners(name, func(v geometry.Vector) {
		spots = append(spots, d.spot(v))
		low, high = math.Min(low, v.Z), math.Max(high, v.Z)
	})
	return ThingDrawn{name, kind, hull(spots), unit.Metre(low), unit.Metre(high)}, len(spots) > 0
}

// corners gives the corners of a thing's surfaces.
func (d *drawer) corners(name string, take func(geometry.Vector)) {
	for i := range d.setup.Scene.Surfaces {
		if s := &d.setup.Scene.Surfaces[i]; s.Name == name {
			for _, v := range s.Mesh.Positions {
				take(v)
			}
		}
	}
}
