package picture

import (
	"math"
	"testing"

	"gloam/internal/colour"

	"pgregory.net/rapid"
)

// The matrix as [IEC61966] prints it, equation 5 (from memory, four decimals).
func TestMatrixOfSRGB(t *testing.T) {
	matrixNear(t, rgbFromXYZ, matrix{
		{3.2406, -1.5372, -0.4986},
		{-0.9689, 1.8758, 0.0415},
		{0.0557, -0.2040, 1.0570},
	}, 4e-4) // the standard inverts a matrix rounded to four decimals
	matrixNear(t, xyzFromRGB, matrix{
		{0.4124, 0.3576, 0.1805},
		{0.2126, 0.7152, 0.0722},
		{0.0193, 0.1192, 0.9505},
	}, 6e-5)
}

// decodeSRGB is the inverse of encodeSRGB [IEC61966], equation 3.
func decodeSRGB(encoded float64) float64 {
	if encoded <= 0.04045 {
		return encoded / 12.92
	}
	return math.Pow((encoded+0.055)/1.055, 2.4)
}

func TestEncodeSRGB(t *testing.T) {
	// 18 % grey is 118 of 255, half light 188 (from memory, common knowledge of the curve).
	for linear, want := range map[float64]float64{0: 0, 0.18: 118, 0.5: 188, 1: 255} {
		if got := math.Round(255 * encodeSRGB(linear)); got != want {
			t.Errorf("%v is encoded as %v, want %v", linear, got, want)
		}
	}
	near(t, "the two parts meet", 12.92*0.0031308, 1.055*math.Pow(0.0031308, 1/2.4)-0.055, 1e-6)
	for x := 0.0; x <= 1; x += 1.0 / 512 {
		near(t, "there and back", decodeSRGB(encodeSRGB(x)), x, 1e-6)
	}
}

// Signals of display luminances as [BT2408], table 1, gives them for HDR reference white, a grey card and full scale; and
// 1000 cd/m², which is 75 % (from memory).
func TestPQ(t *testing.T) {
	for _, c := range []struct{ nits, percent float64 }{{203, 58}, {26, 38}, {10000, 100}, {1000, 75}, {0, 0}} {
		near(t, "signal", 100*encodePQ(c.nits), c.percent, 0.5)
	}
	for nits := 0.01; nits < 10000; nits *= 1.3 {
		near(t, "there and back", decodePQ(encodePQ(nits))/nits, 1, 1e-9)
	}
}

// A cubic is known by its value and slope at both ends: it leaves the straight part at the knee with slope 1 and meets the
// display's peak with slope 0 [BT2390].
func TestEETF(t *testing.T) {
	for _, c := range []struct{ source, display float64 }{{1152, 100}, {4000, 1000}, {300, 200}} {
		e := newEETF(c.source, c.display)
		most := encodePQ(c.display) / encodePQ(c.source)
		near(t, "knee", e.knee, 1.5*most-0.5, 1e-12)
		signal := func(share float64) float64 { return encodePQ(e.of(decodePQ(share*e.peak))) / e.peak }
		slope := func(at, step float64) float64 { return (signal(at+step) - signal(at)) / step }
		near(t, "value at the knee", signal(e.knee), e.knee, 1e-9)
		near(t, "slope before the knee", slope(e.knee, -1e-5), 1, 1e-3)
		near(t, "slope after the knee", slope(e.knee, 1e-5), 1, 1e-3)
		near(t, "value at the peak", e.of(c.source), c.display, 1e-6*c.display)
		near(t, "slope at the peak", slope(1, -1e-5), 0, 1e-3)
		near(t, "beyond the peak", e.of(10*c.source), c.display, 1e-6*c.display)
		for last, nits := 0.0, 0.001; nits < c.source; nits *= 1.01 {
			if got := e.of(nits); got <= last || got > nits*(1+1e-9) {
				t.Fatalf("%v cd/m² of %v becomes %v after %v", nits, c, got, last)
			} else {
				last = got
			}
		}
	}
}

// Grey and all below it keep their stops; that needs the knee above grey.
func TestGreyAndBelowStayAsTheyAre(t *testing.T) {
	for stops := -10.0; stops <= 0.5; stops += 0.5 {
		nits := 18 * math.Exp2(stops)
		near(t, "tone", rollOff.of(nits), nits, 1e-9*nits)
	}
	if at := rollOff.of(18 * 4); at > 0.9*18*4 {
		t.Errorf("two stops over grey is %v cd/m²: not rolled off", at)
	}
}

func TestNothingClips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		component := rapid.Float64Range(-0.5, 60)
		rgb := [3]float64{component.Draw(t, "r"), component.Draw(t, "g"), component.Draw(t, "b")}
		fit := intoGamut(rgb)
		for _, v := range fit {
			if v < 0 {
				t.Fatalf("%v is brought to %v", rgb, fit)
			}
		}
		grey := func(c [3]float64) float64 { return xyzFromRGB.of(c[0], c[1], c[2])[1] }
		if want := max(0, grey(rgb)); math.Abs(grey(fit)-want) > 1e-9*(1+want) {
			t.Fatalf("%v of luminance %v is brought to %v of %v", rgb, want, fit, grey(fit))
		}
		p := shown(rgb)
		most := max(fit[0], fit[1], fit[2])
		for k, v := range [3]uint16{p.R, p.G, p.B} {
			// In proportion to the greatest, so of the same hue and saturation; half a step of 16 bits is lost.
			want := 0.0
			if most > 0 {
				want = fit[k] / most * decodeSRGB(float64(max(p.R, p.G, p.B))/math.MaxUint16)
			}
			if got := decodeSRGB(float64(v) / math.MaxUint16); math.Abs(got-want) > 5e-5 {
				t.Fatalf("%v is shown as %v", rgb, p)
			}
		}
	})
}

func TestDisplayOfGreySteps(t *testing.T) {
	c := &Composite{Width: 3, Height: 1}
	level := 0.18 * float64(testCamera.Key()) / math.Pi
	for _, stops := range []float64{0, -3, 6} {
		c.Pixels = append(c.Pixels, testCamera.white().Scale(level*math.Exp2(stops)))
	}
	img := Display(c, testCamera)
	for x, linear := range []float64{0.18, 0.18 / 8, 1} {
		p := img.RGBA64At(x, 0)
		if p.R != p.G || p.G != p.B || p.A != math.MaxUint16 {
			t.Errorf("pixel %d is %v, not grey", x, p)
		}
		near(t, "tone", decodeSRGB(float64(p.G)/math.MaxUint16), linear, 2e-5)
	}
	if p := Display(&Composite{1, 1, []colour.XYZ{{}}}, testCamera).RGBA64At(0, 0); p.R != 0 || p.A != math.MaxUint16 {
		t.Errorf("darkness is %v", p)
	}
}
