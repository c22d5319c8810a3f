package scene

import "gloam/internal/spectrum"

// Columns returns how many columns a layer matrix of the scene has: each emitter apart for each opening its light came
// in by, and for none.
func (s *Scene) Columns() int { return len(s.Emitters) * (len(s.Openings) + 1) }

// Column returns the column of an emitter's light that came in by an opening; -1 is by none.
func (s *Scene) Column(emitter, opening int) int {
	return emitter*(len(s.Openings)+1) + opening + 1
}

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
	for e := range s.Emitters {
		d := &dials[e]
		bare := by(d.Light, d.Gel)
		for o := -1; o < len(s.Openings); o++ {
			light := bare
			if gel := s.gelOf(e, o); gel != nil {
				light = by(d.Light, d.Gel, *gel)
			}
			c := s.Column(e, o)
			x[c], y[c], z[c] = light.X.Scale(d.Level), light.Y.Scale(d.Level), light.Z.Scale(d.Level)
		}
	}
	return x, y, z
}

// gelOf returns the gel that light of an emitter in an opening's column passed, or nil. Untraced light is in no
// opening's column and is cut by the gel of the first opening it is said to come in by.
func (s *Scene) gelOf(emitter, opening int) *spectrum.Curve {
	if e := &s.Emitters[emitter]; opening < 0 && e.Kind == Everywhere && len(e.Through) > 0 {
		opening = e.Through[0]
	}
	if opening < 0 || s.Openings[opening].Gel.IsOne() {
		return nil
	}
	return &s.Openings[opening].Gel
}
