package picture

import (
	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// Weights is what each column's response is multiplied by, band by band, to get X, Y and Z: what
// scene.Scene.TristimulusWeights returns for the present dials to the eye, and scene.Setup.Recorded to the camera.
type Weights struct{ X, Y, Z []spectrum.Band }

// through returns the weights of three other numbers, which a matrix makes of X, Y and Z: it costs columns and not pixels.
func (w Weights) through(m *matrix) Weights {
	var out [3][]spectrum.Band
	for k := range out {
		out[k] = make([]spectrum.Band, len(w.Y))
		for c := range w.Y {
			for b := range w.Y[c] {
				out[k][c][b] = m[k][0]*w.X[c][b] + m[k][1]*w.Y[c][b] + m[k][2]*w.Z[c][b]
			}
		}
	}
	return Weights{out[0], out[1], out[2]}
}

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
	wx, wy, wz := *x, *y, *z
	pixels = pixels[:len(row)]
	for i := range row {
		p, q := &row[i], &pixels[i]
		// Written out, band by band: a loop takes half as long again.
		a, b, c, d := float64(q[0]), float64(q[1]), float64(q[2]), float64(q[3])
		e, f, g, h := float64(q[4]), float64(q[5]), float64(q[6]), float64(q[7])
		p.X += (a*wx[0] + b*wx[1] + c*wx[2] + d*wx[3]) + (e*wx[4] + f*wx[5] + g*wx[6] + h*wx[7])
		p.Y += (a*wy[0] + b*wy[1] + c*wy[2] + d*wy[3]) + (e*wy[4] + f*wy[5] + g*wy[6] + h*wy[7])
		p.Z += (a*wz[0] + b*wz[1] + c*wz[2] + d*wz[3]) + (e*wz[4] + f*wz[5] + g*wz[6] + h*wz[7])
	}
}
