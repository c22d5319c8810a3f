package pipeline

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/exposure"
	"gloam/internal/gear"
	"gloam/internal/photometry"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// QuickCover asks whether a width is lit evenly: level, square to the lamp's axis, the point in its middle. A
// spot-to-flood lamp whose beam is not given takes the one that covers it at the most level.
type QuickCover struct {
	Width  unit.Metre
	Within unit.Stop // from the middle to the edge
}

// QuickWalk asks about a walk straight toward the lamp, the point in its middle.
type QuickWalk struct {
	Length unit.Metre
	Swing  unit.Stop // the most
}

// QuickSun asks how high the lamp must hang to light the point from the altitude of a sun.
type QuickSun struct {
	Altitude unit.Degree
	Height   unit.Metre // of the point
}

// CoverAnswer is a width in the light of the lamp alone.
type CoverAnswer struct {
	Width  unit.Metre  `json:"width_m"`
	Within unit.Stop   `json:"within_stops"`
	Beam   unit.Degree `json:"beam_deg"`       // full angle at half intensity
	Half   unit.Metre  `json:"beam_width_m"`   // how wide the beam is at half intensity; 0 from 180° on
	Edge   *unit.Stop  `json:"edge_stops"`     // the edge under the middle; nothing where no light goes
	Covers bool        `json:"covers"`         // the edge lies within
	From   *unit.Metre `json:"covers_from_m"`  // if not: the distance from which this beam, without cloth, covers the width
	Chosen bool        `json:"beam_is_chosen"` // of a spot-to-flood lamp, to cover the width
}

// WalkAnswer is a walk as the lamp stands. Distances are to the end that is near the lamp.
type WalkAnswer struct {
	Length       unit.Metre `json:"length_m"`
	Most         unit.Stop  `json:"most_swing_stops"`
	Near         unit.Metre `json:"near_m"`
	Swing        *unit.Stop `json:"swing_stops"` // nothing without light
	SwingAlone   *unit.Stop `json:"swing_without_ambient_stops"`
	Keeps        bool       `json:"keeps"`
	Nearest      unit.Metre `json:"nearest_near_m"` // from where on the swing is kept
	NearestAlone unit.Metre `json:"nearest_near_without_ambient_m"`
}

// SunAnswer is how the lamp hangs.
type SunAnswer struct {
	Altitude unit.Degree `json:"sun_altitude_deg"`
	Height   unit.Metre  `json:"lamp_height_m"`
	Point    unit.Metre  `json:"point_height_m"`
	Way      unit.Metre  `json:"light_way_m"` // from lamp to point
}

// way is how far the light goes from lamp to point: the distance is along the ground.
func (q *Quick) way() unit.Metre {
	if q.Sun == nil {
		return q.Distance
	}
	return q.Distance / unit.Metre(math.Cos(q.Sun.Altitude.Radians()))
}

// zoomed returns the question with the beam that covers the width, where that is asked, and whether one was chosen.
func (q *Quick) zoomed() (*Quick, bool) {
	if q.Cover == nil || q.Beam != nil {
		return q, false
	}
	kit, known := gear.BuiltIn().Lamp(q.Kit)
	if !known {
		return q, false
	}
	spot, flood, ok := kit.Zoom()
	if !ok {
		return q, false
	}
	c, _ := solve.Cover(spot, flood, func(beam unit.Degree) unit.Lux {
		light, offset, _ := kit.Beam(&beam) // no error inside the zoom's range
		return exposure.Illuminance(light.Peak(), q.way()+offset, 0)
	}, q.Cover.Width, q.way(), q.Cover.Within)
	with := *q
	with.Beam = &c.Beam
	return &with, true
}

// light is the lamp's beam.
func (q *Quick) light() photometry.Distribution {
	if kit, ok := gear.BuiltIn().Lamp(q.Kit); ok {
		if light, _, err := kit.Beam(q.Beam); err == nil {
			return light
		}
	}
	return photometry.Bell(q.Peak, *q.Beam)
}

// reachText writes the points beside the one asked about.
func (q *Quick) reachText() string {
	var b strings.Builder
	if q.Cover != nil {
		fmt.Fprintf(&b, "  edge: {at: %v 0 %v, faces: %[1]v %[3]v %[2]v, receptor: %[4]s}\n",
			float64(q.Cover.Width/2), questionHeight, float64(q.way()), q.Receptor)
	}
	if q.Walk != nil {
		half := float64(q.Walk.Length / 2)
		fmt.Fprintf(&b, "  near: {at: 0 %v %v, faces: 0 %v %[2]v, receptor: %[4]s}\n", half, questionHeight, float64(q.way()), q.Receptor)
		fmt.Fprintf(&b, "  far: {at: 0 %v %v, faces: 0 %v %[2]v, receptor: %[4]s}\n", -half, questionHeight, float64(q.way()), q.Receptor)
	}
	return b.String()
}

// reach answers what is asked about width, walk and height.
func (q *Quick) reach(a *QuickAnswer, r *Result, chosen bool) {
	if q.Cover != nil {
		a.Cover = q.covers(a, r)
		a.Cover.Chosen = chosen
	}
	if q.Walk != nil {
		a.Walk = q.walks(a, r)
	}
	if q.Sun != nil {
		a.Sun = &SunAnswer{q.Sun.Altitude, solve.SunHeight(q.Sun.Height, q.Distance, q.Sun.Altitude), q.Sun.Height, q.way()}
	}
}

func (q *Quick) covers(a *QuickAnswer, r *Result) *CoverAnswer {
	light := q.light()
	c := &CoverAnswer{Width: q.Cover.Width, Within: q.Cover.Within, Beam: photometry.BeamAngle(light, 0.5)}
	if c.Beam < 180 {
		c.Half = exposure.BeamWidth(c.Beam, q.way())
	}
	_, lamp := lampAndAll(r, "edge")
	if c.Edge = apart(a.Lamp, lamp); c.Edge != nil {
		c.Covers = *c.Edge <= c.Within+hundredth
	}
	if !c.Covers {
		from := solve.CoverFrom(light, c.Width, c.Within)
		c.From = &from
	}
	return c
}

// hundredth of a stop is as fine as answers are read, and finer than an opening with a size is told from a point.
const hundredth unit.Stop = 0.01

func (q *Quick) walks(a *QuickAnswer, r *Result) *WalkAnswer {
	w := &WalkAnswer{Length: q.Walk.Length, Most: q.Walk.Swing, Near: q.Distance - q.Walk.Length/2}
	nearAll, near := lampAndAll(r, "near")
	farAll, far := lampAndAll(r, "far")
	w.Swing, w.SwingAlone = apart(nearAll, farAll), apart(near, far)
	w.Keeps = w.Swing != nil && *w.Swing <= w.Most+hundredth
	intensity := unit.Candela(float64(a.Lamp) * float64(q.Distance*q.Distance))
	w.Nearest = solve.Throw(intensity, a.Ambient, w.Length, w.Most)
	w.NearestAlone = exposure.WalkDistance(w.Length, w.Most)
	return w
}

// apart returns log2(a/b), or nothing where either is dark.
func apart(a, b unit.Lux) *unit.Stop {
	if !(a > 0 && b > 0) {
		return nil
	}
	stops := unit.Stops(float64(a / b))
	return &stops
}

// lampAndAll returns the level at a point, and what of it the lamp gives.
func lampAndAll(r *Result, point string) (all, lamp unit.Lux) {
	for i := range r.Levels.Points {
		p := &r.Levels.Points[i]
		if p.Name != point {
			continue
		}
		for _, s := range p.By {
			if s.Source == "lamp" {
				lamp = *s.Lux
			}
		}
		return *p.Lux, lamp
	}
	panic("pipeline: a question lacks a point of its own")
}

// checkReach tells what is amiss with width, walk and height.
func (q *Quick) checkReach(add func(option, text, allowed string)) {
	if c := q.Cover; c != nil {
		kit, known := gear.BuiltIn().Lamp(q.Kit)
		switch {
		case !(c.Width > 0):
			add("--cover", "the width is not one", "--cover 3m, above 0")
		case !(c.Within > 0):
			add("--within", "the edge lies under the middle", "--within 1/2, above 0")
		case q.OffAxis != 0:
			add("--cover", "the lamp points at the middle of the width", "--cover without --off-axis")
		case q.Kit == "" && q.Beam == nil:
			add("--beam", "how wide a lamp covers is its beam's doing", "--beam 26 deg, the angle at half intensity")
		case known && q.Beam == nil && q.Cloth != nil:
			if _, _, zooms := kit.Zoom(); zooms {
				add("--beam", "through cloth the beam that covers is not looked for", "--beam 26 deg")
			}
		}
	}
	if w := q.Walk; w != nil {
		switch {
		case !(w.Length > 0) || q.Distance > 0 && w.Length >= 2*q.Distance:
			add("--walk", "the walk does not end before the lamp", "above 0 and below twice the distance, since the point is its middle")
		case !(w.Swing > 0):
			add("--swing", "a walk toward a lamp swings", "--swing 1, above 0")
		case q.OffAxis != 0 || q.Cloth != nil || q.Sun != nil:
			add("--walk", "the walk goes straight toward a lamp without cloth at its own height", "--walk without --off-axis, --cloth and --sun")
		}
	}
	if s := q.Sun; s != nil && !(s.Altitude >= 0 && s.Altitude <= steepest) {
		add("--sun", "no lamp can hang so at a distance", fmt.Sprintf("0° to %v", steepest))
	}
}

// steepest is a sun that a lamp at a distance along the ground can imitate.
const steepest unit.Degree = 80
