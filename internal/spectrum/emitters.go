package spectrum

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// LED returns the relative power of a monochromatic LED by its peak and its width at half height (nm), as [Ohno2005], equation 1,
// has it: (g + 2g⁵)/3 with a Gaussian g, whose own width is adjusted so that the whole has the stated one. It panics when
// the width is not above 0.
func LED(peak, width float64) Curve {
	if !(width > 0) {
		panic("spectrum: LED without a width")
	}
	// (g + 2g⁵)/3 is a half where g is 0.808609.
	scale := width / 2 / math.Sqrt(-math.Log(0.808609))
	c := sampled(1, func(nm float64) float64 {
		x := (nm - peak) / scale
		g := math.Exp(-x * x)
		return (g + 2*math.Pow(g, 5)) / 3
	})
	c.zeroOutside = true
	return c
}

// Emitter is one colour of a colour-mixing lamp: its spectrum and the luminous flux it gives when driven fully, in any unit
// common to the lamp.
type Emitter struct {
	Name  string
	Curve Curve
	Flux  float64
}

// Emitters are a colour-mixing lamp's, at most mostEmitters.
type Emitters []Emitter

const mostEmitters = 8

// EmitterSet returns a colour-mixing lamp by its letters: RGB, RGBA (amber) or RGBW (a phosphor white, LED-B3). Peaks, widths
// and fluxes are common practice, no source: red 632/18 nm, green 523/33 nm, blue 460/22 nm, amber 594/15 nm.
func EmitterSet(letters string) (Emitters, bool) {
	white, _ := Illuminant("LED-B3")
	set := Emitters{{"red", LED(632, 18), 45}, {"green", LED(523, 33), 110}, {"blue", LED(460, 22), 22}}
	switch letters {
	case "RGB":
		return set, true
	case "RGBA":
		return append(set, Emitter{"amber", LED(594, 15), 45}), true
	case "RGBW":
		return append(set, Emitter{"white", white, 130}), true
	}
	return nil, false
}

// Drive returns how far each emitter must be driven, 0 to 1, for the most light of a colour temperature and Duv, and the
// spectrum that makes. Levels are linear in light. The error is a fault of kind Input where the lamp cannot make that colour.
// It panics with fewer than three emitters or more than eight.
func (e Emitters) Drive(kelvin unit.Kelvin, duv float64) (levels []unit.Fraction, mix Curve, err error) {
	if len(e) < 3 || len(e) > mostEmitters {
		panic("spectrum: a colour-mixing lamp has three to eight emitters")
	}
	if err := checkWhite(kelvin, duv); err != nil {
		return nil, Curve{}, err
	}
	want := white(float64(kelvin), duv)
	xyz := make([]tristimuli, len(e))
	for i, m := range e {
		l := LightOf(m.Curve)
		xyz[i] = tristimuli{m.Flux * sum(l.X), m.Flux * sum(l.Y), m.Flux * sum(l.Z)}
	}
	best := brightestMix(xyz, want)
	if best == nil {
		return nil, Curve{}, fault.Fault{Text: "the lamp's emitters do not mix to that colour", Read: fmt.Sprintf("%.0f K, Duv %g", float64(kelvin), duv)}
	}
	mix = Curve{zeroOutside: true}
	for i, m := range e {
		levels = append(levels, unit.Fraction(best[i]))
		mix = mix.Add(m.Curve.Scale(best[i] * m.Flux / luminance(m.Curve)))
	}
	return levels, mix, nil
}

// brightestMix returns the levels, 0 to 1, that make a multiple of a colour as great as can be, nil where there are none. The
// greatest lies where all but two of the levels are 0 or 1: a linear programme this small is solved by trying all.
func brightestMix(xyz []tristimuli, want tristimuli) []float64 {
	n := len(xyz)
	var best []float64
	most := 0.0
	for a := range n {
		for b := range a {
			for full := range 1 << n {
				if full>>a&1 != 0 || full>>b&1 != 0 {
					continue
				}
				// xyz[a]·la + xyz[b]·lb - want·k = -Σ of those driven fully
				var rest tristimuli
				var rows [3]tristimuli
				for k := range rows {
					for i := range xyz {
						rest[k] -= float64(full>>i&1) * xyz[i][k]
					}
					rows[k] = tristimuli{xyz[a][k], xyz[b][k], -want[k]}
				}
				s := solve3(rows, rest)
				if !(s[2] > most && inUnit(s[0]) && inUnit(s[1])) {
					continue
				}
				most, best = s[2], make([]float64, n)
				for i := range best {
					best[i] = float64(full >> i & 1)
				}
				best[a], best[b] = min(max(s[0], 0), 1), min(max(s[1], 0), 1)
			}
		}
	}
	return best
}

// inUnit allows for the rounding of a level that is just 0 or 1.
func inUnit(v float64) bool { return v >= -1e-9 && v <= 1+1e-9 }
