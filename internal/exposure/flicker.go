package exposure

import (
	"math"

	"gloam/internal/unit"
)

// A lamp on the mains is brightest twice a cycle. The picture is steady if a frame holds a whole number of these pulses,
// or if all frames begin at the same place of one.

// SafeAngles returns the shutter angles at which every frame holds a whole number of pulses: the multiples of
// 360·fps/(2·mains) up to 360°, which only an open shutter reaches. Frame rate and mains are above 0.
func SafeAngles(rate unit.FPS, mains unit.Hertz) []unit.Degree {
	var angles []unit.Degree
	for _, t := range SafeTimes(rate, mains) {
		angles = append(angles, unit.Degree(360*float64(rate)*float64(t)))
	}
	return angles
}

// SafeTimes returns the exposure times of SafeAngles: the multiples of 1/(2·mains) up to the time of a frame.
func SafeTimes(rate unit.FPS, mains unit.Hertz) []unit.Second {
	var times []unit.Second
	for n := 1; ; n++ {
		t := unit.Second(float64(n) / (2 * float64(mains)))
		if !fits(t, rate) {
			return times
		}
		times = append(times, t)
	}
}

// SafeAtAnyAngle reports whether the frame rate divides the pulses of a second, so that all frames are alike.
func SafeAtAnyAngle(rate unit.FPS, mains unit.Hertz) bool {
	return Beat(rate, mains) < 1e-9*mains
}

// Beat returns how often a second the picture pulses at an angle that is not safe: the distance from the pulses of a
// second to the nearest multiple of the frame rate.
func Beat(rate unit.FPS, mains unit.Hertz) unit.Hertz {
	return unit.Hertz(math.Abs(math.Remainder(2*float64(mains), float64(rate))))
}

// Ripple returns the most that two frames can differ under a lamp whose light swings as a sine by the depth,
// (max − min)/(max + min): log2((1+r)/(1−r)), where r is the depth times |sin(πp)/(πp)| and p the pulses in the
// exposure time.
func Ripple(depth unit.Fraction, mains unit.Hertz, t unit.Second) unit.Stop {
	r := float64(depth) * math.Abs(sinc(2*float64(mains)*float64(t)))
	return unit.Stops((1 + r) / (1 - r))
}

// sinc returns sin(πx)/(πx).
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}
