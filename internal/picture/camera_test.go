package picture

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"

	"pgregory.net/rapid"
)

func matrixNear(t *testing.T, got, want matrix, tolerance float64) {
	t.Helper()
	for i := range want {
		for j := range want[i] {
			if math.Abs(got[i][j]-want[i][j]) > tolerance {
				t.Errorf("row %d, column %d: got %.7f, want %.7f", i+1, j+1, got[i][j], want[i][j])
			}
		}
	}
}

// Illuminant A to D65, full adaptation; worked out with an independent colour library (colour 0.4.6) from the matrix of
// [Li2017].
func TestCAT16(t *testing.T) {
	a := colour.XYZ{X: 1.09850, Y: 1, Z: 0.35585}
	d := colour.XYZ{X: 0.95047, Y: 1, Z: 1.08883}
	matrixNear(t, cat16(a, d), matrix{
		{0.950689, -0.187376, 0.262791},
		{-0.025665, 1.032307, -0.011560},
		{-0.002741, 0.090967, 2.812626},
	}, 2e-6)
}

func TestCAT16TakesWhiteToWhiteAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		white := func(name string) colour.XYZ {
			k := unit.Kelvin(rapid.Float64Range(1700, 20000).Draw(t, name))
			return Camera{Balance: k}.white()
		}
		from, to := white("from"), white("to")
		forth, back := cat16(from, to), cat16(to, from)
		got := forth.ofXYZ(from)
		for k, want := range [3]float64{to.X, to.Y, to.Z} {
			if math.Abs(got[k]-want) > 1e-12 {
				t.Fatalf("white goes to %v, want %v", got, to)
			}
		}
		for i, row := range forth.times(back) {
			for j, v := range row {
				if math.Abs(v-diagonal([3]float64{1, 1, 1})[i][j]) > 1e-12 {
					t.Fatal("there and back is not nothing")
				}
			}
		}
	})
}

// A grey card in light at the key is 0.18 in R, G and B, whatever the balance, if the light is what the camera is
// balanced to.
func TestGreyCardAtTheKey(t *testing.T) {
	for _, balance := range []unit.Kelvin{2700, 3200, 4300, 5600, 10000} {
		cam := testCamera
		cam.Balance = balance
		level := float64(cam.Key())
		card := colour.MixtureOf([]spectrum.Light{spectrum.LightOf(spectrum.Planck(balance))}, []unit.Lux{1}).Scale(0.18 * level / math.Pi)
		m := cam.scene()
		for _, v := range m.ofXYZ(card) {
			near(t, balance.String(), v, 0.18, 1e-6)
		}
	}
}

func TestLightOffTheBalanceIsTinted(t *testing.T) {
	lit := func(k unit.Kelvin) [3]float64 {
		m := testCamera.scene() // balanced to 3200 K
		return m.ofXYZ(colour.MixtureOf([]spectrum.Light{spectrum.LightOf(spectrum.Planck(k))}, []unit.Lux{1}))
	}
	if day := lit(5600); !(day[2] > day[1] && day[1] > day[0]) {
		t.Errorf("daylight in a tungsten balance is %v, not blue", day)
	}
	if candle := lit(2000); !(candle[0] > candle[1] && candle[1] > candle[2]) {
		t.Errorf("a candle in a tungsten balance is %v, not warm", candle)
	}
}

func TestBalanceMustBeThere(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("did not panic")
		}
	}()
	cam := testCamera
	cam.Balance = 0
	cam.scene()
}

// The pixel's stops are those of exposure for its luminance, not of the printed tone.
func TestProbe(t *testing.T) {
	c := Compose(noisy(synthetic(64, 36), 4, 3), dials(1, 1, 1, 1, 1))
	for _, at := range [][2]int{{0, 0}, {10, 10}, {20, 30}, {63, 35}} {
		r := c.Probe(at[0], at[1], testCamera.Camera)
		l := unit.Nit(c.Pixels[at[1]*64+at[0]].Y)
		if r.Luminance != l || r.OverGrey != testCamera.OverGrey(l) {
			t.Errorf("%v: got %v, want %v and %v", at, r, l, testCamera.OverGrey(l))
		}
		// OverGrey is log2 of the reflectance over 0.18.
		near(t, "reflectance", float64(r.Reflectance), 0.18*r.OverGrey.Factor(), 1e-12*float64(r.Reflectance))
	}
	// 250 lx on a card of 0.18 is the key: 14.32 cd/m², at stop.
	one := &Composite{1, 1, []colour.XYZ{{Y: 0.18 * 250 / math.Pi}}}
	near(t, "stops of a grey card", float64(one.Probe(0, 0, testCamera.Camera).OverGrey), 0, 1e-12)
	if dark := (&Composite{1, 1, make([]colour.XYZ, 1)}).Probe(0, 0, testCamera.Camera); !math.IsInf(float64(dark.OverGrey), -1) {
		t.Errorf("darkness is %v stops", dark.OverGrey)
	}
}

func TestProbeOutsideThePicturePanics(t *testing.T) {
	for _, at := range [][2]int{{-1, 0}, {0, -1}, {1, 0}, {0, 1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v did not panic", at)
				}
			}()
			(&Composite{1, 1, make([]colour.XYZ, 1)}).Probe(at[0], at[1], testCamera.Camera)
		}()
	}
}
