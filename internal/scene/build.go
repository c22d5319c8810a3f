package scene

import (
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
)

// Build makes a set-up of a plan ready for light. With black surroundings room, ground, objects, people and the backs of
// cloths give no light back, as sums by hand assume. Faults are those that only show once things stand in their places.
func Build(view *plan.View, black bool) (*Setup, fault.List) { return build(view, black, false) }

// BuildPicture makes a set-up ready for a picture, which sees a model's sky of one hour and needs no other.
func BuildPicture(view *plan.View, black bool) (*Setup, fault.List) { return build(view, black, true) }

func build(view *plan.View, black, whole bool) (*Setup, fault.List) {
	b := &builder{view: view, black: black, whole: whole, setup: &Setup{Name: view.Name, Scene: &Scene{}}, places: plan.NewLocator(&view.Document)}
	b.lit()
	b.camera()
	b.rooms()
	b.ground()
	b.haze()
	b.objects()
	b.people()
	b.cloths()
	b.lamps()
	b.practicals()
	b.ambient()
	b.daylight()
	b.points()
	b.walks()
	b.targets()
	b.tones()
	return b.setup, b.faults
}

// builder carries the set-up while it grows.
type builder struct {
	view   *plan.View
	setup  *Setup
	black  bool
	whole  bool // a model's sky is one emitter, not one a patch
	places *plan.Locator
	faults fault.List
}

// lit tells where nothing shines. A plan may be drawn before it is lit, so this is no fault of its text.
func (b *builder) lit() {
	d := &b.view.Document
	if len(d.Lamps)+len(d.Practicals)+len(d.Ambient) == 0 && d.Sky == nil {
		b.book(fault.Fault{Place: b.view.Places.At(""), Path: string(b.view.Path), Text: "there is no source of light",
			Allowed: "one or more under lamps, practicals or ambient, or a sky"})
	}
}

// fail books a fault at the place of a path in the plan.
func (b *builder) fail(path document.Path, text, read, allowed string) {
	b.book(fault.Fault{Place: b.view.Places.At(path), Path: string(path), Text: text, Read: read, Allowed: allowed})
}

// book adds a fault once: a thing that others hang on is placed again for each of them.
func (b *builder) book(f fault.Fault) {
	if !slices.Contains(b.faults, f) {
		b.faults = append(b.faults, f)
	}
}

// failed books an error from below at the place of a path in the plan.
func (b *builder) failed(path document.Path, err error) {
	for _, f := range fault.Of(err, fault.Input) {
		if f.Place == (fault.Place{}) {
			f.Place = b.view.Places.At(path)
		}
		if f.Path == "" {
			f.Path = string(path)
		}
		b.book(f)
	}
}

// add puts a surface that is neither cloth nor opening into the scene.
func (b *builder) add(name string, m geometry.Mesh, o Optics) {
	b.setup.Scene.Surfaces = append(b.setup.Scene.Surfaces, Surface{Name: name, Mesh: m, Optics: o, Cloth: -1, Opening: -1})
}

// surroundings is the optics of something that is not there to work: black when so asked.
func (b *builder) surroundings(o Optics) Optics {
	if !b.black {
		return o
	}
	o.ReflectFront, o.ReflectBack, o.Mirror = spectrum.Band{}, spectrum.Band{}, spectrum.Band{}
	return o
}

// material is the optics of a named surface, as surroundings.
func (b *builder) material(path document.Path, name string) Optics {
	o, err := surfaceOptics(&b.view.Document, name)
	if err != nil {
		b.failed(path, err)
	}
	return b.surroundings(o)
}
