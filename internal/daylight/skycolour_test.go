package daylight

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// The table the colours were taken from comes back at its own altitudes.
func TestColoursAreTheTables(t *testing.T) {
	for _, r := range rows(t, "clear_sky_spectral.csv") {
		kind := Clear
		if r["aod500"] > 0.2 {
			kind = Hazy
		}
		h := unit.Degree(r["sun_alt_deg"])
		sun, sky := SunColour(h, kind), SkyColour(h, kind)
		what := fmt.Sprintf("%v at %v: ", kind, h)
		near(t, what+"sun", float64(sun.Kelvin), r["CCT_direct"], 0.04) // the table's altitudes are apparent ones
		near(t, what+"sky", float64(sky.Kelvin), r["CCT_diffuse"], 0.03)
		if math.Abs(sun.Duv-r["Duv_direct"]) > 5e-4 || math.Abs(sky.Duv-r["Duv_diffuse"]) > 5e-4 {
			t.Errorf("%sDuv %.5f and %.5f, want %.5f and %.5f", what, sun.Duv, sky.Duv, r["Duv_direct"], r["Duv_diffuse"])
		}
	}
}

// Sun and sky of the model added up, against sun and sky of the spectral table and against measured daylight: 5700 K is
// typical of sun and sky, all skies [Hernandez2001]; the solar spectrum ASTM G173 (sun at 42°, turbid) is 5232 K direct.
func TestMixedDaylight(t *testing.T) {
	for _, r := range rows(t, "clear_sky_spectral.csv") {
		if r["sun_alt_deg"] < 15 || r["aod500"] > 0.2 {
			continue
		}
		l := LevelsAt(unit.Degree(r["sun_alt_deg"]), 100, Clear)
		var lights []spectrum.Light
		for _, c := range []Colour{SunColour(unit.Degree(r["sun_alt_deg"]), Clear), SkyColour(unit.Degree(r["sun_alt_deg"]), Clear)} {
			light, err := c.Light()
			if err != nil {
				t.Fatal(err)
			}
			lights = append(lights, light)
		}
		cct, _, err := colour.CCTDuv(colour.MixtureOf(lights, []unit.Lux{l.Global - l.Diffuse, l.Diffuse}))
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("sun and sky at %g°", r["sun_alt_deg"]), float64(cct), r["CCT_global"], 0.04)
		if math.Abs(float64(cct)-5700) > 300 {
			t.Errorf("sun and sky at %g°: %v, 5700 K is typical", r["sun_alt_deg"], cct)
		}
	}
	if c := SunColour(42, Clear); math.Abs(float64(c.Kelvin.Mired()-unit.Kelvin(5232).Mired())) > float64(c.Interval) {
		t.Errorf("sun at 42°: %v ± %v, the standard spectrum is 5232 K", c.Kelvin, c.Interval)
	}
}

// Common photographic figures (common practice): sun near the horizon 2000 to 3000 K, 3500 K at 10°, 4000 to 4300 K at 20°,
// 5000 to 5600 K from 40°, all about 15 %; overcast 6000 to 7500 K; clear blue sky 8000 to 12 000 K; dusk 9000 to 15 000 K.
func TestColoursOfTheTrade(t *testing.T) {
	for _, c := range []struct {
		name      string
		got       Colour
		low, high unit.Kelvin
	}{
		{"sun at the horizon", SunColour(0, Clear), 2000, 3000},
		{"sun at the horizon, hazy", SunColour(0, Hazy), 1700, 3000},
		{"sun at 10°", SunColour(10, Clear), 3000, 4000},
		{"sun at 20°", SunColour(20, Clear), 3650, 4950},
		{"sun at 50°", SunColour(50, Clear), 5000, 5600},
		{"clear sky", SkyColour(40, Clear), 8000, 12000},
		{"hazy sky", SkyColour(40, Hazy), 7000, 9000},
		{"overcast", SkyColour(40, Overcast), 6000, 7500},
		{"clear dusk", SkyColour(-6, Clear), 9000, 15000},
		{"overcast dusk", SkyColour(-6, Overcast), 8900, 15000},
	} {
		if c.got.Kelvin < c.low || c.got.Kelvin > c.high || !(c.got.Interval > 0) {
			t.Errorf("%s: %v ± %v, want %v to %v", c.name, c.got.Kelvin, c.got.Interval, c.low, c.high)
		}
	}
}

// Colours change without a jump and are ones the program can make a light of.
func TestColoursAreContinuous(t *testing.T) {
	for k := range kindCount {
		sun, sky := SunColour(-20, k), SkyColour(-20, k)
		for h := unit.Degree(-20); h <= 90; h += 0.05 {
			nextSun, nextSky := SunColour(h, k), SkyColour(h, k)
			for _, pair := range [][2]Colour{{sun, nextSun}, {sky, nextSky}} {
				if math.Abs(float64(pair[0].Kelvin.Mired()-pair[1].Kelvin.Mired())) > 5 {
					t.Fatalf("%v at %v: %v after %v", k, h, pair[1].Kelvin, pair[0].Kelvin)
				}
			}
			sun, sky = nextSun, nextSky
		}
		for h := unit.Degree(-20); h <= 90; h += 2 {
			for _, c := range []Colour{SunColour(h, k), SkyColour(h, k)} {
				if _, err := c.Light(); err != nil {
					t.Errorf("%v at %v: %v", k, h, err)
				}
			}
		}
	}
}
