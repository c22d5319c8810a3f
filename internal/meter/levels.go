package meter

import (
	"math"

	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// Levels is what a set-up reads, in the fields that `gloam levels --json` prints. Units stand in the field names; a
// null is a number that does not exist (the stops over key of a dark point, the luminance of a flat receptor).
type Levels struct {
	Setup    string         `json:"setup"`
	At       string         `json:"at,omitempty"`
	Key      unit.Lux       `json:"key_lux"`
	ND       unit.Stop      `json:"nd_stops"`
	Exposure Exposure       `json:"exposure"`
	Sources  []SourceColour `json:"sources"`
	Flicker  *Flicker       `json:"flicker,omitempty"`
	Notes    []string       `json:"notes"`
	Points   []Reading      `json:"points"`
	Lamps    []Lamp         `json:"lamps"`
	Walks    []Walk         `json:"walks"`
	Ratios   []Ratio        `json:"ratios"`
	Tones    []Tone         `json:"tones"`
	Targets  []Target       `json:"targets"`
}

// Reading is one point.
type Reading struct {
	Name      string     `json:"name"`
	Receptor  string     `json:"receptor"`
	Lux       *unit.Lux  `json:"lux"`
	Luminance *unit.Nit  `json:"luminance_cd_m2"`
	OverKey   *unit.Stop `json:"over_key_stops"`
	Interval  unit.Stop  `json:"interval_stops"`
	Stderr    unit.Stop  `json:"stderr_stops"`
	White
	Camera *Recorded `json:"camera,omitempty"`
	By     []Share   `json:"by"`
}

// Share is what one source gives a point, in the point's own unit: lux, or cd/m² at a spot.
type Share struct {
	Source          string    `json:"source"`
	Lux             *unit.Lux `json:"lux"`
	Direct          *unit.Lux `json:"direct_lux"`
	Luminance       *unit.Nit `json:"luminance_cd_m2"`
	DirectLuminance *unit.Nit `json:"direct_luminance_cd_m2"`
	Share           float64   `json:"share"`
	White
}

// Walk is a line of points: its darkest and brightest are swing apart.
type Walk struct {
	Name     string      `json:"name"`
	Points   []WalkPoint `json:"points"`
	Swing    *unit.Stop  `json:"swing_stops"`
	Interval unit.Stop   `json:"interval_stops"`
	By       []WalkSwing `json:"by"`
}

// WalkPoint is one place of a walk.
type WalkPoint struct {
	Along unit.Metre `json:"along_m"`
	Reading
}

// WalkSwing is what a source alone would swing.
type WalkSwing struct {
	Source string     `json:"source"`
	Swing  *unit.Stop `json:"swing_stops"`
}

// Ratio compares a person's key side with the shadow side: key and fill together over fill.
type Ratio struct {
	Name     string     `json:"name"`
	Key      string     `json:"key_point"`
	Shadow   string     `json:"shadow_point"`
	Ratio    *float64   `json:"ratio"`
	Stops    *unit.Stop `json:"stops"`
	Interval unit.Stop  `json:"interval_stops"`
}

// Tone is where a surface falls in the light at a point.
type Tone struct {
	Name        string        `json:"name"`
	Material    string        `json:"material"`
	Reflectance unit.Fraction `json:"reflectance"`
	In          string        `json:"in"`
	OverGrey    *unit.Stop    `json:"over_grey_stops"`
	Interval    unit.Stop     `json:"interval_stops"`
}

// Read turns the layers of a set-up into what the crew wants to know.
func Read(s *scene.Setup, l *transport.Layers) Levels {
	r := newReader(s, l)
	out := Levels{
		Setup: s.Name, At: s.Clock, Key: s.Camera.Key(),
		Points: []Reading{}, Lamps: []Lamp{}, Walks: []Walk{}, Ratios: []Ratio{}, Tones: []Tone{}, Targets: []Target{},
	}
	lights := make([]light, len(s.Points))
	for i, p := range s.Points {
		lights[i] = r.at(p.Receiver)
		reading := r.reading(p.Name, p.Receiver, &lights[i])
		seen := r.recorded(r.signals(p.Receiver), lights[i].xyz)
		reading.Camera = &seen
		out.Points = append(out.Points, reading)
	}
	for _, w := range s.Walks {
		out.Walks = append(out.Walks, r.walk(&w))
	}
	out.Sources = r.sources()
	out.Notes = r.notes(out.Sources)
	out.Flicker = r.flicker(lights)
	out.Ratios = r.ratios(lights)
	out.Tones = append(out.Tones, r.tones(lights)...)
	out.Targets = append(out.Targets, r.targets(lights, out.Walks)...)
	out.Lamps = append(out.Lamps, r.lamps(lights)...)
	out.Exposure = r.exposure(lights)
	out.ND = out.Exposure.Needed
	return out
}

// reading puts a light into the fields of a point.
func (r *reader) reading(name string, receiver int, l *light) Reading {
	kind := r.setup.Scene.Receivers[receiver].Kind
	out := Reading{
		Name: name, Receptor: kind.String(), OverKey: r.over(receiver, l),
		Interval: l.interval(), Stderr: transport.StopError(l.level, l.stderr), By: []Share{},
	}
	out.Lux, out.Luminance = quantity(kind, l.level)
	out.White = r.white(l.xyz)
	for i, s := range r.setup.Sources {
		share := Share{Source: s.Name, Share: l.share(i), White: r.white(l.source[i].xyz)}
		share.Lux, share.Luminance = quantity(kind, l.source[i].level)
		share.Direct, share.DirectLuminance = quantity(kind, l.source[i].direct)
		out.By = append(out.By, share)
	}
	return out
}

// quantity puts a level into the unit of its receptor.
func quantity(kind scene.ReceptorKind, level float64) (*unit.Lux, *unit.Nit) {
	if kind == scene.Spot {
		l := unit.Nit(level)
		return nil, &l
	}
	e := unit.Lux(level)
	return &e, nil
}

// over returns the stops over key: of the incident level, or over grey at a spot. A dark point has none.
func (r *reader) over(receiver int, l *light) *unit.Stop {
	if l.level <= 0 {
		return nil
	}
	s := r.setup.Camera.OverKey(unit.Lux(l.level))
	if r.setup.Scene.Receivers[receiver].Kind == scene.Spot {
		s = r.setup.Camera.OverGrey(unit.Nit(l.level))
	}
	return &s
}

// stopsBetween returns log2(a/b), or nothing where either is dark.
func stopsBetween(a, b float64) *unit.Stop {
	if a <= 0 || b <= 0 {
		return nil
	}
	s := unit.Stop(math.Log2(a / b))
	return &s
}
