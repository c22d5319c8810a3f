package scene

import (
	"slices"

	"gloam/internal/colour"
	"gloam/internal/exposure"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Setup is one set-up made ready: the scene, its dials, and what the crew calls the things in it.
type Setup struct {
	Name     string
	Clock    string // when, as printed; empty if the plan does not say
	Scene    *Scene
	Dials    []Dial // by emitter
	Camera   exposure.Camera
	Balance  unit.Kelvin
	Tint     float64         // Duv of the light the balance makes neutral
	Recorder colour.Balanced // the camera under its balance
	Mains    unit.Hertz      // 0: the plan does not say
	Expose   int             // the point the plan exposes for, into Points; -1 if it does not say

	Sources  []Source // in plan order
	Lamps    []LampUse
	Points   []PointUse
	People   []PersonUse
	Walks    []WalkUse
	Ambients []AmbientUse
	Targets  []TargetUse
	Tones    []ToneUse
	Ripples  []RippleUse

	Pairs    []PairUse
	Daylight *Daylight // by the model; nil when the plan has none

	ClothKinds  []string    // by Scene.Cloths: the kit cloth each piece is
	ClothDoubts []unit.Stop // by Scene.Cloths
	View        *View       // where the camera is; nil when the plan does not say
}

// Source is what the crew names: a lamp, a practical, an ambient. It may hold several emitters.
type Source struct {
	Name     string
	Emitters []int
	Doubts   []Doubt
	Ambient  bool // was there before any lamp was lit
}

// Doubt is one thing not known exactly, as a 95 % half-width in stops of the light it touches. Doubts of one Cause are
// the same error wherever they appear, and add before they are squared.
type Doubt struct {
	Cause string
	Stops unit.Stop
}

// LampUse is a lamp whose level can be set.
type LampUse struct {
	Name    string
	Emitter int
	Kit     *gear.Lamp // nil for a practical
	Dim     unit.Fraction
	MaxDim  unit.Fraction // in the mode it runs in
	Output  float64       // share of full output at its colour, gel aside
}

// Level returns the Dial.Level of the lamp at a dim.
func (u *LampUse) Level(dim unit.Fraction) float64 {
	if u.Kit == nil {
		return u.Output * float64(dim)
	}
	return u.Output * u.Kit.AtLevel(dim)
}

// PointUse is a metering point.
type PointUse struct {
	Name     string
	Receiver int
}

// PersonUse is whose sides are compared: indices into Points.
type PersonUse struct {
	Name        string
	Key, Shadow int
}

// WalkUse is a walk's receivers in order, and how far along each stands.
type WalkUse struct {
	Name      string
	Receivers []int
	Along     []unit.Metre
}

// AmbientUse is an ambient whose strength is still to be found: its layer at the receiver, gels aside, must equal the
// reading.
type AmbientUse struct {
	Emitter  int
	Receiver Receiver
	Reading  unit.Lux
	Seen     *unit.Nit   // the bare sky in its openings, as read through their glass; nil: not read
	Place    fault.Place // of the reading in the plan
	Path     string
}

// Doubt adds a cause of doubt to the source that holds an emitter.
func (s *Setup) Doubt(emitter int, d Doubt) {
	for i := range s.Sources {
		if slices.Contains(s.Sources[i].Emitters, emitter) {
			s.Sources[i].Doubts = append(s.Sources[i].Doubts, d)
		}
	}
}

// View is where the camera stands, how it looks and through what lens, in metres.
type View struct {
	At            geometry.Vector
	Basis         geometry.Basis // Z is the way it looks, X right, Y down
	Focal         float64
	Width, Height float64 // of the sensor
	Focus         float64 // distance of the sharp plane, along Z
	Aperture      float64 // diameter of the lens opening; 0: all is sharp
}

// TargetUse is a target with its points found: a level at Point over another point or one of OverKey and OverAmbient; the
// colour of the light at Point; or how far the places of a walk, or the points Across, differ.
type TargetUse struct {
	Point     int   // into Points, or -1
	Walk      int   // into Walks, or -1
	Across    []int // into Points
	Colour    *ColourWish
	Wanted    unit.Stop
	Tolerance unit.Stop
	Bound     Bound
	Over      int
	Weight    float64 // of missing it against others
	By        string  // the lamp that is to meet it; "" if the plan does not say
}

// ColourWish is a wanted distance from the balance, and how near is near enough.
type ColourWish struct{ Wanted, Within unit.Mired }

// IsLevel reports whether the target is a level at a point.
func (t *TargetUse) IsLevel() bool { return t.Point >= 0 && t.Colour == nil }

// Bound says on which side of the wanted level a target binds.
type Bound string

// The bounds.
const (
	At      Bound = "at"
	AtLeast Bound = "at least"
	AtMost  Bound = "at most"
)

// What a target's level is measured over, when it is no other point.
const (
	OverKey     = -1
	OverAmbient = -2
)

// ToneUse is a surface in the light at a point.
type ToneUse struct {
	Name        string
	Material    string
	Reflectance spectrum.Band
	Point       int // into Points
}
