package spectrum

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Mixture returns the relative power of sources that shine together, each making its share of the luminous flux. It panics
// when they differ in number or a source is dark.
func Mixture(sources []Curve, shares []float64) Curve {
	if len(sources) != len(shares) {
		panic("spectrum: sources and shares differ in number")
	}
	sum := Curve{zeroOutside: true}
	for i, s := range sources {
		y := luminance(s)
		if y < darkest {
			panic("spectrum: a source of a mixture is dark")
		}
		sum = sum.Add(s.Scale(shares[i] / y))
	}
	return sum
}

// Engines is a bi-colour lamp: a warm and a cool white, each of its own spectrum. How they follow the dial is one of three
// things. Plain is all that two engines can do, and it sags: on the straight line between its ends a mix lies on the pink side
// of the curved locus, Duv -0.005 half way from 2700 K to 6500 K. Held is a lamp that has some green to correct with, and
// stands where stated. Measured follows what a meter found.
type Engines struct{ Warm, Cool Curve }

// Plain returns the mix of the two engines alone that has a correlated colour temperature, and its Duv is what it is. The
// error is a fault of kind Input where no mix has it.
func (e Engines) Plain(kelvin unit.Kelvin) (Curve, error) {
	if err := checkWhite(kelvin, 0); err != nil {
		return Curve{}, err
	}
	// A mix has the temperature where it lies on the normal of the locus: a condition linear in X, Y and Z, and so in the share.
	u, v := planckUV(float64(kelvin))
	along := tangent(float64(kelvin))
	off := func(c Curve) float64 {
		t := LightOf(c)
		x, y, z := sum(t.X), sum(t.Y), sum(t.Z)
		d := x + 15*y + 3*z
		return along[0]*(4*x-u*d) + along[1]*(6*y-v*d)
	}
	warm, cool := off(e.Warm), off(e.Cool)
	if warm > 0 || cool < 0 {
		return Curve{}, fault.Fault{Text: "the two engines do not mix to that colour temperature", Read: fmt.Sprintf("%.0f K", float64(kelvin)),
			Allowed: "between the two engines' own"}
	}
	return e.mixed(warm / (warm - cool)), nil
}

// Held returns the engines' mix at a colour temperature, turned smoothly to a stated Duv (0 is on the locus).
func (e Engines) Held(kelvin unit.Kelvin, duv float64) (Curve, error) {
	mix, err := e.Plain(kelvin)
	if err != nil {
		return Curve{}, err
	}
	return Tuned(mix, kelvin, duv)
}

// Setting is one line of a measured dial: the kelvin the lamp was set to and the cool engine's share of the luminous flux then.
type Setting struct {
	Kelvin unit.Kelvin
	Cool   unit.Fraction
}

// Measured returns the engines' mix at a setting of a measured dial, linear in mired between its lines. It panics when the
// dial is empty or does not ascend; a setting outside it is a fault of kind Input.
func (e Engines) Measured(kelvin unit.Kelvin, dial []Setting) (Curve, error) {
	if len(dial) == 0 || !slices.IsSortedFunc(dial, func(a, b Setting) int { return cmp.Compare(a.Kelvin, b.Kelvin) }) {
		panic("spectrum: the dial of a lamp does not ascend")
	}
	last := len(dial) - 1
	if !(kelvin >= dial[0].Kelvin && kelvin <= dial[last].Kelvin) {
		return Curve{}, fault.Fault{Text: "the lamp's dial was not measured there", Read: fmt.Sprintf("%.0f K", float64(kelvin)),
			Allowed: fmt.Sprintf("%.0f K to %.0f K", float64(dial[0].Kelvin), float64(dial[last].Kelvin))}
	}
	i := sort.Search(last, func(i int) bool { return dial[i].Kelvin >= kelvin })
	if i == 0 {
		return e.mixed(float64(dial[0].Cool)), nil
	}
	a, b := dial[i-1], dial[i]
	t := float64((kelvin.Mired() - a.Kelvin.Mired()) / (b.Kelvin.Mired() - a.Kelvin.Mired()))
	return e.mixed(float64(a.Cool) + t*float64(b.Cool-a.Cool)), nil
}

func (e Engines) mixed(cool float64) Curve {
	return Mixture([]Curve{e.Warm, e.Cool}, []float64{1 - cool, cool})
}

func sum(b Band) float64 {
	total := 0.0
	for _, v := range b {
		total += v
	}
	return total
}
