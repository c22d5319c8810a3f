package colour

import (
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Balanced is a camera set to a white balance: what turns light into the colour it records. The colours are as they would be
// beside the white of the balance, so that a picture adapts them (by CAT16 [Li2017]) from that white to its display's.
type Balanced struct {
	camera Camera
	gains  [3]float64 // of the raw signals: the white of the balance, of unit luminance, gives 1, 1, 1
	matrix matrix3    // XYZ from balanced signals
	white  XYZ
}

// Balance returns the camera set to a colour temperature and a tint in Duv: the white of spectrum.White is then neutral. Its
// matrix is the least-squares map from its signals to XYZ over the 18 samples of [EBU3355] under that white and over black
// bodies and daylight beside it, which keeps the white itself exactly. The error is that of spectrum.White.
func (c Camera) Balance(kelvin unit.Kelvin, tint float64) (Balanced, error) {
	white, err := spectrum.White(kelvin, tint)
	if err != nil {
		return Balanced{}, err
	}
	b := Balanced{camera: c, white: lightXYZ(spectrum.LightOf(white))}
	_, y := sourceSeen(white, spectrum.Observer1931())
	for k, s := range c.signals(white) {
		b.gains[k] = y / s
	}
	b.matrix = b.fitted(white)
	return b, nil
}

// training are the whites that a camera's matrix is fitted to beside the samples.
var training = []unit.Kelvin{2200, 2700, 3200, 4300, 5600, 7500, 10000}

// fitted returns the matrix of Balance. With the last column given by the white, each row has two unknowns.
func (b Balanced) fitted(white spectrum.Curve) matrix3 {
	var rgbs, xyzs [][3]float64
	add := func(light spectrum.Curve, through ...spectrum.Curve) {
		xyz := spectrum.Response(light, spectrum.Observer1931(), through...)
		rgb := spectrum.Response(light, b.camera.Sensitivity, through...)
		for k := range rgb { // dark samples count as much as bright ones
			rgb[k] *= b.gains[k] / xyz[1]
		}
		rgbs, xyzs = append(rgbs, rgb), append(xyzs, [3]float64{xyz[0] / xyz[1], 1, xyz[2] / xyz[1]})
	}
	add(white)
	for _, sample := range ebuCurves()[3:] {
		add(white, sample)
	}
	for _, k := range training {
		add(spectrum.Tinted(k, 0))
	}
	var m matrix3
	for row := range m {
		w := xyzs[0][row]
		var a, c, d, p, q float64
		for i, v := range rgbs {
			x, y, t := v[0]-v[2], v[1]-v[2], xyzs[i][row]-w*v[2]
			a, c, d, p, q = a+x*x, c+x*y, d+y*y, p+x*t, q+y*t
		}
		det := a*d - c*c
		m[row][0], m[row][1] = (p*d-q*c)/det, (a*q-c*p)/det
		m[row][2] = w - m[row][0] - m[row][1]
	}
	return m
}

// Light returns what the camera records of a source in each band, on spectrum.LightOf's scale: with it in the place of the
// source's Light, a picture shows what the camera sees and not what the eye does. The sum of Y is 1 for the white of the balance
// and differs a little where the camera is more or less sensitive to a source than the eye. Gels over the source take what they
// take, as in spectrum.LightThrough. A dark source gives the zero Light.
func (b Balanced) Light(source spectrum.Curve, gels ...spectrum.Curve) spectrum.Light {
	raw := b.camera.Signals(source, gels...)
	var l spectrum.Light
	for i := range l.Y {
		xyz := b.matrix.of([3]float64{raw.X[i] * b.gains[0], raw.Y[i] * b.gains[1], raw.Z[i] * b.gains[2]})
		l.X[i], l.Y[i], l.Z[i] = xyz[0], xyz[1], xyz[2]
	}
	return l
}

// Camera returns the camera that was set.
func (b Balanced) Camera() Camera { return b.camera }

// White returns the colour of the light that looks neutral under the balance, of Y 1.
func (b Balanced) White() XYZ { return b.white }

// Signals returns the raw red, green and blue signals of a source in each band, as X, Y and Z of a Light: those of mixtures
// and of what surfaces make of them add up as a Light's do. They are in units of the luminance of the bare source, and 0 of a
// dark one.
func (c Camera) Signals(source spectrum.Curve, gels ...spectrum.Curve) spectrum.Light {
	y := spectrum.Response(source, spectrum.Observer1931())[1]
	if !(y > 0) {
		return spectrum.Light{}
	}
	s := spectrum.ResponseInBands(source.Through(gels...), c.Sensitivity)
	return spectrum.Light{X: s[0].Scale(1 / y), Y: s[1].Scale(1 / y), Z: s[2].Scale(1 / y)}
}
