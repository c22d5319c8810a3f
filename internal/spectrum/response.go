package spectrum

// Response returns the integrals over 360 to 830 nm of a source's power times each of three sensitivities, after filters or
// reflections it passes; the integration is LightOf's. Units are the source's times nm.
func Response(source Curve, sensors [3]Curve, through ...Curve) [3]float64 {
	var sum [3]float64
	sensor := [3]func(float64) float64{sensors[0].rising(), sensors[1].rising(), sensors[2].rising()}
	filters := make([]func(float64) float64, len(through))
	for i, f := range through {
		filters[i] = f.rising()
	}
	source.cells(func(nm, value, width float64, _ int) {
		power := value * width
		for _, f := range filters {
			power *= f(nm)
		}
		for k, s := range sensor {
			sum[k] += power * s(nm)
		}
	})
	return sum
}

// ResponseInBands returns what Response does of a source alone, band by band.
func ResponseInBands(source Curve, sensors [3]Curve) [3]Band {
	var sum [3]Band
	sensor := [3]func(float64) float64{sensors[0].rising(), sensors[1].rising(), sensors[2].rising()}
	source.cells(func(nm, value, width float64, band int) {
		for k, s := range sensor {
			sum[k][band] += value * width * s(nm)
		}
	})
	return sum
}
