package unit

import (
	"math"
	"strings"
)

// Metre is a length in metres.
type Metre float64

// Foot is a length in feet.
type Foot float64

const (
	foot = 0.3048 // metres, exact by definition
	inch = foot / 12
)

var length = dimension{
	name: "a length", symbol: " m", low: -10_000, high: 10_000,
	units: map[string]float64{
		"": 1, "m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "cm": 0.01, "mm": 0.001, "km": 1000,
		"'": foot, "ft": foot, "foot": foot, "feet": foot, `"`: inch, "in": inch, "inch": inch, "inches": inch,
	},
}

// Parse reads a length of at most 10 km either way; a plain number is in metres.
func (m *Metre) Parse(text string) error {
	s, err := scan(text, length.name)
	if err != nil {
		return err
	}
	l, ok := s.length()
	if !ok {
		return refuse(s.rest, length.name)
	}
	value, err := length.value(l.number, word(l.unit+s.rest))
	if err == nil {
		*m = Metre(value)
	}
	return err
}

// Forms says how a length is written.
func (Metre) Forms() string { return `a length such as 3.8 m, 380 cm, 12'6", 8 ft` }

// Feet returns the length in feet.
func (m Metre) Feet() Foot { return Foot(m / foot) }

// String returns the length to the centimetre, or to a tenth of a millimetre below 0.1 m: 3.80 m, 25 mm.
func (m Metre) String() string {
	if millimetres := float64(m) * 1000; m != 0 && math.Abs(millimetres) < 100 {
		return places(millimetres, 1) + " mm"
	}
	return fixed(float64(m), 2) + " m"
}

// WithFeet returns the length in both systems: 3.81 m (12′6″).
func (m Metre) WithFeet() string { return m.String() + " (" + m.Feet().String() + ")" }

// String returns the length to the half inch: 12′6″, 8′, 6½″.
func (f Foot) String() string {
	halves := math.Round(math.Abs(float64(f)) * 24)
	if math.IsNaN(halves) || math.IsInf(halves, 0) {
		return places(float64(f), 0)
	}
	whole := math.Floor(halves / 24)
	inches := places(math.Floor(halves/2)-12*whole, 0)
	if math.Mod(halves, 2) == 1 {
		inches = strings.TrimPrefix(inches, "0") + "½"
	}
	var text string
	switch {
	case whole == 0:
		text = inches + "″"
	case inches == "0":
		text = places(whole, 0) + "′"
	default:
		text = places(whole, 0) + "′" + inches + "″"
	}
	if f < 0 && halves > 0 {
		text = "−" + text
	}
	return text
}

// measure is a length as written, before its unit is resolved.
type measure struct {
	number
	unit string
}

// length reads a number and the unit behind it, if there is one: `3.8 m`, `12'6"`, `12' 6 1/2"`, `5`.
func (s *scanner) length() (measure, bool) {
	n, ok := s.number()
	if !ok {
		return measure{}, false
	}
	l := measure{n, s.lengthUnit()}
	if length.units[l.unit] == foot {
		if inches, ok := s.inches(); ok {
			l.value += math.Copysign(inches/12, l.value)
			l.comma = false
		}
	}
	return l, true
}

// lengthUnit reads a foot or inch mark or a word of letters, or nothing.
func (s *scanner) lengthUnit() string {
	text := strings.TrimLeft(s.rest, " ")
	end := strings.IndexFunc(text, func(r rune) bool { return r < 'a' || r > 'z' })
	switch {
	case text != "" && strings.Contains(`'"`, text[:1]):
		end = 1
	case end < 0:
		end = len(text)
	case end == 0:
		return ""
	}
	s.rest = text[end:]
	return text[:end]
}

// inches reads the inches behind feet: `6"`, ` 6 1/2 in`, `-6"`, and `6` if it touches the foot mark.
func (s *scanner) inches() (float64, bool) {
	after := scanner{rest: s.rest, alone: true}
	touches := after.rest != "" && after.rest[0] != ' ' && !after.take("-")
	after.skipBlanks()
	n, ok := after.number()
	if !ok || n.signed || n.value >= 12 {
		return 0, false
	}
	unit := after.lengthUnit()
	if length.units[unit] != inch && !(touches && unit == "") {
		return 0, false
	}
	s.rest = after.rest
	return n.value, true
}
