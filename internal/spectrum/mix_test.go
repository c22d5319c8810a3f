package spectrum

import (
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// uvOf returns the CIE 1960 chromaticity of a source.
func uvOf(c Curve) (u, v float64) {
	l := LightOf(c)
	x, y, z := sum(l.X), sum(l.Y), sum(l.Z)
	d := x + 15*y + 3*z
	return 4 * x / d, 6 * y / d
}

// fromLocus returns how far a source lies along the locus's normal and its tangent at a temperature, in CIE 1960 u, v.
func fromLocus(c Curve, kelvin float64) (along, duv float64) {
	u, v := uvOf(c)
	u0, v0 := planckUV(kelvin)
	t := tangent(kelvin)
	return (u-u0)*t[0] + (v-v0)*t[1], (u-u0)*t[1] - (v-v0)*t[0]
}

func TestTwoEngines(t *testing.T) {
	cool, _ := Illuminant("LED-B5")
	warm, _ := Illuminant("LED-B1")
	for _, lamp := range []Engines{{Planck(2700), Planck(6500)}, {warm, cool}} {
		for _, k := range []unit.Kelvin{2800, 3200, 4000, 5000, 6300} {
			plain, err := lamp.Plain(k)
			if err != nil {
				t.Fatal(k, err)
			}
			along, _ := fromLocus(plain, float64(k))
			within(t, "plain mix lies on the line of its temperature", along, 0, 1e-5)
			held, err := lamp.Held(k, 0.001)
			if err != nil {
				t.Fatal(k, err)
			}
			u, v := uvOf(held)
			w := white(float64(k), 0.001)
			d := w[0] + 15*w[1] + 3*w[2]
			within(t, "held u", u, 4*w[0]/d, 1e-8)
			within(t, "held v", v, 6*w[1]/d, 1e-8)
		}
	}
	// Two black bodies mixed sag to the pink side; by the straight line in u, v, to about -0.005 half way in mired.
	mid, err := Engines{Planck(2700), Planck(6500)}.Plain(3815)
	if err != nil {
		t.Fatal(err)
	}
	_, duv := fromLocus(mid, 3815)
	within(t, "sag", duv, -0.0055, 0.0015) // common practice, no source: about -0.005
	if _, err := (Engines{warm, cool}).Plain(2600); fault.Code(err) != 1 {
		t.Errorf("warmer than the warm engine: %v", err)
	}
	if _, err := (Engines{warm, cool}).Held(7000, 0); fault.Code(err) != 1 {
		t.Errorf("cooler than the cool engine: %v", err)
	}
}

func TestMeasuredDial(t *testing.T) {
	lamp := Engines{Planck(2700), Planck(6500)}
	dial := []Setting{{2800, 0}, {4000, 0.4}, {6500, 1}}
	for _, c := range []struct {
		kelvin unit.Kelvin
		cool   float64
	}{{2800, 0}, {4000, 0.4}, {6500, 1}, {unit.Kelvin(1e6 / ((1e6/2800. + 250) / 2)), 0.2}} {
		got, err := lamp.Measured(c.kelvin, dial)
		if err != nil {
			t.Fatal(err)
		}
		want := lamp.mixed(c.cool)
		within(t, "at 450 nm", got.At(450)/want.At(450), 1, 1e-9)
		within(t, "luminance", luminance(got), 1, 1e-9)
	}
	if _, err := lamp.Measured(7000, dial); fault.Code(err) != 1 {
		t.Errorf("beyond the dial: %v", err)
	}
}

func TestTubeWithGreen(t *testing.T) {
	tube, _ := Illuminant("FL2")
	got, err := Tuned(tube, 4000, 0.008)
	if err != nil {
		t.Fatal(err)
	}
	along, duv := fromLocus(got, 4000)
	within(t, "along", along, 0, 1e-8)
	within(t, "Duv", duv, 0.008, 1e-8)
	// The mercury line stays.
	if got.At(435)/got.At(425) < 0.8*tube.At(435)/tube.At(425) {
		t.Error("the tube's line is smoothed away")
	}
}

func TestMixtureKeepsShares(t *testing.T) {
	a, _ := Illuminant("FL11")
	b := Planck(3200)
	got := Mixture([]Curve{a.Scale(1e-3), b}, []float64{0.3, 0.7})
	within(t, "luminance", luminance(got), 1, 1e-3)
	within(t, "at 500 nm", got.At(500), 0.3*a.At(500)/luminance(a)+0.7*b.At(500)/luminance(b), 1e-12)
}
