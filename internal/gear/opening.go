package gear

import (
	"errors"
	"math"
	"strings"

	"gloam/internal/unit"
)

// Shape is the form a lamp's light leaves from.
type Shape int

const (
	// Disc is round and faces the way the lamp is aimed.
	Disc Shape = iota
	// Rectangle faces the way the lamp is aimed.
	Rectangle
	// Tube is a matt cylinder, square-on to the way the lamp is aimed, that sends light from all round.
	Tube
)

// Opening is what a lamp's light leaves from: it makes the softness of shadows. A disc has a diameter, a rectangle a width
// and a height, a tube a width (its length) and a diameter; the rest is 0.
type Opening struct {
	Shape                   Shape
	Diameter, Width, Height unit.Metre
}

// Parse reads `disc 0.30 m`, `0.60 x 0.30 m`, `tube 1.2 x 0.04 m`.
func (o *Opening) Parse(text string) error {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.EqualFold(word, "disc") {
		var d unit.Metre
		if err := d.Parse(rest); err != nil {
			return err
		}
		if d <= 0 {
			return errors.New("has a diameter that is not above 0")
		}
		*o = Opening{Shape: Disc, Diameter: d}
		return nil
	}
	tube := strings.EqualFold(word, "tube")
	if !tube {
		rest = text
	}
	var size unit.Size2
	if err := size.Parse(rest); err != nil {
		return err
	}
	*o = Opening{Shape: Rectangle, Width: size.Width, Height: size.Height}
	if tube {
		*o = Opening{Shape: Tube, Width: size.Width, Diameter: size.Height}
	}
	return nil
}

// Forms says how an opening is written.
func (Opening) Forms() string {
	return "an opening: disc 0.30 m, 0.60 x 0.30 m, tube 1.2 x 0.04 m (length x diameter)"
}

// String returns the opening as Parse reads it.
func (o Opening) String() string {
	switch o.Shape {
	case Disc:
		return "disc " + o.Diameter.String()
	case Tube:
		return "tube " + unit.Size2{Width: o.Width, Height: o.Diameter}.String()
	}
	return unit.Size2{Width: o.Width, Height: o.Height}.String()
}

// area returns the opening as seen square-on, in m².
func (o Opening) area() float64 {
	switch o.Shape {
	case Disc:
		return math.Pi / 4 * float64(o.Diameter*o.Diameter)
	case Tube:
		return float64(o.Width * o.Diameter)
	}
	return float64(o.Width * o.Height)
}
