// Package scene turns a plan into what light meets: surfaces, emitters and receivers.
//
// A Scene is geometry and materials, which cost rays, apart from dials, which cost none: each emitter is built at full
// output, and its level, colour and gels are a Dial. World axes: x east-ish and y north-ish as the plan draws them,
// z up, metres.
package scene

import (
	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Scene is one set-up, ready for light.
type Scene struct {
	Surfaces  []Surface
	Emitters  []Emitter
	Openings  []Opening
	Cloths    []string // pieces of cloth by name; a path remembers which it met
	Receivers []Receiver
	Haze      *Haze // nil: clear air
}

// Haze is what hangs evenly in the air of a box and scatters light.
type Haze struct {
	Low, High  geometry.Vector // corners of the box
	Extinction float64         // share of light lost on a short way, per m
	Albedo     float64         // share of that which is scattered and not swallowed
	Forward    float64         // mean cosine of the angle of scattering, −1 to 1
}

// Surface is a mesh with one behaviour. Its front is the side from which its triangles run counter-clockwise.
type Surface struct {
	Name    string
	Mesh    geometry.Mesh
	Optics  Optics
	Cloth   int // index into Scene.Cloths, or -1
	Opening int // index into Scene.Openings, or -1: whatever passes it came in by that opening
}

// Optics is what a surface does with light, as shares by band. Shares that leave one side sum to at most 1; the rest is
// absorbed.
type Optics struct {
	ReflectFront spectrum.Band // matt, light that came to the front
	ReflectBack  spectrum.Band // matt, light that came to the back
	Transmit     spectrum.Band // matt, out of the other side
	Straight     spectrum.Band // passes on unbent, or within Spread
	Spread       float64       // full angle in radians at which the straight part falls to half; 0: unbent
	Mirror       spectrum.Band // reflected as in a mirror, both sides
	Panes        int           // clear glass panes: Fresnel shares, both sides; 0: none
	PaneClarity  float64       // share a pane passes inside itself at normal incidence: 1 is lossless
}

// Void is the optics of an opening without glass.
func Void() Optics {
	o := Optics{}
	for b := range o.Straight {
		o.Straight[b] = 1
	}
	return o
}

// Matt is the optics of a surface that reflects alike on both sides.
func Matt(reflectance spectrum.Band) Optics {
	return Optics{ReflectFront: reflectance, ReflectBack: reflectance}
}

// Passes reports whether some light goes through unbent, so that a shadow ray must weigh the surface instead of ending.
func (o *Optics) Passes() bool {
	return o.Panes > 0 || (o.Spread == 0 && o.Straight != spectrum.Band{})
}

// Opening is a rectangular hole: a door between inside and out for light, and a place to look for the sky.
type Opening struct {
	Name   string
	Centre geometry.Vector
	U, V   geometry.Vector // half sides, at right angles
	Gel    spectrum.Curve  // a dial: what the gel on it passes
}

// Kind of emitter.
type Kind int

const (
	// Lamp is an opening of stated form that sends a measured far field from each part of it.
	Lamp Kind = iota
	// Sky is light from all directions above the horizon. Unit: a zenith luminance of 1 cd/m².
	Sky
	// Sun is light from one direction, spread over the sun's disc. Unit: 1 lx square-on.
	Sun
	// Everywhere is equal at every point and facing, untraced. Unit: 1 lx.
	Everywhere
)

// Emitter is anything that sends light, at full output, colour aside.
type Emitter struct {
	Name   string // unique
	Source string // what the crew names
	Kind   Kind

	// Lamp: the opening and its far field in cd. The apparent source may lie behind the front by Offset; the rays leave
	// at the front.
	Form   Form
	Centre geometry.Vector // of the front
	Basis  geometry.Basis  // Z is the axis
	Offset float64         // m
	Beam   photometry.Distribution
	// Globe and Tube without a Beam send evenly from all over, cd/m².
	Luminance float64

	Patches  *[daylight.PatchCount]float64 // Sky: luminance of each patch for a unit, instead of a formula
	Overcast bool                          // Sky: (1+2 sin γ)/3 of the zenith's luminance instead of uniform
	Through  []int                         // Sky, Everywhere: openings it comes in by; nil: any way
	Seen     float64                       // Sky, Everywhere: cd/m² for a unit, where an eye looks out at it; 0: what it sends, if it does
	Toward   geometry.Vector               // Sun: direction to it
}

// Form is the shape a lamp's light leaves from.
type Form struct {
	Shape  Shape
	Radius float64 // m: disc, globe, tube
	Width  float64 // m: panel, along the basis' X
	Height float64 // m: panel, along Y; tube: its length, along X
}

// Shape names a form.
type Shape int

const (
	// Disc is a round opening facing the axis.
	Disc Shape = iota
	// Panel is a rectangular opening facing the axis.
	Panel
	// Globe is a sphere: of even luminance, or with a far field for all sides.
	Globe
	// Tube is a cylinder of even luminance along the basis' X, its ends dark.
	Tube
)

// Dial is what a crew changes without moving anything.
type Dial struct {
	Level float64        // share of full output, or an ambient's strength
	Light spectrum.Curve // relative power of the bare source
	Gel   spectrum.Curve // on the head
}

// ReceptorKind says how a receiver weighs directions.
type ReceptorKind int

const (
	// Flat weighs by the cosine: illuminance.
	Flat ReceptorKind = iota
	// Dome weighs by (1+cos)/2 over the whole sphere, as a hemispherical meter does.
	Dome
	// Spot looks one way: luminance.
	Spot
)

// String returns the receptor's word in plan and print.
func (k ReceptorKind) String() string { return [...]string{"flat", "dome", "spot"}[k] }

// Receiver is a place where light is wanted.
type Receiver struct {
	Name     string
	Kind     ReceptorKind
	Position geometry.Vector // Spot: where the eye is
	Normal   geometry.Vector // what it faces; Spot: the way it looks
}

// SunRadius is the mean angular radius of the sun's disc in degrees: IAU nominal solar radius at 1 au.
const SunRadius unit.Degree = 0.2666

// Clear is no gel.
var Clear = spectrum.Flat(1)
