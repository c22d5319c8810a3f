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
	return s.weigh(dials, func(d *Dial) *spectrum.Band { return &d.Light.Y })
}

// TristimulusWeights returns the same for X, Y and Z, in units where Y is lux.
func (s *Scene) TristimulusWeights(dials []Dial) (x, y, z []spectrum.Band) {
	return s.weigh(dials, func(d *Dial) *spectrum.Band { return &d.Light.X }),
		s.Weights(dials),
		s.weigh(dials, func(d *Dial) *spectrum.Band { return &d.Light.Z })
}

func (s *Scene) weigh(dials []Dial, of func(*Dial) *spectrum.Band) []spectrum.Band {
	if len(dials) != len(s.Emitters) {
		panic("scene: a dial for each emitter is needed")
	}
	out := make([]spectrum.Band, s.Columns())
	for e := range s.Emitters {
		for o := -1; o < len(s.Openings); o++ {
			w := &out[s.Column(e, o)]
			for b := range w {
				w[b] = dials[e].Level * of(&dials[e])[b] * dials[e].Gel[b]
				if gel := s.gelOf(e, o); gel != nil {
					w[b] *= gel[b]
				}
			}
		}
	}
	return out
}

// gelOf returns the gel that light of an emitter in an opening's column passed, or nil. Untraced light is in no
// opening's column and is cut by the gel of the first opening it is said to come in by.
func (s *Scene) gelOf(emitter, opening int) *spectrum.Band {
	if opening >= 0 {
		return &s.Openings[opening].Gel
	}
	if e := &s.Emitters[emitter]; e.Kind == Everywhere && len(e.Through) > 0 {
		return &s.Openings[e.Through[0]].Gel
	}
	return nil
}
