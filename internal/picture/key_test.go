package picture

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gloam/internal/unit"
)

// linear returns an ink's linear sRGB.
func linear(i ink) [3]float64 {
	return [3]float64{decodeSRGB(float64(i[0]) / 255), decodeSRGB(float64(i[1]) / 255), decodeSRGB(float64(i[2]) / 255)}
}

// lab returns CIE 1976 L*, a*, b* of linear sRGB with D65 as white [CIE15], clause 8.2.1.
func lab(rgb [3]float64) (l, a, b float64) {
	white := d65.XYZ(1)
	xyz := xyzFromRGB.of(rgb[0], rgb[1], rgb[2])
	f := func(t float64) float64 {
		if t > math.Pow(24.0/116, 3) {
			return math.Cbrt(t)
		}
		return 841.0/108*t + 16.0/116
	}
	x, y, z := f(xyz[0]/white.X), f(xyz[1]), f(xyz[2]/white.Z)
	return 116*y - 16, 500 * (x - y), 200 * (y - z)
}

// contrast returns (L1 + 0.05)/(L2 + 0.05) of two relative luminances, as WCAG 2.1 defines it (from memory).
func contrast(a, b ink) float64 {
	y := func(i ink) float64 { rgb := linear(i); return xyzFromRGB.of(rgb[0], rgb[1], rgb[2])[1] + 0.05 }
	return max(y(a), y(b)) / min(y(a), y(b))
}

// area returns the mean over a class's pattern, as an eye or a print far enough away sees it.
func area(class uint8, see func([3]float64) [3]float64) (l, a, b float64) {
	var mean [3]float64
	for y := range patternPeriod {
		for x := range patternPeriod {
			for k, v := range see(linear(at(class, x, y, 1))) {
				mean[k] += v / (patternPeriod * patternPeriod)
			}
		}
	}
	return lab(mean)
}

// A grey print keeps the order: lightness rises with every class, patterns and all, and from band to band in even steps.
func TestLightnessRisesWithExposure(t *testing.T) {
	same := func(c [3]float64) [3]float64 { return c }
	last := 0.0
	for c := uint8(0); c < classes; c++ {
		l, _, _ := area(c, same)
		if l <= last+1 {
			t.Errorf("class %d is as light as L* %.1f after %.1f", c, l, last)
		}
		if c > noiseClass && c < clipClass {
			near(t, fmt.Sprintf("L* of class %d", c), l, 18+float64(c-1)*76/14, 0.6)
		}
		last = l
	}
}

func TestHueIsCoolBelowGreyAndWarmAbove(t *testing.T) {
	for c := uint8(1); c < clipClass; c++ {
		_, a, b := lab(linear(grounds[c]))
		band, chroma, hue := int(c)+lowest-1, math.Hypot(a, b), math.Mod(math.Atan2(b, a)*180/math.Pi+360, 360)
		switch {
		case band == 0 && chroma > 0.5:
			t.Errorf("band 0 has a chroma of %.1f", chroma)
		case band < 0 && (math.Abs(hue-258) > 6 || chroma < 15 || chroma > 32):
			t.Errorf("band %d has hue %.0f° and chroma %.0f: not slate", band, hue, chroma)
		case band > 0 && (hue < 70 || hue > 90 || chroma < 15 || chroma > 46):
			t.Errorf("band %d has hue %.0f° and chroma %.0f: not ochre", band, hue, chroma)
		}
	}
}

// Simulated vision without one kind of cone [Machado2009], table 1, severity 1.0, on linear sRGB: no two classes that
// follow each other come near in lightness, and the order stays.
func TestKeyWithoutOneKindOfCone(t *testing.T) {
	for name, m := range map[string]matrix{
		"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	} {
		t.Run(name, func(t *testing.T) {
			see := func(c [3]float64) [3]float64 {
				seen := m.of(c[0], c[1], c[2])
				for k := range seen {
					seen[k] = max(0, min(1, seen[k]))
				}
				return seen
			}
			last, _, _ := area(1, see)
			for c := uint8(2); c < clipClass; c++ {
				l, _, _ := area(c, see)
				if l < last+4 {
					t.Errorf("band %d is as light as L* %.1f after %.1f", int(c)+lowest-1, l, last)
				}
				last = l
			}
			if dark, _, _ := area(noiseClass, see); dark > 18 {
				t.Errorf("the noise floor is as light as L* %.1f", dark)
			}
			if light, _, _ := area(clipClass, see); light < last {
				t.Errorf("the clip is as light as L* %.1f", light)
			}
		})
	}
}

func TestNumbersStandOut(t *testing.T) {
	for c := uint8(0); c < classes; c++ {
		if got := contrast(grounds[c], letters(c)); got < 4.5 {
			t.Errorf("class %d: letters stand out by %.1f:1", c, got)
		}
	}
	if got := contrast(grounds[noiseClass], dotInk); got < 2.5 {
		t.Errorf("dots stand out by %.1f:1", got)
	}
	if got := contrast(grounds[clipClass], hatchInk); got < 4.5 {
		t.Errorf("hatching stands out by %.1f:1", got)
	}
}

func TestClassOfATone(t *testing.T) {
	k := key{-6, 4.5}
	for over, label := range map[unit.Stop]string{
		unit.Stop(math.Inf(-1)): "noise", -7: "noise", -6: "noise", -5.99: "−6", -5.51: "−6", -5.5: "−5", -0.51: "−1",
		-0.5: "0", 0: "0", 0.49: "0", 0.5: "+1", 4.49: "+4", 4.5: "clip", 30: "clip",
	} {
		if got := k.label(k.class(over)); got != label {
			t.Errorf("%v is %q, want %q", float64(over), got, label)
		}
	}
}

// The legend shows every class that a tone can fall in, and no other.
func TestLegendShowsWhatCanOccur(t *testing.T) {
	for _, k := range []key{{-6, 4.5}, {-6, 4.6}, {-6.5, 5.4}, {-12, 9}, {-8.5, 6.5}, {-1, 1}, {0.1, 0.2}, {-20, -10}, {10, 20}} {
		occurs := map[uint8]bool{}
		for over := -25.0; over < 25; over += 1.0 / 64 {
			occurs[k.class(unit.Stop(over))] = true
		}
		var want []uint8
		for c := range uint8(classes) {
			if occurs[c] {
				want = append(want, c)
			}
		}
		if got := k.shown(); !slices.Equal(got, want) {
			t.Errorf("%v: shows %v, want %v", k, got, want)
		}
	}
	wide := key{-12, 9}
	if got := wide.label(1); got != "≤−8" {
		t.Errorf("the lowest band of a wide range is %q", got)
	}
	if got := wide.label(clipClass - 1); got != "≥+6" {
		t.Errorf("the highest band of a wide range is %q", got)
	}
}
