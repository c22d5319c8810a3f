package unit

import (
	"errors"
	"fmt"
	"strings"
)

// Size2 is a width and a height, each above 0.
type Size2 struct{ Width, Height Metre }

// Size3 is a width, a depth and a height, each above 0.
type Size3 struct{ Width, Depth, Height Metre }

// Parse reads two sides; a unit at the end holds for the side without one.
func (s *Size2) Parse(text string) error {
	sides, err := readSides(text, 2)
	if err == nil {
		*s = Size2{sides[0], sides[1]}
	}
	return err
}

// Forms says how a size is written.
func (Size2) Forms() string { return `width x height such as 1.6 x 1.2 m, 8 x 8 ft, 12'6" x 8'` }

// String returns both sides: 1.60 × 1.20 m.
func (s Size2) String() string { return printMetres(" × ", s.Width, s.Height) }

// Parse reads three sides; a unit at the end holds for the sides without one.
func (s *Size3) Parse(text string) error {
	sides, err := readSides(text, 3)
	if err == nil {
		*s = Size3{sides[0], sides[1], sides[2]}
	}
	return err
}

// Forms says how a size is written.
func (Size3) Forms() string { return `width x depth x height such as 5 x 4 x 2.8 m, 16' x 13' x 9'2"` }

// String returns the three sides: 5.00 × 4.00 × 2.80 m.
func (s Size3) String() string { return printMetres(" × ", s.Width, s.Depth, s.Height) }

// readSides reads lengths with an x between them.
func readSides(text string, count int) ([]Metre, error) {
	const name = "a size"
	whole, err := scan(text, name)
	if err != nil {
		return nil, err
	}
	var sides []measure
	for part := range strings.SplitSeq(whole.rest, "x") {
		s := scanner{rest: strings.TrimSpace(part), alone: true}
		side, ok := s.length()
		if !ok || s.rest != "" {
			return nil, refuse(whole.rest, name)
		}
		sides = append(sides, side)
	}
	if len(sides) != count {
		return nil, fmt.Errorf("has %s, %d are wanted", counted(len(sides), "side"), count)
	}
	lengths, err := resolve(sides)
	if err != nil {
		return nil, err
	}
	for _, l := range lengths {
		if l <= 0 {
			return nil, errors.New("has a side that is not above 0")
		}
	}
	return lengths, nil
}

// resolve returns the measures in metres. The unit at the end holds for those without one.
func resolve(measures []measure) ([]Metre, error) {
	last := measures[len(measures)-1].unit
	lengths := make([]Metre, len(measures))
	for i, m := range measures {
		if m.unit == "" {
			m.unit = last
		} else if last == "" {
			return nil, errors.New("has a unit on some numbers only; write it at the end or on each")
		}
		value, err := length.value(m.number, m.unit)
		if err != nil {
			return nil, err
		}
		lengths[i] = Metre(value)
	}
	return lengths, nil
}

// printMetres returns the lengths to the centimetre with the unit at the end, or to a tenth of a millimetre if all are
// below 0.1 m.
func printMetres(between string, lengths ...Metre) string {
	var largest Metre
	for _, l := range lengths {
		largest = max(largest, l, -l)
	}
	small := 0 < largest && largest < 0.1
	texts := make([]string, len(lengths))
	for i, l := range lengths {
		if small {
			texts[i] = places(float64(l)*1000, 1)
		} else {
			texts[i] = fixed(float64(l), 2)
		}
	}
	if small {
		return strings.Join(texts, between) + " mm"
	}
	return strings.Join(texts, between) + " m"
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
