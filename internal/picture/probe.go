package picture

import (
	"fmt"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Reading is what a spot meter would say of one pixel.
type Reading struct {
	Luminance   unit.Nit
	OverGrey    unit.Stop     // −∞ where it is dark
	Reflectance unit.Fraction // of the matt surface that would be as bright in light at the key; may be above 1
}

// String returns what is read out: stops over grey, luminance, and how light a surface looks so.
func (r Reading) String() string {
	tone := "dark"
	if r.Luminance > 0 {
		tone = r.OverGrey.Tenths() + " over grey"
	}
	return fmt.Sprintf("%s, %s, like ρ %.2g in light at the key", tone, r.Luminance.WithFootLamberts(), float64(r.Reflectance))
}

// Probe reads the pixel at x, y from the top left. It panics outside the picture.
func (c *Composite) Probe(x, y int, cam exposure.Camera) Reading {
	if x < 0 || x >= c.Width || y < 0 || y >= c.Height {
		panic("picture: probe outside the picture")
	}
	l := unit.Nit(c.Pixels[y*c.Width+x].Y)
	return Reading{l, cam.OverGrey(l), exposure.Reflectance(l, cam.Key())}
}
