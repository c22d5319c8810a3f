package pipeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// stand is a place for a lamp and what may stand there, as planned first and nothing last.
type stand struct {
	name    string
	use     int // into Setup.Lamps
	outfits []outfit
}

// outfit is a lamp as it may stand at a place: a kit item, its zoom, its mode.
type outfit struct {
	shape   int // into the layers of the world: as the first, light is sent out in that way
	item    string
	kit     *gear.Lamp // nil: a practical, a photometric file, or nothing
	zoom    *unit.Degree
	mode    string
	changes []plan.Change // beside the dim
	say     string        // "" as planned
	off     bool
}

// zooms is how many settings between spot and flood are tried.
const zooms = 5

// stands are the lamps that may be set.
func (s *solver) stands() (all []stand) {
	for i := range s.planned.Setup.Lamps {
		u := &s.planned.Setup.Lamps[i]
		l, known := s.view.Document.Lamps.Get(u.Name)
		if u.Kit == nil && !s.Free.Practicals {
			continue
		}
		st := stand{name: u.Name, use: i, outfits: []outfit{{kit: u.Kit, mode: "normal"}}}
		if known {
			st.outfits[0].mode, st.outfits[0].zoom = l.Mode, l.Zoom
		}
		if u.Kit != nil && known && l.Photometry == "" {
			st.outfits[0].item = u.Kit.Name
			s.others(&st, l)
		}
		st.outfits = append(st.outfits, outfit{off: true, say: "without " + u.Name})
		all = append(all, st)
	}
	return all
}

// others adds what else may stand at a lamp's place: each item, zoom and mode that is free.
func (s *solver) others(st *stand, l *plan.Lamp) {
	planned := st.outfits[0]
	items := []*gear.Lamp{planned.kit}
	if s.Free.Kit {
		for i := range s.view.Document.Truck {
			if k, ok := s.view.Kit.Lamp(s.view.Document.Truck[i].Name); ok && k.Name != planned.kit.Name {
				items = append(items, k)
			}
		}
	}
	shapes := 0
	for n, k := range items {
		for _, zoom := range s.zoomsOf(k, n == 0, planned.zoom) {
			if _, _, zoomed := k.Zoom(); !zoomed && planned.zoom != nil {
				continue // the plan's zoom would stay written, and this lamp has none
			}
			shape := 0
			if n > 0 || !sameZoom(zoom, planned.zoom) {
				shapes++
				shape = shapes
			}
			for _, mode := range s.modesOf(k, planned.mode, n == 0) {
				o := outfit{shape: shape, item: k.Name, kit: k, zoom: zoom, mode: mode}
				if o.describe(st.name, &planned, l); shape > 0 || mode != planned.mode {
					st.outfits = append(st.outfits, o)
				}
			}
		}
	}
}

func sameZoom(a, b *unit.Degree) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// zoomsOf returns the settings of a lamp that are tried: of the planned one its own first.
func (s *solver) zoomsOf(k *gear.Lamp, own bool, planned *unit.Degree) (all []*unit.Degree) {
	spot, flood, ok := k.Zoom()
	if !ok {
		return []*unit.Degree{nil}
	}
	if own {
		all = append(all, planned)
	}
	if own && !s.Free.Zoom {
		return all
	}
	for i := range zooms {
		at := unit.Degree(math.Round(10*float64(spot)*math.Pow(float64(flood/spot), float64(i)/(zooms-1))) / 10)
		all = append(all, &at)
	}
	return all
}

// modesOf returns the modes of a lamp that are tried, the planned one first.
func (s *solver) modesOf(k *gear.Lamp, planned string, own bool) []string {
	quiet := k.Fan != nil && k.Fan.Quiet != nil
	switch {
	case !quiet && own:
		return []string{planned}
	case !quiet:
		return []string{"normal"}
	case !s.Free.Mode:
		return []string{planned}
	case planned == gear.Quiet:
		return []string{gear.Quiet, "normal"}
	}
	return []string{planned, gear.Quiet}
}

// describe fills in how an outfit differs from the planned one.
func (o *outfit) describe(name string, planned *outfit, l *plan.Lamp) {
	path := document.Path("lamps").Join(name)
	set := func(field, value string) {
		o.changes = append(o.changes, plan.Change{Path: path.Join(field), Value: value})
	}
	var words []string
	if o.item != planned.item {
		set("kit", o.item)
		words = append(words, o.item)
		if low, high := o.kit.Colours(); *l.Colour < low || *l.Colour > high {
			kelvin := min(max(*l.Colour, low), high)
			set("colour", kelvin.String())
			words = append(words, "at "+kelvin.String())
		}
	}
	if !sameZoom(o.zoom, planned.zoom) && o.zoom != nil {
		set("zoom", o.zoom.String())
		words = append(words, "zoom "+o.zoom.String())
	}
	if o.mode != planned.mode {
		set("mode", o.mode)
		words = append(words, o.mode+" mode")
	}
	o.say = name + ": " + strings.Join(words, ", ")
}

// most returns the highest dim of an outfit.
func (o *outfit) most(u *scene.LampUse) unit.Fraction {
	if o.kit == nil {
		return u.MaxDim
	}
	return o.kit.MaxDim(o.mode)
}

// takes is what an outfit takes at full output. Hands and minutes are rough: one person and ten minutes, two and a quarter of
// an hour where a stand carries more than 15 kg (common practice, no source).
func (s *solver) takes(o *outfit) (c solve.Cost) {
	if o.kit == nil {
		return c
	}
	if p := o.kit.Power; p != nil {
		c.Power, c.Current = p.Full, float64(p.Full)/float64(*s.view.Document.Supply.Voltage)/float64(p.Factor)
	}
	c.Hands, c.Time = 1, 600
	if m := o.kit.Mass; m != nil {
		if c.Mass = m.Total(); m.OnStand() > 15 {
			c.Hands, c.Time = 2, 900
		}
	}
	if noise, ok := o.kit.Noise(o.mode); ok {
		c.Noise = noise
	}
	if stock, ok := s.view.Document.Truck.Get(o.item); ok {
		c.Money = stock.Hire
	}
	return c
}

// plannedTakes is what the set-up takes as planned: its frames and the lamps that are on.
func (s *solver) plannedTakes() *solve.Cost {
	sum := &solve.Cost{}
	noise := 0.0
	for i := range s.planned.Setup.Lamps {
		u := &s.planned.Setup.Lamps[i]
		if l, ok := s.view.Document.Lamps.Get(u.Name); ok && u.Kit != nil && u.Dim > 0 {
			c := s.takes(&outfit{item: u.Kit.Name, kit: u.Kit, mode: l.Mode})
			sum.Current, sum.Power, sum.Mass, sum.Money = sum.Current+c.Current, sum.Power+c.Power, sum.Mass+c.Mass, sum.Money+c.Money
			addTakes(sum, &c)
			if c.Noise > 0 {
				noise += math.Pow(10, float64(c.Noise)/10)
			}
		}
	}
	if noise > 0 {
		sum.Noise = unit.DecibelA(10 * math.Log10(noise))
	}
	for i := range s.view.Document.Cloths {
		frame := frameOf(&s.view.Document.Cloths[i].Value)
		addTakes(sum, &frame)
	}
	return sum
}

// stock is how many there are of each item of the truck, and which number an item has, from 1.
func (s *solver) stock() (counts []int, number map[string]int) {
	number = map[string]int{}
	for i := range s.view.Document.Truck {
		counts = append(counts, s.view.Document.Truck[i].Value.Count)
		number[s.view.Document.Truck[i].Name] = i + 1
	}
	return counts, number
}

// shaped is a world with lamps of other shapes at their places.
type shaped struct {
	setup  *scene.Setup
	layers *transport.Layers
}

// shapes follows the light of each lamp's other shapes along the world's kept walks: the first is the world as it is.
func (s *solver) shapes(w *world, stands []stand) ([]shaped, error) {
	all := []shaped{{w.setup, w.layers}}
	most := 0
	for i := range stands {
		for _, o := range stands[i].outfits {
			most = max(most, o.shape)
		}
	}
	for n := 1; n <= most; n++ {
		var changes []plan.Change
		for i := range stands {
			if k := slices.IndexFunc(stands[i].outfits, func(o outfit) bool { return o.shape == n && !o.off }); k >= 0 {
				for _, c := range stands[i].outfits[k].changes {
					if !strings.HasSuffix(string(c.Path), ".mode") {
						changes = append(changes, c)
					}
				}
			}
		}
		view, err := w.view.With(changes...)
		if err != nil {
			return nil, err
		}
		setup, err := s.session.build(s.ctx, view, s.Options)
		if err != nil {
			return nil, err
		}
		moved, same := movedLamps(w.setup.Scene, setup.Scene)
		if !same {
			return nil, fmt.Errorf("a lamp of another shape changes what stands in the light")
		}
		q := s.session.request(setup, s.Options)
		q.Goal, q.LayerGoal, q.Progress = draftGoal, 0, nil
		layers, err := w.layers.Moved(s.ctx, setup.Scene, moved, q)
		if err != nil {
			return nil, unfinished(err)
		}
		all = append(all, shaped{setup, layers})
		s.tell(0.5 * float64(n) / float64(most))
	}
	return all, nil
}

// softness is how large a lamp's light looks from a point: the nearest cloth that most of it met, or the lamp's own opening.
func softness(at shaped, emitter, receiver int, cloths document.Named[plan.Cloth]) unit.Degree {
	p := &at.layers.Points[receiver]
	from := at.setup.Scene.Receivers[receiver].Position
	e := &at.setup.Scene.Emitters[emitter]
	side, distance := math.Sqrt(math.Pi)*e.Form.Radius, e.Centre.Sub(from).Length()
	if e.Form.Width > 0 {
		side = math.Sqrt(e.Form.Width * e.Form.Height)
	}
	all := 0.0
	for _, c := range at.setup.Scene.ColumnsOf(emitter) {
		for _, x := range p.Response[c] {
			all += x / float64(len(p.Response[c]))
		}
	}
	nearest := math.Inf(1)
	for i, name := range at.setup.Scene.Cloths {
		cloth, ok := cloths.Get(name)
		if !ok || all <= 0 || p.Via[emitter][i] < all/2 {
			continue
		}
		if d := middleOf(at.setup.Scene, name).Sub(from).Length(); d < nearest {
			nearest, side, distance = d, math.Sqrt(float64(cloth.Size.Width*cloth.Size.Height)), d
		}
	}
	return unit.Degree(2 * math.Atan(side/2/math.Max(distance, 0.01)) * 180 / math.Pi)
}

// middleOf is the middle of a thing's surfaces.
func middleOf(s *scene.Scene, name string) (middle geometry.Vector) {
	n := 0.0
	for i := range s.Surfaces {
		if s.Surfaces[i].Name == name {
			for _, v := range s.Surfaces[i].Mesh.Positions {
				middle, n = middle.Add(v), n+1
			}
		}
	}
	if n > 0 {
		middle = middle.Mul(1 / n)
	}
	return middle
}
