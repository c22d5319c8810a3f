package photometry

import (
	"math"

	"gloam/internal/unit"
)

// Shape is the shape of a luminous opening.
type Shape string

// Shapes. A round one may be elliptical: its width, length and height say so.
const (
	Point          Shape = "point"
	Rectangle      Shape = "rectangle"
	Box            Shape = "box" // a rectangle with luminous sides
	Circle         Shape = "circle"
	Cylinder       Shape = "cylinder"            // along the axis
	Sphere         Shape = "sphere"              //
	LyingCylinder  Shape = "lying cylinder"      // along the longer of width and length
	StandingCircle Shape = "circle facing aside" // facing C0
)

// Opening is the luminous opening: Length along X (the plane C0–C180), Width along Y (C90–C270), Height along Z, as
// LM-63 names them. EULUMDAT's length lies along C90–C270 and is therefore the Width here.
type Opening struct {
	Shape                 Shape
	Width, Length, Height unit.Metre
}

// openingCode is how the signs of width, length and height spell a shape.
type openingCode struct {
	signs    string
	old, new Shape // editions up to 1995; from 2002
}

// openingCodes are those of LM-63-2002 Table 1 and of LM-63-1995 (the older ones from memory).
var openingCodes = []openingCode{
	{"000", Point, Point},
	{"++0", Rectangle, Rectangle},
	{"+++", Box, Box},
	{"-00", Circle, Circle},
	{"--0", Circle, Circle},
	{"-+0", Circle, Circle},
	{"+-0", Circle, Circle},
	{"-++", Circle, Circle},
	{"+-+", Circle, Circle},
	{"-0+", Cylinder, Cylinder},
	{"--+", Cylinder, Cylinder},
	{"---", Sphere, Sphere},
	{"-0-", Sphere, StandingCircle},
	{"-+-", Sphere, LyingCylinder},
	{"+--", Sphere, LyingCylinder},
	{"0+-", LyingCylinder, LyingCylinder},
	{"+0-", LyingCylinder, LyingCylinder},
}

// readOpening returns the opening that LM-63's width, length and height, in metres, spell in an edition. What the
// editions do not define, such as a line without width, is a rectangle.
func readOpening(edition string, w, l, h float64) Opening {
	signs := sign(w) + sign(l) + sign(h)
	shape := Rectangle
	for _, c := range openingCodes {
		if c.signs == signs {
			shape = c.old
			if edition >= "2002" {
				shape = c.new
			}
		}
	}
	o := Opening{shape, unit.Metre(math.Abs(w)), unit.Metre(math.Abs(l)), unit.Metre(math.Abs(h))}
	// A round shape that states one diameter means it for both.
	switch shape {
	case Circle, Cylinder:
		o.Length = either(o.Length, o.Width)
	case Sphere:
		o.Length, o.Height = either(o.Length, o.Width), either(o.Height, o.Width)
	case LyingCylinder:
		o.Width, o.Length = either(o.Width, o.Height), either(o.Length, o.Height)
	}
	return o
}

// code returns width, length and height with the signs of LM-63-2002 Table 1.
func (o Opening) code() (w, l, h unit.Metre) {
	w, l, h = o.Width, o.Length, o.Height
	switch o.Shape {
	case Circle, Cylinder:
		return -w, -l, h
	case Sphere:
		return -w, -l, -h
	case LyingCylinder:
		if l >= w {
			return -w, l, -h
		}
		return w, -l, -h
	case StandingCircle:
		return -w, l, -h
	}
	return w, l, h
}

func sign(x float64) string {
	switch {
	case x > 0:
		return "+"
	case x < 0:
		return "-"
	}
	return "0"
}

func either(a, b unit.Metre) unit.Metre {
	if a != 0 {
		return a
	}
	return b
}
