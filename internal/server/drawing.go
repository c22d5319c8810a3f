package server

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
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
	Revision   int           `json:"revision"`
	Setup      string        `json:"setup"`
	Title      string        `json:"title"`
	North      unit.Bearing  `json:"north_deg" doc:"azimuth of +y"`
	Low        Spot          `json:"low" doc:"corner of what there is to draw, at the least x and y"`
	High       Spot          `json:"high"`
	Rooms      []RoomDrawn   `json:"rooms"`
	Objects    []ThingDrawn  `json:"objects"`
	Cloths     []ClothDrawn  `json:"cloths"`
	People     []PersonDrawn `json:"people"`
	Lamps      []LampDrawn   `json:"lamps"`
	Practicals []LampDrawn   `json:"practicals"`
	Points     []PointDrawn  `json:"points"`
	Walks      []WalkDrawn   `json:"walks"`
	Camera     *CameraDrawn  `json:"camera,omitempty"`
	Block      []Field       `json:"title_block" doc:"what the title block shows: place, day, hour, camera"`
	Targets    []TargetDrawn `json:"targets" doc:"those of points"`
	NewTarget  document.Path `json:"new_target" doc:"where a further one is written"`
	NoiseFloor unit.Stop     `json:"noise_floor_stops"`
	Clip       unit.Stop     `json:"clip_stops"`
}

// RoomDrawn is a room by its inner faces.
type RoomDrawn struct {
	Name     string         `json:"name"`
	Low      Spot           `json:"low"`
	High     Spot           `json:"high"`
	Height   unit.Metre     `json:"height_m"`
	Openings []OpeningDrawn `json:"openings"`
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

// ThingDrawn is a thing by its outline from above.
type ThingDrawn struct {
	Name    string     `json:"name"`
	Kind    string     `json:"kind"`
	Outline []Spot     `json:"outline"`
	Low     unit.Metre `json:"low_m"`
	High    unit.Metre `json:"high_m"`
	Fields  []Field    `json:"fields"`
}

// PersonDrawn is a person from above.
type PersonDrawn struct {
	Name   string     `json:"name"`
	At     Spot       `json:"at"`
	Feet   unit.Metre `json:"feet_m" doc:"height of what they stand on"`
	Looks  Spot       `json:"looks" doc:"way they look, of length 1"`
	Face   unit.Metre `json:"face_m" doc:"height of the face"`
	Fields []Field    `json:"fields"`
}

// LampDrawn is a head with the edges of its beam, where the intensity is half of that on the axis.
type LampDrawn struct {
	Name   string     `json:"name"`
	Kind   string     `json:"kind"`
	At     Spot       `json:"at"`
	Height unit.Metre `json:"height_m"`
	Axis   Spot       `json:"axis" doc:"way it is aimed, of length 1 or less: less where it points up or down"`
	Edges  []Spot     `json:"edges" doc:"ends of the beam's two edges, as far away as what it is aimed at; empty for a lamp that shines all round"`
	Fields []Field    `json:"fields"`
}

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

// CameraDrawn is the camera and the edges of its field.
type CameraDrawn struct {
	At     Spot       `json:"at"`
	Height unit.Metre `json:"height_m"`
	Edges  []Spot     `json:"edges"`
}

// drawer holds what a drawing is made of.
type drawer struct {
	view  *plan.View
	many  bool // the plan has set-ups: edits are written into the one shown
	setup *scene.Setup
	out   *Drawing
}

// draw draws a set-up. The error holds the faults that show only once things stand in their places.
func draw(view *plan.View, many bool) (*Drawing, error) {
	setup, faults := scene.Build(view, false)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	doc := &view.Document
	out := &Drawing{Setup: view.Name, Title: doc.Title, North: doc.Set.North,
		Low: Spot{math.Inf(1), math.Inf(1)}, High: Spot{math.Inf(-1), math.Inf(-1)},
		Rooms: []RoomDrawn{}, Objects: []ThingDrawn{}, Cloths: []ClothDrawn{}, People: []PersonDrawn{}, Lamps: []LampDrawn{},
		Practicals: []LampDrawn{}, Points: []PointDrawn{}, Walks: []WalkDrawn{}, Block: []Field{}, Targets: []TargetDrawn{}, NoiseFloor: noiseFloor, Clip: clip}
	d := &drawer{view, many, setup, out}
	d.rooms(plan.NewLocator(doc))
	d.objects()
	d.cloths(plan.NewLocator(doc))
	d.people(plan.NewLocator(doc))
	d.lamps(plan.NewLocator(doc))
	d.points()
	d.camera()
	d.block()
	d.targets()
	if !(out.Low[0] < out.High[0]) {
		out.Low, out.High = Spot{-1, -1}, Spot{1, 1}
	}
	return out, nil
}

// field is an editable value; an empty text is one not written.
func (d *drawer) field(name string, path document.Path, value string) Field {
	if d.many {
		path = document.Path("setups").Join(d.view.Name) + "." + path
	}
	return Field{name, path, value}
}

// spot takes a place into the plan and its bounds.
func (d *drawer) spot(v geometry.Vector) Spot {
	s := Spot{v.X, v.Y}
	for i := range s {
		d.out.Low[i], d.out.High[i] = math.Min(d.out.Low[i], s[i]), math.Max(d.out.High[i], s[i])
	}
	return s
}

func (d *drawer) rooms(where *plan.Locator) {
	set := &d.view.Document.Set
	for i := range set.Rooms {
		r := &set.Rooms[i].Value
		corner, ok := where.Place(r.Corner, 0)
		if !ok {
			continue
		}
		far := corner.Add(geometry.Vector{X: float64(r.Size.Width), Y: float64(r.Size.Depth)})
		room := RoomDrawn{set.Rooms[i].Name, d.spot(corner), d.spot(far), r.Size.Height, []OpeningDrawn{}}
		walls := plan.Walls(corner, r.Size)
		for j := range r.Openings {
			o := &r.Openings[j].Value
			w, found := plan.FindWall(walls, o.Wall, set.North)
			if !found || w.Name == "ceiling" {
				continue
			}
			path := document.Path("set.rooms").Join(room.Name).Join("openings").Join(r.Openings[j].Name)
			hole := o.HoleIn(w)
			from := w.Corner.AddMul(hole.X, w.Basis.X)
			room.Openings = append(room.Openings, OpeningDrawn{r.Openings[j].Name, d.spot(from), d.spot(from.AddMul(hole.W, w.Basis.X)),
				unit.Metre(hole.Y), unit.Metre(hole.H), []Field{d.field("gel", path.Join("gel"), o.Gel)}})
		}
		d.out.Rooms = append(d.out.Rooms, room)
	}
}

// objects are drawn by the surfaces they were built of.
func (d *drawer) objects() {
	doc := &d.view.Document
	for i := range doc.Set.Objects {
		o := &doc.Set.Objects[i]
		at := d.field("at", document.Path("set.objects").Join(o.Name).Join("at"), o.Value.At.String())
		if thing, ok := d.outlined(o.Name, o.Value.Kind, at); ok {
			d.out.Objects = append(d.out.Objects, thing)
		}
	}
}

// outlined returns a thing by its surfaces; ok is false where it has none.
func (d *drawer) outlined(name, kind string, fields ...Field) (thing ThingDrawn, ok bool) {
	var spots []Spot
	low, high := math.Inf(1), math.Inf(-1)
	for i := range d.setup.Scene.Surfaces {
		s := &d.setup.Scene.Surfaces[i]
		if s.Name != name {
			continue
		}
		for _, v := range s.Mesh.Positions {
			spots = append(spots, d.spot(v))
			low, high = math.Min(low, v.Z), math.Max(high, v.Z)
		}
	}
	return ThingDrawn{name, kind, hull(spots), unit.Metre(low), unit.Metre(high), fields}, len(spots) > 0
}

func (d *drawer) people(where *plan.Locator) {
	for i := range d.view.Document.People {
		p := &d.view.Document.People[i]
		if f, ok := where.Figure(p.Name); ok {
			path := document.Path("people").Join(p.Name)
			d.out.People = append(d.out.People, PersonDrawn{p.Name, d.spot(f.Feet), unit.Metre(f.Feet.Z), Spot{f.Basis.Y.X, f.Basis.Y.Y}, unit.Metre(f.Face.Z),
				[]Field{d.field("at", path.Join("at"), p.Value.At.String()), d.field("faces", path.Join("faces"), p.Value.Faces.String())}})
		}
	}
}

// openThrow is how far the edges of a beam are drawn that is aimed at nothing, m.
const openThrow = 4

func (d *drawer) lamps(where *plan.Locator) {
	doc := &d.view.Document
	for i := range d.setup.Lamps {
		use := &d.setup.Lamps[i]
		e := &d.setup.Scene.Emitters[use.Emitter]
		drawn := LampDrawn{Name: use.Name, At: d.spot(e.Centre), Height: unit.Metre(e.Centre.Z), Axis: Spot{e.Basis.Z.X, e.Basis.Z.Y}, Edges: []Spot{}}
		if l, ok := doc.Lamps.Get(use.Name); ok {
			path := document.Path("lamps").Join(use.Name)
			drawn.Kind = l.Kit
			throw := float64(openThrow)
			if way, ok := where.Way(&l.Aim, e.Centre); ok && l.Aim.Bearing == nil {
				throw = way.Length()
			}
			drawn.Edges = edges(e, throw)
			drawn.Fields = []Field{d.field("dim", path.Join("dim"), l.Dim.String()), d.field("colour", path.Join("colour"), written(l.Colour)),
				d.field("at", path.Join("at"), l.At.String()), d.field("aim", path.Join("aim"), l.Aim.String()), d.field("gel", path.Join("gel"), l.Gel)}
			d.out.Lamps = append(d.out.Lamps, drawn)
		} else if p, ok := doc.Practicals.Get(use.Name); ok {
			path := document.Path("practicals").Join(use.Name)
			drawn.Kind = p.Kind
			drawn.Fields = []Field{d.field("dim", path.Join("dim"), p.Dim.String()), d.field("colour", path.Join("colour"), written(p.Colour)),
				d.field("at", path.Join("at"), p.At.String())}
			d.out.Practicals = append(d.out.Practicals, drawn)
		}
	}
}

func written(k *unit.Kelvin) string {
	if k == nil {
		return ""
	}
	return k.String()
}

// half is the share of the axis' intensity at which a beam ends [CIE121].
const half = 0.5

// edges returns the ends of a beam's edges in the level plane through its axis.
func edges(e *scene.Emitter, throw float64) []Spot {
	across := geometry.Up.Cross(e.Basis.Z)
	if e.Beam == nil || across.Length() < 1e-6 {
		return []Spot{}
	}
	s, c := math.Sincos(photometry.BeamAngle(e.Beam, half).Radians() / 2)
	if c < 0.1 { // all round, or nearly
		return []Spot{}
	}
	ends := []Spot{}
	for _, side := range []float64{1, -1} {
		end := e.Centre.AddMul(throw, e.Basis.Z).AddMul(side*throw*s/c, across.Unit())
		ends = append(ends, Spot{end.X, end.Y})
	}
	return ends
}

func (d *drawer) points() {
	at := func(receiver int) (Spot, scene.Receiver) {
		r := d.setup.Scene.Receivers[receiver]
		return d.spot(r.Position), r
	}
	for _, p := range d.setup.Points {
		spot, r := at(p.Receiver)
		d.out.Points = append(d.out.Points, PointDrawn{p.Name, r.Kind.String(), spot, unit.Metre(r.Position.Z), Spot{r.Normal.X, r.Normal.Y}})
	}
	for _, w := range d.setup.Walks {
		walk := WalkDrawn{w.Name, []Spot{}}
		for _, receiver := range w.Receivers {
			spot, _ := at(receiver)
			walk.Spots = append(walk.Spots, spot)
		}
		d.out.Walks = append(d.out.Walks, walk)
	}
}

func (d *drawer) camera() {
	v := d.setup.View
	if v == nil {
		return
	}
	c := &CameraDrawn{d.spot(v.At), unit.Metre(v.At.Z), []Spot{}}
	for _, side := range []float64{-1, 1} {
		end := v.At.AddMul(v.Focus, v.Basis.Z).AddMul(side*v.Focus*v.Width/(2*v.Focal), v.Basis.X)
		c.Edges = append(c.Edges, Spot{end.X, end.Y})
	}
	d.out.Camera = c
}

func (d *drawer) block() {
	doc := &d.view.Document
	add := func(name string, path document.Path, value string) {
		d.out.Block = append(d.out.Block, d.field(name, path, value))
	}
	if doc.Place != nil {
		add("Place", "place", doc.Place.String())
	}
	if doc.Date != nil {
		add("Day", "date", doc.Date.String())
	}
	if doc.Time != nil {
		add("Hour", "time", doc.Time.String())
	}
	if c := doc.Camera; c != nil {
		add("EI", "camera.ei", c.EI.String())
		add("Frames", "camera.fps", c.FPS.String())
		add("Shutter", "camera.shutter", c.Shutter.String())
		add("Stop", "camera.stop", c.Stop.String())
		add("ND", "camera.nd", c.ND.String())
		add("Balance", "camera.balance", c.Balance.String())
	}
}
