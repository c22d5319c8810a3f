package photometry

import "gloam/internal/unit"

// Summary is the answer of `gloam photometry FILE`.
type Summary struct {
	Flux     unit.Lumen    `json:"flux_lm"`
	Peak     unit.Candela  `json:"peak_cd"`
	Beam     unit.Degree   `json:"beam_deg"`  // full angle at 50 % of the peak
	Field    unit.Degree   `json:"field_deg"` // at 10 %
	Symmetry Symmetry      `json:"symmetry"`
	Watts    unit.Watt     `json:"watts"` // 0 where the file does not say
	At       []IntensityAt `json:"at"`
}

// IntensityAt is one answer to --at.
type IntensityAt struct {
	C         unit.Degree  `json:"c_deg"`
	Gamma     unit.Degree  `json:"g_deg"`
	Intensity unit.Candela `json:"cd"`
}

// Summarise returns the summary of a file and its intensity at each pair (C, γ). A file of type A or B is asked in the
// direction that (C, γ) has in the lamp's frame: C0 is the side of positive horizontal angles, C90 that of positive
// vertical ones. Where no light was measured, and for γ outside 0 to 180°, the intensity is 0.
func Summarise(f *File, at [][2]unit.Degree) Summary {
	s := Summary{
		Flux: f.Table.Flux(), Peak: f.Table.Peak(),
		Beam: BeamAngle(f.Table, 0.5), Field: BeamAngle(f.Table, 0.1),
		Symmetry: f.Symmetry, Watts: f.Watts, At: []IntensityAt{},
	}
	for _, a := range at {
		s.At = append(s.At, IntensityAt{a[0], a[1], f.Table.Intensity(a[0], a[1])})
	}
	return s
}
