package colour

import (
	"fmt"
	"math"
	"sync"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// The limits of CCTDuv.
const (
	// MinCCT and MaxCCT bound the colour temperatures that are reported. The paper proves the method to 20000 K; the table
	// is carried on because the blue of the sky is.
	MinCCT, MaxCCT unit.Kelvin = 1000, 30000
	// MaxDuv is the distance from the Planckian locus beyond which a light has no colour temperature [CIE15], clause 9.5.
	MaxDuv = 0.05
)

// CCTDuv returns the correlated colour temperature and Duv, the distance from the Planckian locus in the CIE 1960 diagram,
// positive on the green side, by the combined triangular and parabolic solution on a table of 1 % steps [Ohno2013]. A light
// outside MinCCT to MaxCCT or farther than MaxDuv from the locus is not white: the error is a fault of kind Input.
func CCTDuv(c XYZ) (cct unit.Kelvin, duv float64, err error) {
	cct, duv, found := ohno2013(c.UV1960())
	if !found || cct < MinCCT || cct > MaxCCT || math.Abs(duv) > MaxDuv {
		xy := c.Chromaticity()
		return 0, 0, fault.Fault{Text: "the light is too far from white to have a colour temperature",
			Read: fmt.Sprintf("x %.4f, y %.4f", xy.X, xy.Y), Allowed: "1000 K to 30000 K, Duv -0.05 to 0.05"}
	}
	return cct, duv, nil
}

// locusPoint is one row of the table: a black body's temperature and its CIE 1960 chromaticity.
type locusPoint struct{ kelvin, u, v float64 }

// locus is the table of the Planckian locus in steps of 1 %, one step past either limit.
var locus = sync.OnceValue(func() []locusPoint {
	var table []locusPoint
	for t := float64(MinCCT) / 1.01; t < float64(MaxCCT)*1.03; t *= 1.01 {
		uv := lightXYZ(spectrum.LightOf(spectrum.Planck(unit.Kelvin(t)))).UV1960()
		table = append(table, locusPoint{t, uv.U, uv.V})
	}
	return table
})

func lightXYZ(l spectrum.Light) XYZ { return MixtureOf([]spectrum.Light{l}, []unit.Lux{1}) }

// ohno2013 returns colour temperature (K) and Duv of a point of the CIE 1960 diagram; found is false when the nearest row of
// the table is its first or last.
func ohno2013(p UV) (cct unit.Kelvin, duv float64, found bool) {
	table := locus()
	m, nearest := 0, math.Inf(1)
	for i, q := range table {
		if d := math.Hypot(p.U-q.u, p.V-q.v); d < nearest {
			m, nearest = i, d
		}
	}
	if m == 0 || m == len(table)-1 {
		return 0, 0, false
	}
	t, d := triangular(p, table[m-1], table[m+1])
	if math.Abs(d) >= 0.002 {
		t, d = parabolic(p, table[m-1], table[m], table[m+1])
	}
	return unit.Kelvin(t), d, true
}

// triangular takes the locus as straight between two rows, right near it: the paper's triangular solution, with its
// correction of the temperature for the locus's bend over 1 % steps.
func triangular(p UV, a, b locusPoint) (kelvin, duv float64) {
	da, db := math.Hypot(p.U-a.u, p.V-a.v), math.Hypot(p.U-b.u, p.V-b.v)
	l := math.Hypot(b.u-a.u, b.v-a.v)
	x := (da*da - db*db + l*l) / (2 * l)
	kelvin = a.kelvin + (b.kelvin-a.kelvin)*x/l
	foot := a.v + (b.v-a.v)*x/l
	return kelvin * 0.99991, math.Copysign(math.Sqrt(max(0, da*da-x*x)), p.V-foot)
}

// parabolic takes the distance to the locus as a parabola over temperature through three rows, right away from it: the
// paper's parabolic solution.
func parabolic(p UV, a, m, b locusPoint) (kelvin, duv float64) {
	da, dm, db := math.Hypot(p.U-a.u, p.V-a.v), math.Hypot(p.U-m.u, p.V-m.v), math.Hypot(p.U-b.u, p.V-b.v)
	// Newton's form about the middle row keeps the digits that the paper's explicit coefficients lose.
	rise := (db - dm) / (b.kelvin - m.kelvin)
	fall := (dm - da) / (m.kelvin - a.kelvin)
	bend := (rise - fall) / (b.kelvin - a.kelvin)
	slope := fall + bend*(m.kelvin-a.kelvin)
	step := -slope / (2 * bend)
	kelvin = m.kelvin + step
	foot := m.v + (b.v-a.v)/(b.kelvin-a.kelvin)*step
	return kelvin, math.Copysign(dm+slope*step/2, p.V-foot)
}
