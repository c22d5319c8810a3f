package unit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// dimension is one kind of quantity: its units and its range.
type dimension struct {
	name      string             // with its article
	symbol    string             // of the inner unit, as printed in messages, with its blank
	units     map[string]float64 // inner units in one of each; "" is a plain number
	low, high float64            // range in inner units, inclusive
}

// dimensions returns every kind, so that a unit of the wrong kind is recognised.
func dimensions() []*dimension {
	return []*dimension{
		&length, &angle, &illuminance, &luminance, &intensity, &flux, &temperature, &reciprocal, &stops, &share,
		&speed, &frameRate, &duration, &minutes, &frequency, &power, &mass, &sound, &calibration, &extinction,
	}
}

// set parses text, which may begin with one of the marks, into value.
func set[T ~float64](value *T, d *dimension, text string, marks ...string) error {
	read, err := d.read(text, marks...)
	if err == nil {
		*value = T(read)
	}
	return err
}

// read returns the one quantity that text holds, in inner units.
func (d *dimension) read(text string, marks ...string) (float64, error) {
	n, unit, err := split(text, d.name, marks...)
	if err != nil {
		return 0, err
	}
	return d.value(n, unit)
}

// split returns the number that text begins with and the unit behind it. The text may begin with one of the marks.
func split(text, name string, marks ...string) (number, string, error) {
	s, err := scan(text, name)
	if err != nil {
		return number{}, "", err
	}
	cleaned := s.rest
	s.rest, _ = cutAny(s.rest, marks...)
	n, ok := s.number()
	if !ok {
		return number{}, "", refuse(cleaned, name)
	}
	return n, word(s.rest), nil
}

// scan returns a scanner over the text of one quantity.
func scan(text, name string) (scanner, error) {
	if len(text) > longest {
		return scanner{}, fmt.Errorf("is too long for %s", name)
	}
	s := scanner{rest: clean(text), alone: true}
	if s.rest == "" {
		return scanner{}, errors.New("is empty")
	}
	return s, nil
}

var powers = strings.NewReplacer("^2", "2", "^-1", "-1")

// word returns a unit as it stands in the tables: without blanks around it, powers as plain digits, `ft.` as `ft`.
func word(text string) string {
	text = powers.Replace(strings.TrimSpace(text))
	if len(text) > 1 {
		text = strings.TrimSuffix(text, ".")
	}
	return text
}

// value returns the number in inner units, or why it is none of this dimension.
func (d *dimension) value(n number, unit string) (float64, error) {
	factor, ok := d.units[unit]
	if !ok {
		return 0, d.wrong(unit)
	}
	return d.within(n, factor)
}

// wrong says what a unit is that is none of this dimension's.
func (d *dimension) wrong(unit string) error {
	for _, other := range dimensions() {
		if _, ok := other.units[unit]; ok && unit != "" {
			return fmt.Errorf("is %s, %s is wanted", other.name, d.name)
		}
	}
	if strings.HasPrefix(unit, ":") {
		return fmt.Errorf("is not %s; a colon stands in a time of day", d.name)
	}
	if strings.ContainsAny(unit, "0123456789") {
		return fmt.Errorf("is not %s; %q is left over", d.name, unit)
	}
	return fmt.Errorf("is not %s; %q is not known as its unit", d.name, unit)
}

// within returns the number in inner units if it is finite, inside the range and has one meaning.
func (d *dimension) within(n number, factor float64) (float64, error) {
	value := n.value
	if factor != 1 {
		value = tidy(value * factor)
	}
	if large := value * 1000; n.comma && d.holds(large) {
		if d.holds(value) {
			return 0, fmt.Errorf("may mean %v or %v; write one of these", n.value, n.value*1000)
		}
		value = large
	}
	switch {
	case math.IsNaN(value) || math.IsInf(value, 0):
		return 0, errors.New("is not a finite number")
	case value < d.low:
		return 0, fmt.Errorf("%s is below %s", d.print(value), d.print(d.low))
	case value > d.high:
		return 0, fmt.Errorf("%s is above %s", d.print(value), d.print(d.high))
	}
	return value, nil
}

// tidy drops what binary arithmetic adds behind the fifteenth figure: 380 cm is 3.8 m.
func tidy(x float64) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64) // reads what it has just printed
	return rounded
}

func (d *dimension) holds(value float64) bool { return d.low <= value && value <= d.high }

// print returns the value in the inner unit, for messages.
func (d *dimension) print(value float64) string {
	if math.Abs(value) >= 1e12 {
		return strconv.FormatFloat(value, 'g', 3, 64) + d.symbol
	}
	return figures(value, 6) + d.symbol
}

// prefixes are what quantities with a leading mark begin with.
var prefixes = []struct{ mark, name string }{
	{"t", "a T-stop"}, {"f/", "an f-number"}, {"nd", "a neutral density"}, {"ei", "an exposure index"}, {"iso", "an exposure index"},
}

// refuse says what a text is that does not begin with a number.
func refuse(cleaned, name string) error {
	for _, p := range prefixes {
		rest, found := strings.CutPrefix(cleaned, p.mark)
		if found && p.name != name && digits(strings.TrimLeft(rest, " .,")) > 0 {
			return fmt.Errorf("is %s, %s is wanted", p.name, name)
		}
	}
	return fmt.Errorf("is not %s", name)
}

// cutAny removes the first of the marks that text begins with, and the blanks behind it.
func cutAny(text string, marks ...string) (string, bool) {
	i := slices.IndexFunc(marks, func(m string) bool { return strings.HasPrefix(text, m) })
	if i < 0 {
		return text, false
	}
	return strings.TrimLeft(text[len(marks[i]):], " "), true
}
