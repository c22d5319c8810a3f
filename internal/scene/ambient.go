package scene

import (
	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
)

func (b *builder) ambient() {
	for i := range b.view.Document.Ambient {
		a := &b.view.Document.Ambient[i]
		if a.Value.Modelled() {
			continue // it corrects the model's daylight
		}
		b.ambientSource(document.Path("ambient").Join(a.Name), a.Name, &a.Value)
	}
}

func (b *builder) ambientSource(path document.Path, name string, a *plan.Ambient) {
	e := Emitter{Name: name, Source: name, Overcast: a.Shape == "overcast"}
	switch a.Shape {
	case "sun":
		e.Kind = Sun
		e.Toward = b.places.Sky(*a.Azimuth, *a.Altitude)
	case "everywhere":
		e.Kind = Everywhere
	default:
		e.Kind = Sky
	}
	for _, through := range a.Through {
		if o := b.openingOf(through); o >= 0 {
			e.Through = append(e.Through, o)
		}
	}
	dial := Dial{Level: 1, Light: b.light(path, a.Spectrum, a.Colour, a.Duv, spectrum.Sky), Gel: Clear}
	id := b.emit(e, dial, Source{Name: name, Ambient: true, Doubts: []Doubt{{"the day against " + name, *a.Doubt}}})
	b.ripples(id, a.Ripple)
	b.setup.Ambients = append(b.setup.Ambients, AmbientUse{
		Emitter: id, Receiver: b.reading(path, name, a), Reading: a.Reading, Seen: a.Luminance,
		Place: b.view.Places.At(path.Join("reading")), Path: string(path.Join("reading")),
	})
}

func (b *builder) openingOf(name string) int {
	for i, o := range b.setup.Scene.Openings {
		if o.Name == name {
			return i
		}
	}
	return -1
}

// reading is the receptor with which an ambient was read.
func (b *builder) reading(path document.Path, name string, a *plan.Ambient) Receiver {
	r := Receiver{Name: "reading of " + name, Kind: receptor(a.Receptor)}
	if a.Point != "" {
		own, _ := b.receiver(plan.ParseName(a.Point)) // one that has no place is told of itself
		r.Position, r.Normal = own.Position, own.Normal
	}
	if a.At != nil {
		r.Position = b.meter(path.Join("at"), a.At, a.Height)
	}
	if a.Faces != nil {
		r.Normal = b.toward(path.Join("faces"), a.Faces, r.Position)
	}
	return r
}

func receptor(word string) ReceptorKind {
	return map[string]ReceptorKind{"flat": Flat, "dome": Dome, "spot": Spot}[word]
}
