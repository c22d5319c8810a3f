package chart

import "gloam/internal/unit"

// Source is a source of light, or the light at a point, by its distance from the camera's balance. Text is that distance as the
// reader wants it written, with its words.
type Source struct {
	Name, Text  string
	FromBalance unit.Mired // above 0 is warm; NaN for a light that has no colour temperature
	Tolerance   unit.Mired // a match is wanted to within this of Wanted; 0 for none
	Wanted      unit.Mired
}

// Mireds is a set-up's sources against the camera's balance, which is written in Balance (such as "balance 5600 K").
type Mireds struct {
	Balance string
	Sources []Source
}

// Draw returns the mired ladder: warm above the balance on dashed stems, cool below it on dotted ones. Its scale
// "mired" runs along y.
func (m Mireds) Draw(f Frame) Drawing {
	r := rungs{scale: "mired", unit: "mired", head: "↑ warm, mired from balance", foot: "↓ cool", zero: m.Balance,
		steps: []float64{10, 20, 50, 100, 200}, parts: 2, least: 20, limit: 1000}
	for _, s := range m.Sources {
		k := mark{name: s.Name, text: s.Text, value: float64(s.FromBalance)}
		stem := pen{f.Theme.Warm, 2, []float64{7, 4}}
		if s.FromBalance < 0 {
			stem = pen{f.Theme.Cool, 2, []float64{2, 3}}
		}
		k.stem = &stem
		if s.Tolerance > 0 {
			k.target = rangeOf(float64(s.Wanted-s.Tolerance), float64(s.Wanted+s.Tolerance))
		}
		r.marks = append(r.marks, k)
	}
	return r.draw(f)
}
