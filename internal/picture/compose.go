package picture

import (
	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// Weights is what each column's response is multiplied by, band by band, to get X, Y and Z: what
// scene.Scene.TristimulusWeights returns for the present dials to the eye, and scene.Setup.Recorded to the camera.
type Weights struct{ X, Y, Z []spectrum.Band }

// Composite is what the camera sees under the dials: CIE 1931 tristimulus values, Y in cd/m², row by row.
type Composite struct {
	Width, Height int
	Pixels        []colour.XYZ
}

// Compose adds the layers up under the weights. Its Y is the luminance that a spot meter would read at the pixel.
func Compose(img *transport.Image, w Weights) *Composite {
	check(img)
	out := &Composite{img.Width, img.Height, make([]colour.XYZ, img.Width*img.Height)}
	rows(img.Height, func(y int) {
		compose(img, out.Pixels[y*img.Width:(y+1)*img.Width], y, img.Layers, w)
	})
	return out
}

// compose adds one row of some layers up, in their order, so that the digits are the same on any number of cores.
func compose(img *transport.Image, row []colour.XYZ, y int, layers []transport.ImageLayer, w Weights) {
	for i := range layers {
		c := layers[i].Column
		add(row, layers[i].Pixels[y*img.Width:], &w.X[c], &w.Y[c], &w.Z[c])
	}
}

// add adds a layer's pixels under the weights of its column.
func add(row []colour.XYZ, pixels [][spectrum.Bands]float32, x, y, z *spectrum.Band) {
	if *x == (spectrum.Band{}) && *y == (spectrum.Band{}) && *z == (spectrum.Band{}) {
		return // dimmed out
	}
	for i := range row {
		p := &row[i]
		for b, v := range pixels[i] {
			p.X += float64(v) * x[b]
			p.Y += float64(v) * y[b]
			p.Z += float64(v) * z[b]
		}
	}
}
