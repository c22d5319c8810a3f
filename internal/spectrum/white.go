package spectrum

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// White returns the relative power of a white source of which only the colour temperature and the distance Duv from the
// Planckian locus are known, such as a bi-colour lamp at a setting (duv 0 when nothing is known) or a greenish lamp. The
// spectrum is a black body's below 4000 K, daylight's above 5500 K and a mix between, tuned smoothly to the stated colour.
// Kelvin from 1000 to 25000 and duv from -0.02 to 0.02; beyond, or where no light has that colour (greener than a flame), the
// error is a fault of kind Input.
func White(kelvin unit.Kelvin, duv float64) (Curve, error) {
	if err := checkWhite(kelvin, duv); err != nil {
		return Curve{}, err
	}
	return Tuned(blend(kelvin, 4000, 5500), kelvin, duv)
}

// BiColour returns the light of White. Two white engines mixed would fall on the pink side of the locus (see Engines); a
// lamp's own driver holds it on the locus as far as it can, so that is what is assumed until the lamp is measured.
func BiColour(kelvin unit.Kelvin, duv float64) (Light, error) {
	c, err := White(kelvin, duv)
	if err != nil {
		return Light{}, err
	}
	return LightOf(c), nil
}

// Tuned returns a source's relative power turned smoothly to a colour: a tube of a kind (base FL2, say) that reads 4000 K and
// Duv 0.008, or a lamp whose driver corrects its green. Limits and errors are White's.
func Tuned(base Curve, kelvin unit.Kelvin, duv float64) (Curve, error) {
	if err := checkWhite(kelvin, duv); err != nil {
		return Curve{}, err
	}
	want := white(float64(kelvin), duv)
	for k := range want {
		want[k] *= 0.05 // any level will do: a low one leaves the factor room to rise
	}
	factor, err := tuned(base, want)
	if err != nil {
		return Curve{}, fault.Fault{Text: "no smooth spectrum has that colour",
			Read: fmt.Sprintf("%.0f K, Duv %g", float64(kelvin), duv), Hint: "move Duv nearer to 0"}
	}
	return base.Mul(factor), nil
}

// Tinted returns the relative power of a smooth light: White's untuned base at a temperature times e^(green·bump), where the
// bump is 1 at 545 nm and green turns it green above 0, pink below. Its Duv is what it is. It panics outside 1000 to 50000 K.
func Tinted(kelvin unit.Kelvin, green float64) Curve {
	if !(kelvin >= 1000 && kelvin <= 50000) {
		panic("spectrum: tinted light outside 1000 to 50000 K")
	}
	tint := sampled(knot, func(nm float64) float64 { return math.Exp(green * shapes(nm)[2]) })
	return blend(kelvin, 4000, 5500).Mul(tint)
}

func checkWhite(kelvin unit.Kelvin, duv float64) error {
	if !(kelvin >= 1000 && kelvin <= 25000) {
		return fault.Fault{Text: "no white light of that colour temperature",
			Read: fmt.Sprintf("%.0f K", float64(kelvin)), Allowed: "1000 K to 25000 K"}
	}
	if !(math.Abs(duv) <= 0.02) {
		return fault.Fault{Text: "Duv is too far from the Planckian locus to call the light white",
			Read: fmt.Sprint(duv), Allowed: "-0.02 to 0.02"}
	}
	return nil
}

// Sky returns the relative power of light from sun or sky by its colour temperature: daylight above 4000 K, where the
// CIE defines it, a black body below 3500 K, where a low sun is, and a mix between. Below 1000 K the error is a fault of kind
// Input. Above 25000 K the curve is that of 25000 K and the error a fault of kind Note that says so.
func Sky(kelvin unit.Kelvin) (Curve, error) {
	switch {
	case !(kelvin >= 1000):
		return Curve{}, fault.Fault{Text: "no sun or sky is of that colour temperature",
			Read: fmt.Sprintf("%.0f K", float64(kelvin)), Allowed: "1000 K to 25000 K"}
	case kelvin > 25000:
		return phase(25000), fault.Fault{Kind: fault.Note, Text: "the sky is taken as 25000 K, the bluest daylight with a spectrum",
			Read: fmt.Sprintf("%.0f K", float64(kelvin)), Allowed: "1000 K to 25000 K"}
	}
	return blend(kelvin, 3500, 4000), nil
}

// blend returns a black body below a temperature (K), daylight above another, and between them a mix of equal
// luminance whose daylight share rises smoothly with the mired. Both parts lie on one line of equal correlated colour
// temperature, and so does the mix. Below 4000 K the daylight formula is carried on past its range, with a small share.
func blend(kelvin unit.Kelvin, below, above float64) Curve {
	k := float64(kelvin)
	switch {
	case k <= below:
		return Planck(kelvin)
	case k >= above:
		return phase(k)
	}
	t := (1/below - 1/k) / (1/below - 1/above)
	share := t * t * (3 - 2*t)
	return Mixture([]Curve{Planck(kelvin), phase(k)}, []float64{1 - share, share})
}

func luminance(c Curve) float64 {
	sum := 0.0
	for _, y := range tristimulus(c).Y {
		sum += y
	}
	return sum
}

// white returns the tristimulus values, with Y 1, of the point at Duv from the Planckian locus at a temperature (K), measured
// square to the locus in the CIE 1960 diagram, positive on the green side [ANSIC78377].
func white(kelvin, duv float64) tristimuli {
	u, v := planckUV(kelvin)
	along := tangent(kelvin)
	// The locus runs toward lower u with rising temperature, so its tangent turned clockwise points to higher v.
	u += duv * along[1]
	v -= duv * along[0]
	// CIE 1960 u = 4X/d, v = 6Y/d, d = X + 15Y + 3Z.
	d := 6 / v
	x := u * d / 4
	return tristimuli{x, 1, (d - x - 15) / 3}
}

// tangent returns the direction of the Planckian locus in the CIE 1960 diagram toward higher temperature, of length 1.
func tangent(kelvin float64) [2]float64 {
	u1, v1 := planckUV(kelvin * 1.001)
	u0, v0 := planckUV(kelvin * 0.999)
	length := math.Hypot(u1-u0, v1-v0)
	return [2]float64{(u1 - u0) / length, (v1 - v0) / length}
}

// planckUV returns the CIE 1960 chromaticity of a black body (K).
func planckUV(kelvin float64) (u, v float64) {
	var s tristimuli
	for i, nm := range cie1931.nm {
		p := radiance(nm, kelvin)
		for k := range s {
			s[k] += p * cie1931.columns[k][i]
		}
	}
	d := s[0] + 15*s[1] + 3*s[2]
	return 4 * s[0] / d, 6 * s[1] / d
}
