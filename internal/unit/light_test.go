package unit

import (
	"math"
	"testing"
)

func TestLight(t *testing.T) {
	reads(t, func() quantity { return new(Lux) }, map[string][]float64{
		"640 lx": {640}, "640": {640}, "1.2 klx": {1200}, "1,2 klx": {1200}, "10 000 lx": {10000}, "59 FC": {635.070714585874},
		"100 foot-candles": {1076.39104167097}, "1e5 lux": {1e5}, "0": {0},
	})
	refuses(t, func() quantity { return new(Lux) }, map[string]string{
		"-1 lx": "−1 lx is below 0 lx", "5 cd/m²": "is a luminance, an illuminance is wanted", "bright": "is not an illuminance",
	})
	reads(t, func() quantity { return new(LuxAt) }, map[string][]float64{
		"10000 lx @ 5 m": {10000, 5}, "250klx@1m": {250000, 1}, "929 fc at 16 ft": {9999.67277712333, 4.8768},
	})
	refuses(t, func() quantity { return new(LuxAt) }, map[string]string{
		"10000 lx":        "is not a level at a distance; an @ stands between them",
		"10000 lx @ 0 m":  "has a level or a distance that is not above 0",
		"10000 lx @ 5 kg": "distance is a mass, a length is wanted",
		"5 kg @ 5 m":      "level is a mass, an illuminance is wanted",
	})
	reads(t, func() quantity { return new(Nit) }, map[string][]float64{
		"2400 cd/m2": {2400}, "2400 cd/m²": {2400}, "2400 cd/m^2": {2400}, "5 nt": {5}, "5 nits": {5}, "100 fL": {342.625909963539},
	})
	reads(t, func() quantity { return new(Candela) }, map[string][]float64{
		"250 kcd": {250000}, "250000 cd": {250000}, "250 000": {250000}, "10000 lx @ 5 m": {250000},
	})
	refuses(t, func() quantity { return new(Candela) }, map[string]string{
		"1e9 lx @ 10 km": "1e+17 cd is above 10000000000 cd",
	})
	reads(t, func() quantity { return new(Lumen) }, map[string][]float64{"470 lm": {470}, "57.6 klm": {57600}})
	prints(t, map[string]Lux{"640 lx": 640, "46300 lx": 46308, "11.2 lx": 11.15001, "0.045 lx": 0.045, "0 lx": 0, "1000 lx": 999.9})
	prints(t, map[string]Candela{"250 kcd": 250000, "450 cd": 450, "1 kcd": 999.9})
	prints(t, map[string]Lumen{"57.6 klm": 57600, "470 lm": 470})
	prints(t, map[string]Nit{"2400 cd/m²": 2400, "36.7 cd/m²": 36.67})
	if got := Lux(640).WithFootCandles(); got != "640 lx (59.5 fc)" {
		t.Errorf("illuminance in both units: %s", got)
	}
	if got := Nit(2400).WithFootLamberts(); got != "2400 cd/m² (700 fL)" {
		t.Errorf("luminance in both units: %s", got)
	}
}

// One foot-candle is one lumen on a square foot, one foot-lambert 1/π cd on a square foot; a foot is 0.3048 m.
func TestFootCandleAndFootLambert(t *testing.T) {
	if got := FootCandle(1).Lux(); math.Abs(float64(got)-10.763910) > 1e-6 {
		t.Errorf("1 fc is %v lx, want 10.763910", float64(got))
	}
	if got := FootLambert(1).Nit(); math.Abs(float64(got)-3.4262591) > 1e-7 {
		t.Errorf("1 fL is %v cd/m², want 3.4262591", float64(got))
	}
	if got := FootCandle(100).Lux().FootCandles(); math.Abs(float64(got)-100) > 1e-12 {
		t.Errorf("100 fc there and back: %v", float64(got))
	}
	if got := FootLambert(100).Nit().FootLamberts(); math.Abs(float64(got)-100) > 1e-12 {
		t.Errorf("100 fL there and back: %v", float64(got))
	}
}

func TestColourTemperature(t *testing.T) {
	reads(t, func() quantity { return new(Kelvin) }, map[string][]float64{
		"3200 K": {3200}, "3200": {3200}, "5600k": {5600}, "5.6 kK": {5600}, "200 mired": {5000}, "125 MK-1": {8000},
	})
	refuses(t, func() quantity { return new(Kelvin) }, map[string]string{
		"5.6 K": "5.6 K is below 1000 K", "0 mired": "is not a finite number", "3200 lx": "is an illuminance, a colour temperature is wanted",
	})
	reads(t, func() quantity { return new(Mired) }, map[string][]float64{
		"+133 mired": {133}, "-57 MK-1": {-57}, "−57 MK⁻¹": {-57}, "-57 mk^-1": {-57}, "24.7": {24.7},
	})
	refuses(t, func() quantity { return new(Mired) }, map[string]string{
		"3200 K": "is a colour temperature, a shift in mired is wanted",
	})
	prints(t, map[string]Kelvin{"3200 K": 3213, "3250 K": 3226, "5600 K": 5649, "4000 K": 3990})
	prints(t, map[string]Mired{"179 mired": 178.57, "−57 mired": -57.1})
	for want, shift := range map[string]Mired{"+133 mired": 133.4, "−57 mired": -57.1, "0 mired": 0.2} {
		if got := shift.Shift(); got != want {
			t.Errorf("shift of %v: %s, want %s", float64(shift), got, want)
		}
	}
	// mired = 10⁶/K by definition.
	for k, want := range map[Kelvin]float64{2700: 370.370, 3200: 312.5, 5600: 178.571, 10000: 100} {
		if got := float64(k.Mired()); math.Abs(got-want) > 5e-4 {
			t.Errorf("%v K is %v mired, want %v", float64(k), got, want)
		}
		if back, err := k.Mired().Kelvin(); err != nil || math.Abs(float64(back-k)) > 1e-9 {
			t.Errorf("%v K there and back: %v, %v", float64(k), float64(back), err)
		}
	}
	for _, m := range []Mired{0, -57, Mired(math.NaN()), 1e-320} {
		if k, err := m.Kelvin(); err == nil {
			t.Errorf("%v mired has %v K", float64(m), float64(k))
		}
	}
}
