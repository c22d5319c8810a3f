package server

import (
	"math"
	"slices"

	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// SunDrawn is where the sun stands at the set-up's hour, and where it falls into rooms.
type SunDrawn struct {
	Toward   Spot         `json:"toward" doc:"way to it seen from above, of length 1"`
	Altitude unit.Degree  `json:"altitude_deg"`
	Azimuth  unit.Bearing `json:"azimuth_deg" doc:"from true north"`
	Patches  []PatchDrawn `json:"patches"`
}

// PatchDrawn is where the sun falls through an opening onto a wall or floor. What stands in its way is not looked for.
type PatchDrawn struct {
	Opening string       `json:"opening"`
	Plane   string       `json:"plane" doc:"floor, or the wall's name"`
	Outline [][3]float64 `json:"outline"`
}

func (d *drawer) sun() {
	emitters := d.setup.Scene.Emitters
	at := slices.IndexFunc(emitters, func(e scene.Emitter) bool { return e.Kind == scene.Sun && e.Toward.Z > 0 })
	if at < 0 {
		return
	}
	toward := emitters[at].Toward
	looks, below := looksOf(toward)
	azimuth := math.Mod(math.Atan2(toward.X, toward.Y)*180/math.Pi+float64(d.out.North)+720, 360)
	d.out.Sun = &SunDrawn{looks, -below, unit.Bearing(azimuth), []PatchDrawn{}}
	set := &d.view.Document.Set
	for i := range set.Rooms {
		r := &set.Rooms[i].Value
		corner, ok := d.where.Place(r.Corner, 0)
		if !ok {
			continue
		}
		planes := scene.RoomPlanes(corner, r)
		for k := range d.setup.Scene.Openings {
			if o := &d.setup.Scene.Openings[k]; slices.Contains(r.Openings.Names(), o.Name) {
				d.patches(o, toward, planes)
			}
		}
	}
}

func (d *drawer) patches(o *scene.Opening, toward geometry.Vector, planes []scene.Plane) {
	for i := range planes {
		p := &planes[i]
		outline := [][3]float64{}
		for _, c := range scene.SunPatch(o, toward, p) {
			v := p.Corner.AddMul(c[0], p.Basis.X).AddMul(c[1], p.Basis.Y)
			outline = append(outline, [3]float64{v.X, v.Y, v.Z})
		}
		if len(outline) > 0 {
			d.out.Sun.Patches = append(d.out.Sun.Patches, PatchDrawn{o.Name, p.Name, outline})
		}
	}
}
