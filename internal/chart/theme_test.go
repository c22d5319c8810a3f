package chart

import (
	"math"
	"testing"
)

// luminance is the relative luminance of [WCAG22]; its threshold of 0.04045 is that of [IEC61966].
func luminance(c Colour) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// contrast is the contrast ratio of [WCAG22].
func contrast(a, b Colour) float64 {
	high, low := max(luminance(a), luminance(b)), min(luminance(a), luminance(b))
	return (high + 0.05) / (low + 0.05)
}

// The ratios are those of [WCAG22]'s own definition, 21:1, and of a grey just past the threshold of 4.5:1 (from memory).
func TestContrast(t *testing.T) {
	if got := contrast(Colour{}, Colour{255, 255, 255}); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white is %.3f:1, want 21:1", got)
	}
	if got := contrast(Colour{0x76, 0x76, 0x76}, Colour{255, 255, 255}); math.Abs(got-4.54) > 0.005 {
		t.Errorf("#767676 on white is %.3f:1, want 4.54:1", got)
	}
}

var themes = map[string]Theme{"paper": Paper, "night": Night, "rain": Rain}

func TestEveryTextStandsOut(t *testing.T) {
	for name, theme := range themes {
		t.Run(name, func(t *testing.T) {
			for _, d := range everyChart(Frame{Width: 640, Height: 480, Theme: theme}) {
				for _, item := range d.Items {
					if item.Text == nil {
						continue
					}
					if got := contrast(item.Text.Colour, d.Ground); got < 7 {
						t.Errorf("%q in %s is %.2f:1 on %s, want 7:1", item.Text.String, item.Text.Colour, got, d.Ground)
					}
				}
			}
		})
	}
}

// Light of long wavelengths leaves the rods their adaptation: of the display's primaries that is red with some green. The
// bound on blue is our own choice.
func TestNightIsOfLongWavelengths(t *testing.T) {
	for _, c := range []Colour{Night.Ground, Night.Ink, Night.Muted, Night.Rule, Night.Warm, Night.Cool} {
		if c.B > 0x30 || c.G > c.R/2 {
			t.Errorf("%s is not of long wavelengths", c)
		}
	}
	if luminance(Night.Ink) > luminance(Rain.Ground)/2 {
		t.Error("night is not dim")
	}
}
