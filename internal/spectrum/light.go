package spectrum

// Light is what a source's spectrum makes of a response in bands: the tristimulus values that unit response in each band
// is worth, normalised so that the sum of Y is 1. A layer's response R, the level the source would give were all its
// light in that band, then gives the level R.Dot(Y), and X and Z likewise.
type Light struct{ X, Y, Z Band }

// LightOf returns the Light of a source's relative power by the CIE 1931 2° observer, integrated over 360 to 830 nm on
// the curve's own samples where they lie 5 nm apart or less and at 1 nm elsewhere [CIE15], clause 7.1. A curve without visible
// light gives the zero Light.
func LightOf(c Curve) Light {
	l := tristimulus(c)
	sum := 0.0
	for _, y := range l.Y {
		sum += y
	}
	if sum < darkest {
		return Light{}
	}
	return Light{l.X.Scale(1 / sum), l.Y.Scale(1 / sum), l.Z.Scale(1 / sum)}
}

// LightThrough returns the Light of a source after gels over it: LightOf's scale for the bare source, so that the sum of Y is
// the luminous transmittance. It is exact for any spectrum, where Light.Through is for light known in bands alone: a strong
// gel over a lamp of narrow lines would there be out by up to 10 mired.
func LightThrough(source Curve, gels ...Curve) Light {
	bare := luminance(source)
	passed := source.Through(gels...)
	if bare < darkest || luminance(passed) < darkest {
		return Light{}
	}
	l := tristimulus(passed)
	return Light{l.X.Scale(1 / bare), l.Y.Scale(1 / bare), l.Z.Scale(1 / bare)}
}

// darkest is the least sum that can be normalised: below it the reciprocal leaves the range of numbers.
const darkest = 1e-300

// tristimulus returns the sums of power times colour-matching function times nm in each band.
func tristimulus(c Curve) Light {
	var l Light
	c.cells(func(nm, value, width float64, band int) {
		x, y, z := observer(nm)
		p := value * width
		l.X[band] += p * x
		l.Y[band] += p * y
		l.Z[band] += p * z
	})
	return l
}

// Through returns the light after a filter or a reflection, not normalised again: the sum of its Y is the luminous
// transmittance or reflectance under this light.
func (l Light) Through(b Band) Light {
	return Light{l.X.Mul(b), l.Y.Mul(b), l.Z.Mul(b)}
}
