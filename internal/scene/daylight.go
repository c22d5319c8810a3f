package scene

import (
	"fmt"
	"math"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Daylight is a set-up's sun and sky by the model, corrected by the plan's readings, ready for any hour and state of the sky.
type Daylight struct {
	Place   unit.Position
	North   unit.Bearing // azimuth of the world's +y
	At      time.Time    // of the set-up, on its zone's clock
	Kind    daylight.Kind
	Skyline *daylight.Skyline // nil: none
	Model   *daylight.Day
	Sky     []int // emitters: one for each patch, or one for all of them
	Sun     int   // emitter; -1 where the hour has no sun
}

// Hour is sun and sky at an instant.
type Hour struct {
	Levels     daylight.Levels
	Luminances *daylight.Luminances // in the world's axes: patches count from +y
	Toward     geometry.Vector      // to the sun, as seen
	Sun, Sky   spectrum.Curve       // light of each
}

// Hour returns sun and sky at an instant under a state of the sky. The error is of a colour without a spectrum.
func (d *Daylight) Hour(at time.Time, k daylight.Kind) (Hour, error) {
	s := daylight.SunAt(at, d.Place)
	azimuth := math.Mod(float64(s.Azimuth-d.North)+720, 360)
	h := Hour{Levels: d.Model.LevelsAt(at, k)}
	h.Luminances = daylight.LuminancesAt(s.Geometric, unit.Bearing(azimuth), h.Levels.Diffuse, k)
	sin, cos := math.Sincos(unit.Degree(azimuth).Radians())
	up, level := math.Sincos(max(lowestSun, s.Altitude).Radians())
	h.Toward = geometry.Vector{X: level * sin, Y: level * cos, Z: up}
	var err error
	sun, sky := daylight.SunColour(s.Geometric, k), daylight.SkyColour(s.Geometric, k)
	if h.Sun, err = spectrum.White(sun.Kelvin, sun.Duv); err != nil {
		return h, err
	}
	h.Sky, err = spectrum.White(sky.Kelvin, sky.Duv)
	return h, err
}

// lowestSun keeps a sun whose middle has set while some of its disc still shines over a level horizon.
const lowestSun unit.Degree = 0.05

// perLux returns the luminance of each patch for a sky that gives open level ground 1 lx.
func (h *Hour) perLux() *[daylight.PatchCount]float64 {
	var patches [daylight.PatchCount]float64
	for i, l := range h.Luminances {
		patches[i] = float64(l / unit.Nit(h.Levels.Diffuse))
	}
	return &patches
}

// Dials returns a set-up's dials at an hour: those of sun and sky anew, all others as they are. The sun's emitter stands
// where it was built for, so at another hour than the set-up's own its dial says the level of a sun there.
func (d *Daylight) Dials(dials []Dial, h Hour) []Dial {
	dials = append([]Dial(nil), dials...)
	for i, e := range d.Sky {
		dials[e].Light, dials[e].Level = h.Sky, float64(h.Levels.Diffuse)
		if len(d.Sky) > 1 {
			dials[e].Level = float64(h.Luminances[i])
		}
	}
	if d.Sun >= 0 {
		dials[d.Sun].Light, dials[d.Sun].Level = h.Sun, float64(h.Levels.Direct)
	}
	return dials
}

// daylight brings sun and sky of the model. Points get the sky patch by patch, so that any hour is a matter of dials; a
// picture gets it whole, for its hour.
func (b *builder) daylight() {
	doc := &b.view.Document
	if doc.Sky == nil {
		return
	}
	d := &Daylight{Place: *doc.Place, North: doc.Set.North, At: doc.Instant(), Kind: *doc.Sky, Sun: -1}
	d.Model = b.learnt(d.Place)
	if doc.Skyline != nil {
		d.Skyline = b.skyline(doc.Skyline, d.North)
	}
	h, err := d.Hour(d.At, d.Kind)
	if err != nil {
		b.failed("sky", err)
		return
	}
	b.pairs(d)
	b.skyEmitters(d, &h)
	if h.Levels.Direct > 0 {
		d.Sun = b.emit(Emitter{Name: plan.SunName, Source: plan.SunName, Kind: Sun, Toward: h.Toward}, Dial{Gel: Clear},
			Source{Name: plan.SunName, Ambient: true, Doubts: []Doubt{{"the sun against the model", h.Levels.Interval.Direct}}})
	}
	b.setup.Dials = d.Dials(b.setup.Dials, h)
	b.setup.Daylight = d
}

// skyEmitters puts in the sky's emitters, one source.
func (b *builder) skyEmitters(d *Daylight, h *Hour) {
	sky := Source{Name: plan.SkySource, Ambient: true, Doubts: []Doubt{{"the sky against the model", h.Levels.Interval.Diffuse}}}
	add := func(name string, patches *[daylight.PatchCount]float64) {
		s := b.setup
		s.Scene.Emitters = append(s.Scene.Emitters, Emitter{Name: name, Source: plan.SkySource, Kind: Sky, Patches: patches})
		s.Dials = append(s.Dials, Dial{Gel: Clear})
		d.Sky = append(d.Sky, len(s.Dials)-1)
	}
	if b.whole {
		add(plan.SkySource, h.perLux())
	} else {
		for i := range daylight.PatchCount {
			var patches [daylight.PatchCount]float64
			patches[i] = 1
			add(fmt.Sprintf("%s %d", plan.SkySource, i+1), &patches)
		}
	}
	sky.Emitters = d.Sky
	b.setup.Sources = append(b.setup.Sources, sky)
}

// learnt returns the model corrected by the plan's readings out of doors.
func (b *builder) learnt(place unit.Position) *daylight.Day {
	model := func(t time.Time, k daylight.Kind) daylight.Levels {
		s := daylight.SunAt(t, place)
		return daylight.LevelsAt(s.Geometric, s.YearDay, k)
	}
	var readings []daylight.Reading
	for i := range b.view.Document.Ambient {
		a := &b.view.Document.Ambient[i].Value
		if !a.Modelled() {
			continue
		}
		r := daylight.Reading{At: b.view.Document.When(a), Part: partOf[a.Of], Lux: a.Reading, Interval: *a.Doubt}
		if a.Outside != nil {
			r.Part, r.Lux = daylight.Diffuse, *a.Outside
		}
		if err := r.Kind.Parse(a.Sky); err != nil {
			panic("scene: a state of the sky that was not checked")
		}
		if _, err := daylight.Learn(model, []daylight.Reading{r}); err != nil {
			path := document.Path("ambient").Join(b.view.Document.Ambient[i].Name).Join("reading")
			for _, f := range fault.Of(err, fault.Input) {
				b.fail(path, f.Text, f.Read, f.Allowed)
			}
			continue
		}
		readings = append(readings, r)
	}
	day, err := daylight.Learn(model, readings)
	if err != nil {
		panic("scene: readings that are sound alone and not together")
	}
	return day
}

// partOf is what a reading of daylight is of, by the plan's word.
var partOf = map[string]daylight.Part{"open": daylight.Global, "sky": daylight.Diffuse, "sun": daylight.Direct}
