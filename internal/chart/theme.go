package chart

import "fmt"

// Colour is an sRGB colour.
type Colour struct{ R, G, B uint8 }

// String returns the colour as #rrggbb.
func (c Colour) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Theme is how a drawing is coloured for where it is read. Every colour but Rule and Ground may letter a text and stands
// at least 7:1 from the ground [WCAG22], success criterion 1.4.6.
type Theme struct {
	Ground Colour
	Ink    Colour  // what is meant
	Muted  Colour  // what explains it
	Rule   Colour  // grids and leaders, never a text
	Warm   Colour  // warm of the balance
	Cool   Colour  // cool of the balance
	Weight float64 // factor of every stroke's width
	Bold   bool    // letters every text bold
}

// The themes.
var (
	// Paper is ink on white, for print and for daylight at a desk.
	Paper = Theme{
		Ground: Colour{0xff, 0xff, 0xff}, Ink: Colour{0x1d, 0x1f, 0x21}, Muted: Colour{0x50, 0x53, 0x56}, Rule: Colour{0xb4, 0xb6, 0xb4},
		Warm: Colour{0x7c, 0x40, 0x0c}, Cool: Colour{0x1f, 0x4f, 0x7a}, Weight: 1,
	}
	// Night is dark and of long wavelengths only, so that eyes keep their adaptation to the dark. Warm and cool are told
	// apart by dash, shape and word.
	Night = Theme{
		Ground: Colour{0x00, 0x00, 0x00}, Ink: Colour{0xff, 0x7a, 0x2c}, Muted: Colour{0xf4, 0x6e, 0x24}, Rule: Colour{0x74, 0x2c, 0x06},
		Warm: Colour{0xff, 0x7a, 0x2c}, Cool: Colour{0xf4, 0x6e, 0x24}, Weight: 1,
	}
	// Rain is of the highest contrast, for bright sun and wet glass.
	Rain = Theme{
		Ground: Colour{0xff, 0xff, 0xff}, Ink: Colour{0, 0, 0}, Muted: Colour{0, 0, 0}, Rule: Colour{0x70, 0x70, 0x70},
		Warm: Colour{0x4a, 0x20, 0x00}, Cool: Colour{0x00, 0x24, 0x58}, Weight: 1.7, Bold: true,
	}
)
