package gear

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// A tube's far field against integrals on paper: I0·sin θ from its length over the sphere is π²·I0; the density of its
// samples is 1 over the sphere.
func TestTubeBeam(t *testing.T) {
	d, _ := beamOf(t, lampOf(t, "T1"), 0)
	near(t, "flux", float64(d.Flux()), math.Pi*math.Pi*450, 1e-12)
	near(t, "square-on", d.At(geometry.Vector{Z: 1}), 450, 1e-12)
	near(t, "from behind", d.At(geometry.Vector{Z: -1}), 450, 1e-12)
	near(t, "at 45° along", d.At(geometry.Vector{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}), 450*math.Sqrt2/2, 1e-12)
	if end := d.At(geometry.Vector{X: 1}); end != 0 {
		t.Errorf("the end sends %g cd, want none", end)
	}
	const n = 64
	sum := 0.0
	for i := range n {
		for j := range n {
			v, pdf := d.Sample((float64(i)+0.5)/n, (float64(j)+0.5)/n)
			if pdf != d.PDF(v) || math.Abs(v.Length()-1) > 1e-12 {
				t.Fatalf("sample %v has density %g, PDF %g", v, pdf, d.PDF(v))
			}
			sum += d.At(v) / pdf / (n * n)
		}
	}
	near(t, "flux by samples", sum, float64(d.Flux()), 1e-3)
}

// L = I0 over length times diameter; a far square-on receiver sees I0 again.
func TestTubeLuminance(t *testing.T) {
	l, ok := lampOf(t, "T1").Luminance()
	if !ok {
		t.Fatal("T1 is no tube")
	}
	near(t, "luminance", float64(l), 450/(1.2*0.04), 1e-12)
	if _, ok := lampOf(t, "P20").Luminance(); ok {
		t.Error("a panel has a tube's luminance")
	}
}

// The level near a matt opening of 1 cd square-on. Far away it is the inverse square for every shape; near it, by the form factor, the
// square 1 m wide at 1 m has F = 0.2395 and so π·0.2395 = 0.7524 lx, a disc one diameter away is 0.32 stop under the inverse square. The
// tube is compared with the sum over 2000 pieces.
func TestLevelNearAMattOpening(t *testing.T) {
	square := Opening{Shape: Rectangle, Width: 1, Height: 1}
	disc := Opening{Shape: Disc, Diameter: 1}
	tube := Opening{Shape: Tube, Width: 1.2, Diameter: 0.04}
	for _, o := range []Opening{square, disc, tube} {
		near(t, fmt.Sprintf("%s at 1 km", o), o.levelAt(1000)*1e6, 1, 1e-4)
	}
	near(t, "square", square.levelAt(1), math.Pi*0.2395, 2e-4)
	near(t, "disc", disc.levelAt(1), math.Exp2(-0.32), 0.003)

	const pieces = 2000
	sum, d := 0.0, 0.5
	for i := range pieces {
		x := 1.2 * ((float64(i)+0.5)/pieces - 0.5)
		cos2 := d * d / (d*d + x*x)
		sum += cos2 / (d*d + x*x) / pieces
	}
	near(t, "tube", tube.levelAt(unit.Metre(d)-tube.Diameter/2), sum, 1e-6)
}

// Levels that a matt opening of known intensity makes are read back to it.
func TestMattLevels(t *testing.T) {
	for _, opening := range []string{"disc 1.541 m", "0.60 x 0.30 m", "tube 1.2 x 0.04 m"} {
		var o Opening
		if err := o.Parse(opening); err != nil {
			t.Fatal(err)
		}
		levels := ""
		for _, d := range []unit.Metre{1, 1.5, 3} {
			levels += fmt.Sprintf("%.9g lx @ %g m, ", 4000*o.levelAt(d), float64(d))
		}
		text := "kit: 1\nlamps:\n  soft: {matt: {levels: [" + levels + "]}, opening: " + opening + ", reference: 5600 K}\n"
		k, faults := Read("kit.yaml", []byte(text), nil)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", opening, faults)
		}
		l, _ := k.Lamp("soft")
		d, _ := beamOf(t, l, 0)
		near(t, opening, float64(d.Peak()), 4000, 1e-8)
	}
}
