package gear

import (
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// build makes a lamp of its text, own as written and t with all it takes from others, or returns nil when it has faults.
func (r *reader) build(name string, own, t *lampText) *Lamp {
	path := lampPath(name)
	if r.broken(path, own) {
		return nil
	}
	l := &Lamp{
		Name: name, Title: t.Title, Source: t.Source, Quality: Guess, IP: t.IP, text: *t, at: r.places.At(path),
		Mass: t.Mass.mass(), Power: t.Power.power(), Fan: t.Fan.fan(), duv: optional(t.Duv, 0),
	}
	if l.Title == "" {
		l.Title = name
	}
	if t.Quality != "" {
		l.Quality = Quality(t.Quality)
	}
	if l.IP == "none" {
		l.IP = ""
	}
	if r.clean(path, "dim") {
		l.dim = dimCurve(t.Dim)
		l.dim.sort()
	}
	r.colour(path, t, l)
	r.shine(path, own, t, l)
	if !r.clean(path) {
		return nil
	}
	return l
}

// colour sets the reference and makes the output relative to it.
func (r *reader) colour(path document.Path, t *lampText, l *Lamp) {
	if !r.clean(path, "reference", "output", "duv") {
		return
	}
	if t.Reference == nil {
		r.tell(path.Join("reference"), fault.Fault{Text: "is missing", Allowed: unit.Kelvin(0).Forms(),
			Hint: "colour temperature at which the light is stated"})
		return
	}
	l.Reference = *t.Reference
	l.output = outputCurve(t.Output)
	if len(l.output) == 0 {
		l.output = curve{{float64(l.Reference.Mired()), 1}}
	}
	l.output.sort()
	at, err := l.Output(l.Reference)
	if err != nil {
		r.tell(path.Join("reference"), fault.Fault{Text: "lies outside the output table", Read: l.Reference.String()})
		return
	}
	blamed := path.Join("duv")
	if l.emission = r.emission(path, t); !r.clean(path, "engines", "emitters") {
		return
	}
	if t.Engines != nil {
		blamed = path.Join("engines")
	}
	for i := range l.output {
		l.output[i].y /= at
		if _, err := l.Light(unit.Kelvin(1e6/l.output[i].x), nil); err != nil {
			r.tellAll(blamed, err)
			return
		}
	}
}

// shine sets the opening and the light.
func (r *reader) shine(path document.Path, own, t *lampText, l *Lamp) {
	lit := r.clean(path, "beams", "matt", "photometry", "engine") && t.forms() < 2
	if lit && t.forms() == 0 {
		r.tell(path, fault.Fault{Text: "its light is missing", Allowed: "one of beams, matt, photometry, like"})
		lit = false
	}
	if !r.clean(path, "opening", "photometry") {
		return
	}
	var ok bool
	l.Opening, ok = opening(t)
	switch {
	case !ok:
		r.tell(path.Join("opening"), fault.Fault{Text: "is missing", Allowed: Opening{}.Forms()})
	case !lit:
	case l.Opening.Shape == Tube && t.Matt == nil:
		r.tell(path.Join("opening"), fault.Fault{Text: "a tube is matt: its light is stated as matt"})
	default:
		if made := r.light(path, own, t, l.Opening); made != nil {
			l.light = *made
		}
	}
}

// opening returns the opening a lamp states, or the one its photometric file does.
func opening(t *lampText) (Opening, bool) {
	if t.Opening != nil {
		return *t.Opening, true
	}
	if t.file != nil {
		switch o := t.file.Opening; {
		case o.Shape == photometry.Circle && o.Width > 0:
			return Opening{Shape: Disc, Diameter: o.Width}, true
		case o.Shape == photometry.Rectangle && o.Width > 0 && o.Length > 0:
			return Opening{Shape: Rectangle, Width: o.Length, Height: o.Width}, true
		}
	}
	return Opening{}, false
}

func (m *massText) mass() *Mass {
	if m == nil || m.Head == nil {
		return nil
	}
	return &Mass{*m.Head, optional(m.Supply, 0), optional(m.Accessory, 0)}
}

// usualLeakage is what a lamp with an earthed plug may leak, taken where the kit is silent (common practice, no source).
const usualLeakage Milliampere = 3.5

func (p *powerText) power() *Power {
	if p == nil || p.Full == nil || p.Factor == nil {
		return nil
	}
	return &Power{optional(p.Standby, 0), *p.Full, *p.Factor, optional(p.Leakage, usualLeakage)}
}

func (f *fanText) fan() *Fan {
	if f == nil || f.Noise == nil {
		return nil
	}
	fan := &Fan{Noise: *f.Noise}
	if f.Quiet != nil && f.Most != nil {
		fan.Quiet = &QuietMode{*f.Quiet, *f.Most}
	}
	return fan
}

// optional returns what is written, or what holds without.
func optional[T any](written *T, without T) T {
	if written == nil {
		return without
	}
	return *written
}
