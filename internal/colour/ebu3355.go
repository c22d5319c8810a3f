package colour

import (
	"math"
	"sync"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

var (
	// ebuCamera is the standard camera's matrix [EBU3355], clause 1.3.2 and appendix 5.
	ebuCamera = matrix3{{1.182, -0.209, 0.027}, {0.107, 0.890, 0.003}, {0.040, -0.134, 1.094}}
	// ebuSaturation brings colours to 90 % saturation [EBU3355], equations 23 to 25.
	ebuSaturation = matrix3{{14. / 15, 1. / 30, 1. / 30}, {1. / 30, 14. / 15, 1. / 30}, {1. / 30, 1. / 30, 14. / 15}}
	// ebuDisplay is a BT.709 display, linear RGB to XYZ [EBU3355], equation 29.
	ebuDisplay = matrix3{{0.412391, 0.357584, 0.180481}, {0.212639, 0.715169, 0.072192}, {0.019331, 0.119195, 0.950532}}
)

// TLCI returns the television lighting consistency index TLCI-2012 of a source, 0 to 100: how near the standard camera's
// picture of 18 samples, balanced to the source, comes to its picture under a reference [EBU3355]. The reference is a black
// body below 3400 K, daylight from 5000 K, between them a mix of those two ends. Colour temperatures are this package's; the
// method's own constants for them differ by up to 0.3 %, worth less than a unit. The error is a fault of kind Input where the
// source has no colour temperature, or one above 25000 K.
func TLCI(source spectrum.Curve) (float64, error) {
	cct, err := cctOf(source)
	if err != nil {
		return 0, err
	}
	reference, err := ebuReference(cct)
	if err != nil {
		return 0, err
	}
	test, ref := ebuPicture(source), ebuPicture(reference.SampledAs(source))
	sum, n := 0.0, 0.0
	for i := range test {
		if test[i].clipped || ref[i].clipped { // clause 1.5.1 leaves these out
			continue
		}
		d := ciede2000(test[i].lab, ref[i].lab)
		sum += d * d * d * d
		n++
	}
	if n == 0 {
		return 0, nil
	}
	// EBU Tech 3355, equations 58 and 59.
	return 100 / (1 + math.Pow(math.Pow(sum/n, 0.25)/3.16, 2.4)), nil
}

// ebuReference returns the reference for a colour temperature (K) [EBU3355], clause 1.1.2. Its mix is of spectra that are
// equal at 560 nm.
func ebuReference(cct float64) (spectrum.Curve, error) {
	switch {
	case cct < 3400:
		return spectrum.Planck(unit.Kelvin(cct)), nil
	case cct >= 5000:
		return spectrum.Daylight(unit.Kelvin(cct))
	}
	day, err := spectrum.Daylight(5000)
	share := (cct - 3400) / 1600
	return spectrum.Planck(3400).Scale(1 - share).Add(day.Scale(share / day.At(560))), err
}

// ebuColour is a sample as the display shows it.
type ebuColour struct {
	lab     [3]float64
	clipped bool
}

var ebuCurves = sync.OnceValue(func() []spectrum.Curve { return readSamples("ebu3355.csv") })

// ebuPicture returns the 18 samples under a source: camera, balance to a reflector of 0.9, matrices, BT.709's transfer
// function, a display of gamma 2.4 [EBU3355], clauses 1.3 to 1.5.
func ebuPicture(source spectrum.Curve) []ebuColour {
	curves := ebuCurves()
	camera, samples := [3]spectrum.Curve(curves[:3]), curves[3:]
	white := spectrum.Response(source, camera)
	d65 := Chromaticity{0.3127, 0.3290}.XYZ(1)
	out := make([]ebuColour, len(samples))
	for i, s := range samples {
		rgb := spectrum.Response(source, camera, s)
		for k := range rgb {
			rgb[k] /= 0.9 * white[k]
		}
		rgb = ebuCamera.of(rgb)
		out[i].clipped = min(rgb[0], rgb[1], rgb[2]) < 0
		rgb = ebuSaturation.of(rgb)
		out[i].clipped = out[i].clipped || min(rgb[0], rgb[1], rgb[2]) < 0
		for k, v := range rgb {
			rgb[k] = math.Pow(min(bt709(max(0, v)), ebuPeak), 2.4)
		}
		xyz := ebuDisplay.of(rgb)
		out[i].lab = lab(XYZ{xyz[0], xyz[1], xyz[2]}, d65)
	}
	return out
}

// ebuPeak is the signal at code 255 where 235 is white: colours above white are kept up to there [EBU3355], clause 2.
const ebuPeak = 239. / 219

// bt709 returns the signal of a linear light [EBU3355], equation 26.
func bt709(v float64) float64 {
	if v < 0.018 {
		return 4.5 * v
	}
	return 1.099*math.Pow(v, 0.45) - 0.099
}
