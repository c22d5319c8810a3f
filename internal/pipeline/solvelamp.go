package pipeline

import (
	"math"
	"strings"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/plan"
	"gloam/internal/scene"
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

// stock is how many there are of each item of the truck, and which number an item has, from 1.
func (s *solver) stock() (counts []int, number map[string]int) {
	number = map[string]int{}
	for i := range s.view.Document.Truck {
		counts = append(counts, s.view.Document.Truck[i].Value.Count)
		number[s.view.Document.Truck[i].Name] = i + 1
	}
	return counts, number
}
