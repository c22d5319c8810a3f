package colour

import (
	"testing"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

func TestMired(t *testing.T) {
	// 10⁶/K, whole numbers as crews know them.
	for _, c := range []struct {
		kelvin unit.Kelvin
		mired  float64
	}{{2700, 370}, {3200, 312}, {3600, 278}, {4300, 233}, {5000, 200}, {5600, 179}, {6500, 154}, {7600, 132}, {8000, 125}, {10000, 100}} {
		within(t, "mired", float64(c.kelvin.Mired()), c.mired, 1)
	}
	// What 100 K are worth in mired.
	for _, c := range []struct {
		kelvin unit.Kelvin
		mired  float64
	}{{2700, 13}, {5600, 3.1}, {7600, 1.7}} {
		within(t, "100 K", float64(MiredFromBalance(c.kelvin, c.kelvin+100)), c.mired, 0.25)
	}
}

func TestMiredFromBalance(t *testing.T) {
	for _, c := range []struct {
		name            string
		kelvin, balance unit.Kelvin
		want            float64
	}{
		{"daylight to tungsten gel", 3200, 5600, 133.93},
		{"tungsten to daylight gel", 5600, 3200, -133.93},
		{"tungsten to mid white", 4300, 3200, -79.94},
		{"daylight to mid white", 4300, 5600, 53.99},
		{"A to D65", 6504, 2856, -196.39},
		{"lamp against the ferry's balance", 3200, 5000, 112.5},
		{"ambient against the ferry's balance", 7000, 5000, -57.14},
		{"lamp and globe of the luthier", 2700, 3600, 92.59},
		{"window of the luthier", 7500, 3600, -144.44},
		{"square: lamp against the sky at the reference", 5600, 6500, 24.73},
		{"double warming", 3600, 7600, 146.2},
	} {
		within(t, c.name, float64(MiredFromBalance(c.kelvin, c.balance)), c.want, 0.01)
	}
}

// Following the sky at a constant mired distance gives the lamp's kelvin of the day in the square.
func TestFollowingTheSky(t *testing.T) {
	distance := MiredFromBalance(5600, 6500)
	for _, c := range []struct{ sky, lamp unit.Kelvin }{{7200, 6110}, {6500, 5600}, {6300, 5450}, {6600, 5670}, {7600, 6400}, {6900, 5890}} {
		within(t, "lamp", float64(c.sky.Mired()+distance), float64(c.lamp.Mired()), 0.3)
	}
	// A 3200 K source through -137 mired, a 5600 K source through +159 mired.
	within(t, "blue gel", 1e6/float64(unit.Kelvin(3200).Mired()-137), 5698, 1)
	within(t, "orange gel", 1e6/float64(unit.Kelvin(5600).Mired()+159), 2962, 1)
}

func TestWords(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{Warmth(0), "neutral"}, {Warmth(4.9), "neutral"}, {Warmth(-5), "slightly cool"}, {Warmth(9.9), "slightly warm"},
		{Warmth(10), "warm"}, {Warmth(-57), "cool"},
		{Tint(0), "neutral"}, {Tint(0.002), "neutral"}, {Tint(-0.002), "neutral"}, {Tint(0.0021), "slightly green"},
		{Tint(-0.005), "slightly pink"}, {Tint(0.006), "green"}, {Tint(-0.006), "pink"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// mixed returns colour temperature and Duv of a mixture.
func mixed(t *testing.T, lights []spectrum.Light, levels []unit.Lux) (cct, duv float64) {
	t.Helper()
	k, duv, err := CCTDuv(MixtureOf(lights, levels))
	if err != nil {
		t.Fatal(err)
	}
	return float64(k), duv
}

func TestTwoWhitesSagToPink(t *testing.T) {
	warm, cool := spectrum.LightOf(spectrum.Planck(2700)), spectrum.LightOf(illuminant(t, "D65"))
	cct, duv := mixed(t, []spectrum.Light{warm, cool}, []unit.Lux{500, 500})
	within(t, "CCT of 2700 K and D65", cct, 3990, 15)
	within(t, "Duv of 2700 K and D65", duv, -0.005, 0.0005)
	cool = spectrum.LightOf(spectrum.Planck(6500))
	cct, duv = mixed(t, []spectrum.Light{warm, cool}, []unit.Lux{500, 500})
	within(t, "CCT of 2700 K and 6500 K", cct, 3980, 75)
	within(t, "Duv of 2700 K and 6500 K", duv, -0.0055, 0.001)
	if Tint(duv) == "neutral" {
		t.Error("the sag goes unnamed")
	}
}

func TestOfficeWindow(t *testing.T) {
	tubes, err := spectrum.BiColour(4000, 0.008)
	if err != nil {
		t.Fatal(err)
	}
	day, err := spectrum.Daylight(6200)
	if err != nil {
		t.Fatal(err)
	}
	half, err := spectrum.ParseGel("half CTO")
	if err != nil {
		t.Fatal(err)
	}
	within(t, "shift", float64(half.Shift), 109, 0)
	within(t, "transmittance", float64(half.Transmittance), 0.71, 0)

	// The gelled window of the worked set-up: 161.3 + 109 = 270.3 mired, 3700 K; the gel makes 639 lx of 900.
	behind := spectrum.LightOf(day).Through(half.Band)
	level := Of(behind, spectrum.Grey(1).Band())
	within(t, "gelled window", level.Y*900, 639, 10)
	cct, _, err := CCTDuv(level)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "gelled window, mired", float64(cct.Mired()), 270.3, 2)

	window, err := spectrum.BiColour(3700, 0)
	if err != nil {
		t.Fatal(err)
	}
	face, duv := mixed(t, []spectrum.Light{window, tubes}, []unit.Lux{639, 210})
	within(t, "face, K", face, 3775, 75)
	within(t, "face, Duv", duv, 0.002, 0.001)
	ungelled, duv := mixed(t, []spectrum.Light{spectrum.LightOf(day), tubes}, []unit.Lux{900, 210})
	within(t, "ungelled, K", ungelled, 5640, 75)
	within(t, "ungelled, Duv", duv, 0.003, 0.001)
}
