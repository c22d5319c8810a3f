package gear

import (
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// build makes a lamp of its text, own as written and t with all it takes from others, or returns nil when it has faults.
func (r *reader) build(name string, own, t *lampText) *Lamp {
	path := lampPath(name)
	l := &Lamp{
		Name: name, Title: t.Title, Source: t.Source, Quality: Guess, IP: t.IP, text: *t, at: r.places.At(path),
		Mass: t.Mass.mass(), Power: t.Power.power(), Fan: t.Fan.fan(),
		output: outputCurve(t.Output), dim: dimCurve(t.Dim), duv: optional(t.Duv, 0),
	}
	l.dim.sort()
	if l.Title == "" {
		l.Title = name
	}
	if t.Quality != "" {
		l.Quality = Quality(t.Quality)
	}
	if l.IP == "none" {
		l.IP = ""
	}
	r.colour(path, t, l)
	if opening, ok := r.opening(path, t); ok && t.forms() > 0 {
		l.Opening = opening
		if light := r.light(path, own, t, opening); light != nil {
			l.light = *light
		}
	}
	if t.forms() == 0 {
		r.tell(path, fault.Fault{Text: "its light is missing", Allowed: "one of beams, matt, photometry, like"})
	}
	if !r.clean(path) {
		return nil
	}
	return l
}

// colour sets the reference and makes the output relative to it.
func (r *reader) colour(path document.Path, t *lampText, l *Lamp) {
	if t.Reference == nil {
		r.tell(path.Join("reference"), fault.Fault{Text: "is missing", Allowed: unit.Kelvin(0).Forms(),
			Hint: "colour temperature at which the light is stated"})
		return
	}
	l.Reference = *t.Reference
	if len(l.output) == 0 {
		l.output = curve{{float64(l.Reference.Mired()), 1}}
	}
	l.output.sort()
	at, err := l.Output(l.Reference)
	if err != nil {
		r.tell(path.Join("reference"), fault.Fault{Text: "lies outside the output table", Read: l.Reference.String()})
		return
	}
	for i := range l.output {
		l.output[i].y /= at
		if _, err := spectrum.BiColour(unit.Kelvin(1e6/l.output[i].x), l.duv); err != nil {
			r.tellAll(path.Join("duv"), err)
			return
		}
	}
}

// opening returns the opening a lamp states, or the one its photometric file does.
func (r *reader) opening(path document.Path, t *lampText) (Opening, bool) {
	if t.Opening != nil {
		if t.Opening.Shape == Tube && t.Matt == nil && t.forms() > 0 {
			r.tell(path.Join("opening"), fault.Fault{Text: "a tube is matt: state its light as matt"})
			return Opening{}, false
		}
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
	r.tell(path.Join("opening"), fault.Fault{Text: "is missing", Allowed: Opening{}.Forms()})
	return Opening{}, false
}

// outputCurve returns the table of output against mired, unsorted; its names have been checked.
func outputCurve(table document.Named[unit.Fraction]) curve {
	var c curve
	for _, e := range table {
		var k unit.Kelvin
		_ = k.Parse(e.Name)
		c = append(c, point{float64(k.Mired()), float64(e.Value)})
	}
	return c
}

// dimCurve returns the table of light against the control, unsorted, with 0 % at 0 % and 100 % at 100 % where these are not
// written; its names have been checked. Without a table light is in proportion.
func dimCurve(table document.Named[unit.Fraction]) curve {
	var c curve
	var bottom, top bool
	for _, e := range table {
		var dim unit.Fraction
		_ = dim.Parse(e.Name)
		c = append(c, point{float64(dim), float64(e.Value)})
		bottom, top = bottom || dim == 0, top || dim == 1
	}
	if !bottom {
		c = append(c, point{0, 0})
	}
	if !top {
		c = append(c, point{1, 1})
	}
	return c
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
