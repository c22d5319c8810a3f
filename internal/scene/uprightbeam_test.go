package scene

import "testing"

// slanted is a photometric file of 1,000 cd on the axis that falls to 0 at 90° of either angle, but for 800 cd at
// 45° vertical and 600 cd at 45° horizontal. Types of [LM-63]: 2 is B, 3 is A.
func slanted(kind string) string {
	return "IESNA:LM-63-2002\nTILT=NONE\n1 -1 1 5 5 " + kind + " 2 0.4 0.2 0\n1 1 120\n-90 -45 0 45 90\n-90 -45 0 45 90\n" +
		"0 0 0 0 0\n0 0 0 0 0\n0 0 1000 800 0\n0 0 600 0 0\n0 0 0 0 0\n"
}

// Positive vertical angles of types A and B are above the axis of a lamp that hangs level, positive horizontal ones to the
// right of who stands behind it ([LM-63], from memory). Type C, whose C90 half-plane is down, is TestPhotometryInPlaceOfTheBeam's.
func TestVerticalAnglesGoUp(t *testing.T) {
	for name, kind := range map[string]string{"type A": "3", "type B": "2"} {
		t.Run(name, func(t *testing.T) {
			e := builtWith(t, "lamps: {lamp: {kit: B12-D26, photometry: f.ies, at: 0 0 2, aim: N}}\n", shelf{"f.ies": slanted(kind)}).emitter(t, "lamp")
			for way, want := range map[vec]float64{
				{Y: 1}: 1000, {Y: 1, Z: 1}: 800, {Y: 1, Z: -1}: 0, {X: 1, Y: 1}: 600, {X: -1, Y: 1}: 0,
			} {
				within(t, "intensity", e.Beam.At(e.Basis.In(way.Unit())), want, 1e-6)
			}
		})
	}
}

// What is sampled is what is seen: the density of each direction is the one it was drawn with, and intensity over density
// averages to the flux.
func TestUprightBeamSamples(t *testing.T) {
	e := builtWith(t, "lamps: {lamp: {kit: B12-D26, photometry: f.ies, at: 0 0 2, aim: N}}\n", shelf{"f.ies": slanted("2")}).emitter(t, "lamp")
	sum, above := 0.0, 0
	const side = 64
	for i := range side * side {
		d, pdf := e.Beam.Sample((float64(i/side)+0.5)/side, (float64(i%side)+0.5)/side)
		within(t, "density", e.Beam.PDF(d), pdf, 1e-9*pdf)
		sum += e.Beam.At(d) / pdf
		if e.Basis.Out(d).Z > 0 {
			above++
		}
	}
	flux := float64(e.Beam.Flux())
	within(t, "flux", sum/(side*side), flux, 0.01*flux) // a lattice of 64 × 64
	if share := float64(above) / (side * side); share < 0.6 {
		t.Errorf("%.2f of the light goes up", share) // half of the patch about the axis, and all of that at 45°
	}
}
