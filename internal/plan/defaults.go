package plan

import (
	"reflect"
	"strconv"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/unit"
)

// What follows from no tag, since it hangs on other fields (common practice, no source).
const (
	fileWhite      unit.Kelvin = 5600 // of a lamp of which only a photometric file is known
	practicalWhite unit.Kelvin = 2700
	flameWhite     unit.Kelvin = 1900
	flameFlux      unit.Lumen  = 13
	flameDiameter  unit.Metre  = 0.015
	meterHeld      unit.Stop   = 0.1 // doubt of a good incident meter on level ground
)

// settle gives every absent field its default, but for places: those of openings are HoleIn's, the camera's focus is what
// it looks at.
func (p *Plan) settle(d *Document) {
	for i := range d.Lamps {
		p.settleLamp(&d.Lamps[i].Value)
	}
	for i := range d.Practicals {
		d.Practicals[i].Value.settle()
	}
	for i := range d.Targets {
		d.Targets[i].item = i
	}
	for i := range d.Ambient {
		d.settleDaylight(&d.Ambient[i].Value)
	}
	for i := range d.Ambient {
		d.Ambient[i].Value.settleColour()
	}
	setDefaults(reflect.ValueOf(d).Elem())
	for i := range d.Ambient {
		d.settleReceptor(&d.Ambient[i].Value)
	}
}

// settleLamp gives a lamp in the quiet mode what that mode allows, and any lamp the colour its figures are stated at.
func (p *Plan) settleLamp(l *Lamp) {
	colour := fileWhite
	if k, ok := p.Kit.Lamp(l.Kit); ok {
		colour = k.Reference
		if l.Mode == gear.Quiet {
			settle(&l.Dim, k.MaxDim(l.Mode))
		}
	}
	settle(&l.Colour, colour)
}

// settle gives a practical its colour, and a candle what a flame has.
func (p *Practical) settle() {
	if p.Kind != "candle" {
		if p.Spectrum == "" {
			settle(&p.Colour, practicalWhite)
		}
		return
	}
	if p.Spectrum == "" {
		settle(&p.Colour, flameWhite)
	}
	settle(&p.Diameter, flameDiameter)
	if p.Luminance == nil {
		settle(&p.Flux, flameFlux)
	}
}

// settle gives a field that is absent a value.
func settle[T any](field **T, value T) {
	if *field == nil {
		*field = &value
	}
}

// settleReceptor gives a reading the receptor of the point where it was read.
func (d *Document) settleReceptor(a *Ambient) {
	if a.Receptor != "" {
		return
	}
	a.Receptor = "flat"
	if p, ok := d.Points.Get(a.Point); ok {
		a.Receptor = p.Receptor
	}
}

// settleDaylight gives a reading of daylight the day and the sky of the plan.
func (d *Document) settleDaylight(a *Ambient) {
	if a.Shape != daylightShape {
		return
	}
	settle(&a.Doubt, meterHeld)
	if d.Date != nil {
		settle(&a.Date, *d.Date)
	}
	if a.Sky == "" && d.Sky != nil {
		a.Sky = d.Sky.String()
	}
}

// setDefaults puts into every field that is absent the value of its default tag. Absent is nil where the field is a
// pointer, and the zero value where it is not: there the tag stands only where zero means nothing.
func setDefaults(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			setDefaults(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			setDefaults(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			field := v.Type().Field(i)
			if text, ok := field.Tag.Lookup("default"); ok && v.Field(i).IsZero() {
				setText(v.Field(i), text)
			}
			if field.IsExported() {
				setDefaults(v.Field(i))
			}
		}
	}
}

// setText sets a field to the value a default tag writes.
func setText(v reflect.Value, text string) {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	var err error
	switch to := v.Addr().Interface().(type) {
	case document.Text:
		err = to.Parse(text)
	case *string:
		*to = text
	case *float64:
		*to, err = strconv.ParseFloat(text, 64)
	default:
		panic("plan: a default for a type that can have none")
	}
	if err != nil {
		panic("plan: a default that cannot be read")
	}
}
