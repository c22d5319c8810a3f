package chart

import (
	"math"
	"sync"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// locusPoint is a place on a locus of whites in the CIE 1976 diagram.
type locusPoint struct {
	mired float64
	at    colour.UV
}

// The loci are tables in steps of 5 mired: straight between rows they stay within 0.0001 of the curve.
const locusStep = 5

// planckian is the locus of black bodies from 40 to 700 mired (25 000 K to 1430 K).
var planckian = sync.OnceValue(func() []locusPoint {
	return table(40, 700, func(k unit.Kelvin) (spectrum.Curve, error) { return spectrum.Planck(k), nil })
})

// daylight is the locus of the CIE's daylight illuminants, 4000 K to 25 000 K [CIE15].
var daylight = sync.OnceValue(func() []locusPoint { return table(40, 250, spectrum.Daylight) })

func table(from, to float64, curve func(unit.Kelvin) (spectrum.Curve, error)) []locusPoint {
	var all []locusPoint
	for m := from; m <= to; m += locusStep {
		c, err := curve(unit.Kelvin(1e6 / m))
		if err != nil {
			panic("chart: a locus beyond its range")
		}
		all = append(all, locusPoint{m, colour.MixtureOf([]spectrum.Light{spectrum.LightOf(c)}, []unit.Lux{1}).UV1976()})
	}
	return all
}

// nearest returns the row of a locus that is nearest to a light.
func nearest(locus []locusPoint, at colour.UV) locusPoint {
	best := locus[0]
	for _, p := range locus {
		if distance(p.at, at) < distance(best.at, at) {
			best = p
		}
	}
	return best
}

func distance(a, b colour.UV) float64 { return math.Hypot(a.U-b.U, a.V-b.V) }

// across returns the way from a row of a locus to the green side, one unit of Duv long: square to the locus in the CIE 1960
// diagram, in which v is two thirds of v′ [CIE15], appendix A.
func across(locus []locusPoint, n int) colour.UV {
	a, b := locus[max(n-1, 0)].at, locus[min(n+1, len(locus)-1)].at
	du, dv := b.U-a.U, (b.V-a.V)/1.5
	length := math.Hypot(du, dv)
	return colour.UV{U: -dv / length, V: 1.5 * du / length}
}
