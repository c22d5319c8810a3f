package scene

import (
	"gloam/internal/daylight"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// PairUse is a reading inside and one of the open sky at the same time: what comes in by the openings is still to be held
// against it.
type PairUse struct {
	Receiver Receiver
	Inside   unit.Lux
	Outside  unit.Lux
	Sky      Emitter // of then: open level ground gets 1 lx of it
	Light    spectrum.Curve
	Through  []int // openings; all of them where the plan names none
	Place    fault.Place
	Path     string
}

// pairs are the readings that were taken inside and out.
func (b *builder) pairs(d *Daylight) {
	for i := range b.view.Document.Ambient {
		name, a := b.view.Document.Ambient[i].Name, &b.view.Document.Ambient[i].Value
		if !a.Modelled() || a.Outside == nil {
			continue
		}
		path := document.Path("ambient").Join(name)
		var kind daylight.Kind
		if kind.Parse(a.Sky) != nil {
			panic("scene: a state of the sky that was not checked")
		}
		h, err := d.Hour(b.view.Document.When(a), kind)
		if err != nil {
			b.failed(path, err)
			continue
		}
		use := PairUse{Receiver: b.reading(path, name, a), Inside: a.Reading, Outside: *a.Outside, Light: h.Sky,
			Sky:   Emitter{Name: plan.SkySource, Source: plan.SkySource, Kind: Sky, Patches: h.perLux()},
			Place: b.view.Places.At(path.Join("reading")), Path: string(path.Join("reading"))}
		for o := range b.setup.Scene.Openings {
			if len(a.Through) == 0 {
				use.Through = append(use.Through, o)
			}
		}
		for _, through := range a.Through {
			use.Through = append(use.Through, b.openingOf(through))
		}
		b.setup.Pairs = append(b.setup.Pairs, use)
	}
}
