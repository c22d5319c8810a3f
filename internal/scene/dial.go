package scene

import "gloam/internal/spectrum"

// Columns returns how many columns a layer matrix of the scene has: each emitter apart for each opening its light came
// in by, and for none.
func (s *Scene) Columns() int { return len(s.Emitters) * (len(s.Openings) + 1) }

// Column returns the column of an emitter's light that came in by an opening; -1 is by none.
func (s *Scene) Column(emitter, opening int) int {
	return emitter*(len(s.Openings)+1) + opening + 1
}

// EmitterOf returns the emitter of a column.
func (s *Scene) EmitterOf(column int) int { return column / (len(s.Openings) + 1) }

// ColumnsOf returns all columns of an emitter.
func (s *Scene) ColumnsOf(emitter int) []int {
	columns := make([]int, len(s.Openings)+1)
	for i := range columns {
		columns[i] = s.Column(emitter, i-1)
	}
	return columns
}

// Weights returns for each column what to multiply its response by, band by band, to get lux: level, spectrum, gel on
// the head and gel on the opening.
func (s *Scene) Weights(dials []Dial) []spectrum.Band {
	_, y, _ := s.TristimulusWeights(dials)
	return y
}

// TristimulusWeights returns the same for X, Y and Z, in units where Y is lux.
func (s *Scene) TristimulusWeights(dials []Dial) (x, y, z []spectrum.Band) {
	return s.WeightsSeen(dials, spectrum.LightThrough)
}

// Viewer says what becomes of a source's light behind gels in three numbers: to the eye spectrum.LightThrough, to a camera
// colour.Balanced.Light or colour.Camera.Signals.
type Viewer func(source spectrum.Curve, gels ...spectrum.Curve) spectrum.Light

// WeightsSeen returns the weights of each of a viewer's three numbers. Gels over a source or over the opening its light comes
// in by act on its whole spectrum and not band by band.
func (s *Scene) WeightsSeen(dials []Dial, by Viewer) (x, y, z []spectrum.Band) {
	if len(dials) != len(s.Emitters) {
		panic("scene: a dial for each emitter is needed")
	}
	n := s.Columns()
	x, y, z = make([]spectrum.Band, n), make([]spectrum.Band, n), make([]spectrum.Band, n)
	through := make([]spectrum.Light, len(s.Openings)+1) // of the emitter's light by each opening, last by none
	for e := range s.Emitters {
		d := &dials[e]
		if e == 0 || !d.Light.Same(dials[e-1].Light) || !d.Gel.Same(dials[e-1].Gel) { // the patches of a sky share one light
			s.pass(through, d, by)
		}
		for o := -1; o < len(s.Openings); o++ {
			c, light := s.Column(e, o), &through[len(s.Openings)]
			if at := s.openingOf(e, o); at >= 0 {
				light = &through[at]
			}
			x[c], y[c], z[c] = light.X.Scale(d.Level), light.Y.Scale(d.Level), light.Z.Scale(d.Level)
		}
	}
	return x, y, z
}

// pass works out what becomes of a source's light behind the gel on its head and that on each opening.
func (s *Scene) pass(through []spectrum.Light, d *Dial, by Viewer) {
	bare := by(d.Light, d.Gel)
	through[len(s.Openings)] = bare
	for o := range s.Openings {
		through[o] = bare
		if gel := s.Openings[o].Gel; !gel.IsOne() {
			through[o] = by(d.Light, d.Gel, gel)
		}
	}
}

// openingOf returns the opening whose gel an emitter's light in an opening's column passed, or -1. Untraced light is in no
// opening's column and is cut by the gel of the first opening it is said to come in by.
func (s *Scene) openingOf(emitter, opening int) int {
	if e := &s.Emitters[emitter]; opening < 0 && e.Kind == Everywhere && len(e.Through) > 0 {
		return e.Through[0]
	}
	return opening
}
