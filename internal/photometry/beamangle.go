package photometry

import "gloam/internal/unit"

// BeamAngle returns the full angle about the axis outside which the intensity stays below share times the peak: 0.5
// gives the beam angle, 0.1 the field angle. It is measured in the planes C0–C180 and C90–C270 and averaged. A light
// that reaches the share toward every side has 360°; where the peak stands in neither plane and the share is not
// reached there, that plane counts 0. A lobe narrower than 0.1° away from the axis may be missed; error otherwise
// under 1e-6°. Panics unless 0 < share ≤ 1.
func BeamAngle(d Distribution, share float64) unit.Degree {
	if !(share > 0 && share <= 1) {
		panic("photometry: the share of a beam angle must lie above 0 and up to 1")
	}
	least := share * float64(d.Peak())
	sum := 0.0
	for c := unit.Degree(0); c < turn; c += 90 {
		sum += outermost(d, c, least)
	}
	return unit.Degree(sum / 2)
}

// outermost returns the greatest γ, in degrees, at which the half-plane C still has the intensity least: a walk from
// the back inward, then bisection.
func outermost(d Distribution, c unit.Degree, least float64) float64 {
	const steps = 1800
	// A hair of slack lets an intensity that equals the share by its formula count in spite of rounding.
	least *= 1 - 1e-12
	reaches := func(gamma float64) bool { return d.At(Direction(c, unit.Degree(gamma))) >= least }
	gamma := func(i int) float64 { return 180 * float64(i) / steps }
	i := steps
	for i >= 0 && !reaches(gamma(i)) {
		i--
	}
	if i < 0 {
		return 0
	}
	if i == steps {
		return 180
	}
	in, out := gamma(i), gamma(i+1)
	for out-in > 1e-7 {
		if mid := (in + out) / 2; reaches(mid) {
			in = mid
		} else {
			out = mid
		}
	}
	return (in + out) / 2
}
