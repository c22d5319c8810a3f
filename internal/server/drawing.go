package server

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// Spot is a place in the ground plan, x and y in metres as the plan counts them.
type Spot [2]float64

// Field is a value that can be edited: where the set-up writes it, and how it stands there.
type Field struct {
	Name  string        `json:"name"`
	Path  document.Path `json:"path"`
	Value string        `json:"value"`
}

// Drawing is a set-up seen from above, in metres, with what can be edited.
type Drawing struct {
	Revision   int            `json:"revision"`
	Setup      string         `json:"setup"`
	Title      string         `json:"title"`
	North      unit.Bearing   `json:"north_deg" doc:"azimuth of +y"`
	NorthField Field          `json:"north"`
	Low        Spot           `json:"low" doc:"corner of what there is to draw, at the least x and y"`
	High       Spot           `json:"high"`
	Rooms      []RoomDrawn    `json:"rooms"`
	Objects    []ThingDrawn   `json:"objects"`
	Cloths     []ClothDrawn   `json:"cloths"`
	People     []PersonDrawn  `json:"people"`
	Lamps      []LampDrawn    `json:"lamps"`
	Practicals []LampDrawn    `json:"practicals"`
	Points     []PointDrawn   `json:"points"`
	Walks      []WalkDrawn    `json:"walks"`
	Marks      []MarkDrawn    `json:"marks"`
	Camera     *CameraDrawn   `json:"camera,omitempty"`
	Underlay   *UnderlayDrawn `json:"underlay,omitempty"`
	Sun        *SunDrawn      `json:"sun,omitempty" doc:"while it is up"`
	Sides      Sides          `json:"sides" doc:"seen from the side"`
	Handles    []*Handle      `json:"handles"`
	Stock      Stock          `json:"stock"`
	Block      []Field        `json:"title_block" doc:"what the title block shows: place, day, hour, camera"`
	Targets    []TargetDrawn  `json:"targets" doc:"those of points"`
	Tints      []TintDrawn    `json:"tints" doc:"colours wanted at points"`
	NewTarget  document.Path  `json:"new_target" doc:"where a further one is written"`
	NoiseFloor unit.Stop      `json:"noise_floor_stops"`
	Clip       unit.Stop      `json:"clip_stops"`
}

// drawer holds what a drawing is made of.
type drawer struct {
	view   *plan.View
	source *document.Source
	where  *plan.Locator
	setup  *scene.Setup
	beams  map[string]beam // of lamps that have one
	out    *Drawing
}

// Where nothing is drawn yet there is room for a room, m.
const emptyWidth, emptyDepth = 6, 5

// draw draws a set-up of a plan. What has no place is left out; why, the readings tell.
func draw(p *plan.Plan, view *plan.View) *Drawing {
	setup, _ := scene.Build(view, false)
	doc := &view.Document
	out := &Drawing{Setup: view.Name, Title: doc.Title, North: doc.Set.North,
		Low: Spot{math.Inf(1), math.Inf(1)}, High: Spot{math.Inf(-1), math.Inf(-1)},
		Rooms: []RoomDrawn{}, Objects: []ThingDrawn{}, Cloths: []ClothDrawn{}, People: []PersonDrawn{}, Lamps: []LampDrawn{},
		Practicals: []LampDrawn{}, Points: []PointDrawn{}, Walks: []WalkDrawn{}, Marks: []MarkDrawn{}, Block: []Field{}, Targets: []TargetDrawn{}, Tints: []TintDrawn{},
		Handles: []*Handle{}, NoiseFloor: noiseFloor, Clip: clip}
	d := &drawer{view, p.Source, plan.NewLocator(doc), setup, map[string]beam{}, out}
	d.underlay()
	d.rooms()
	d.objects()
	d.marks()
	d.walks()
	d.cloths()
	d.people()
	d.lamps()
	d.points()
	d.readings()
	d.camera()
	d.sun()
	d.sides()
	d.block()
	d.targets()
	out.NorthField = d.field("north", "set.north", doc.Set.North.String())
	out.Stock = d.stock()
	if !(out.Low[0] <= out.High[0]) {
		out.Low, out.High = Spot{0, 0}, Spot{emptyWidth, emptyDepth}
	}
	return out
}

// field is an editable value; an empty text is one not written.
func (d *drawer) field(name string, path document.Path, value string) Field {
	return Field{name, d.edited(path), value}
}

// spot takes a place into the plan and its bounds.
func (d *drawer) spot(v geometry.Vector) Spot {
	s := Spot{v.X, v.Y}
	for i := range s {
		d.out.Low[i], d.out.High[i] = math.Min(d.out.Low[i], s[i]), math.Max(d.out.High[i], s[i])
	}
	return s
}

// looksOf returns a way as seen from above, of length 1, and how far below level it leads; 0 0 straight up or down.
func looksOf(way geometry.Vector) (looks Spot, below unit.Degree) {
	level := math.Hypot(way.X, way.Y)
	if level > 1e-9*way.Length() {
		looks = Spot{way.X / level, way.Y / level}
	}
	return looks, unit.Degree(math.Atan2(-way.Z, level) * 180 / math.Pi)
}
