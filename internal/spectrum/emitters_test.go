package spectrum

import (
	"slices"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

func TestLED(t *testing.T) {
	c := LED(523, 33)
	within(t, "peak", c.At(523), 1, 1e-12)
	within(t, "lower half", c.At(523-16.5), 0.5, 0.002) // between samples of 1 nm
	within(t, "upper half", c.At(523+16.5), 0.5, 0.002)
	// A line of 5 nm keeps its colour: that of its wavelength.
	l := LightOf(LED(589, 5))
	x, y, z := observer(589)
	within(t, "x of a narrow LED", sum(l.X)/(sum(l.X)+sum(l.Y)+sum(l.Z)), x/(x+y+z), 2e-3)
}

func TestColourMixing(t *testing.T) {
	for _, letters := range []string{"RGB", "RGBA", "RGBW"} {
		set, ok := EmitterSet(letters)
		if !ok || len(set) != len(letters) {
			t.Fatal(letters)
		}
		for _, k := range []unit.Kelvin{2700, 4000, 5600, 9000} {
			levels, mix, err := set.Drive(k, -0.003)
			if err != nil {
				t.Fatal(letters, k, err)
			}
			along, duv := fromLocus(mix, float64(k))
			within(t, letters+" along", along, 0, 5e-5) // the white's table is at 5 nm, the mix at 1 nm
			within(t, letters+" Duv", duv, -0.003, 5e-5)
			flux := 0.0
			for i, l := range levels {
				if l < 0 || l > 1 {
					t.Errorf("%s at %v K: level %v of %s", letters, k, l, set[i].Name)
				}
				flux += float64(l) * set[i].Flux
			}
			if slices.Max(levels) < 1-1e-9 {
				t.Errorf("%s at %v K: no emitter is driven fully: %v", letters, k, levels)
			}
			// More emitters never give less light of the same colour.
			if base, _ := EmitterSet("RGB"); letters != "RGB" {
				less, _, _ := base.Drive(k, -0.003)
				sum := 0.0
				for i, l := range less {
					sum += float64(l) * base[i].Flux
				}
				if flux < sum-1e-6 {
					t.Errorf("%s at %v K gives %.1f, RGB alone %.1f", letters, k, flux, sum)
				}
			}
		}
	}
	if _, ok := EmitterSet("XYZ"); ok {
		t.Error("knows a set of no meaning")
	}
	three := Emitters{{"red", LED(632, 18), 1}, {"amber", LED(594, 15), 1}, {"green", LED(523, 33), 1}}
	if _, _, err := three.Drive(5600, 0); fault.Code(err) != 1 {
		t.Errorf("white without blue: %v", err)
	}
}
