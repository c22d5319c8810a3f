package gear

import (
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// ClothKind is what a cloth makes of light.
type ClothKind string

// The kinds of cloth.
const (
	Heavy ClothKind = "heavy" // a new even source, on either side
	Light ClothKind = "light" // part of the light goes straight on, part is scattered
	Black ClothKind = "black" // takes light away
)

// Cloth is bounce, diffusion or black by the square metre. Shares are of daylight as the eye weighs it.
type Cloth struct {
	Name    string
	Also    []string // further names
	Source  string   // where the figures come from, as the kit says
	Quality Quality
	Kind    ClothKind

	Through     unit.Fraction  // heavy: matt, either way
	Front, Back unit.Fraction  // reflectances, matt
	Loss        unit.Stop      // light: of what goes straight on
	Spread      unit.Degree    // light: full angle at 50 % into which a straight ray widens; 0 is none
	Forward     unit.Fraction  // light: scattered on, matt
	Shift       unit.Mired     // of all that leaves it
	Mass        *unit.Kilogram // of a square metre; nil is unknown

	at     fault.Place
	optics Optics
}

func (c *Cloth) names() []string { return append([]string{c.Name}, c.Also...) }

// straight returns the share that goes straight on.
func (c *Cloth) straight() float64 {
	if c.Kind != Light {
		return 0
	}
	return (-c.Loss).Factor()
}

// cloths builds every cloth of the kit file.
func (r *reader) cloths() []*Cloth {
	seen := map[string]string{}
	var built []*Cloth
	for i, e := range r.kit.Cloths {
		path := clothPath(e.Name)
		r.twice(seen, e.Name, path)
		for j, name := range e.Value.Also {
			r.twice(seen, name, path.Join("also").Item(j))
		}
		if c := r.cloth(path, e.Name, &r.kit.Cloths[i].Value); c != nil {
			built = append(built, c)
		}
	}
	return built
}

func clothPath(name string) document.Path { return document.Path("cloths").Join(name) }

// cloth makes a cloth of its text, or returns nil when it has faults.
func (r *reader) cloth(path document.Path, name string, t *clothText) *Cloth {
	kind := ClothKind(t.Kind)
	if kind == "" {
		return nil // told already
	}
	r.belongs(path, t)
	c := &Cloth{
		Name: name, Also: t.Also, Source: t.Source, Quality: Guess, Kind: kind, Mass: t.Mass, at: r.places.At(path),
		Through: optional(t.Through, 0), Front: optional(t.Front, 0), Loss: optional(t.Loss, 0),
		Spread: optional(t.Spread, 0), Forward: optional(t.Forward, 0), Shift: optional(t.Shift, 0),
	}
	c.Back = optional(t.Back, c.Front)
	if kind == Light {
		c.Front = optional(t.Return, 0)
		c.Back = c.Front
	}
	if t.Quality != "" {
		c.Quality = Quality(t.Quality)
	}
	if r.clean(path, "through", "front", "back", "loss", "forward", "return") {
		r.energy(path, c)
	}
	if r.clean(path) {
		r.tint(path, c, t)
	}
	if !r.clean(path) {
		return nil
	}
	return c
}

// belongs tells what is missing for the kind of cloth, and what does not belong to it.
func (r *reader) belongs(path document.Path, t *clothText) {
	heavy, light, black := t.Kind == "heavy", t.Kind == "light", t.Kind == "black"
	for _, f := range []struct {
		name             string
		written          bool
		required, barred bool
		forms            string
	}{
		{"through", t.Through != nil, heavy, !heavy, unit.Fraction(0).Forms()},
		{"front", t.Front != nil, heavy || black, light, unit.Fraction(0).Forms()},
		{"back", t.Back != nil, false, light, ""},
		{"loss", t.Loss != nil, light, !light, unit.Stop(0).Forms()},
		{"spread", t.Spread != nil, false, !light, ""},
		{"forward", t.Forward != nil, false, !light, ""},
		{"return", t.Return != nil, false, !light, ""},
	} {
		at := path.Join(f.name)
		switch {
		case f.written && f.barred:
			r.tell(at, fault.Fault{Text: "does not belong to a " + t.Kind + " cloth"})
		case !f.written && f.required && r.clean(at):
			r.tell(at, fault.Fault{Text: "is missing", Allowed: f.forms})
		}
	}
	if t.Loss != nil && *t.Loss < 0 {
		r.tell(path.Join("loss"), fault.Fault{Text: "is below 0", Hint: "a loss is written without a minus"})
	}
	if t.Spread != nil && !(*t.Spread >= 0 && *t.Spread <= 90) {
		r.tell(path.Join("spread"), fault.Fault{Text: "is not possible", Read: t.Spread.String(), Allowed: "0 to 90°"})
	}
	if t.Shift != nil && t.Material != "" {
		r.tell(path, fault.Fault{Text: "the colour is written in two ways", Allowed: "shift or material"})
	}
	if names := spectrum.MaterialNames(); t.Material != "" && !slices.Contains(names, t.Material) {
		r.tell(path.Join("material"), fault.Fault{Text: "no material of that name", Read: t.Material, Hint: fault.Meant(t.Material, names)})
	}
}
