package unit

import "testing"

func TestFraction(t *testing.T) {
	fresh := func() quantity { return new(Fraction) }
	reads(t, fresh, map[string][]float64{
		"60 %": {0.6}, "60%": {0.6}, "0.6": {0.6}, "0,6": {0.6}, "1/2": {0.5}, "½": {0.5}, "100 %": {1}, "0": {0}, "12,5 %": {0.125},
	})
	refuses(t, fresh, map[string]string{
		"140 %":  "140 % is above 100 %",
		"60":     "60 is above 1; write 60 % if that is meant",
		"500":    "500 is above 1",
		"-5 %":   "−5 % is below 0 %",
		"-0.05":  "−0.05 is below 0",
		"1 stop": "is a number of stops, a fraction is wanted",
	})
	prints(t, map[string]Fraction{"60 %": 0.6, "2.5 %": 0.025, "88 %": 0.8767, "0 %": 0, "10 %": 0.0996, "100 %": 1})
}

func TestCameraSettings(t *testing.T) {
	reads(t, func() quantity { return new(EI) }, map[string][]float64{
		"800": {800}, "EI 800": {800}, "ISO 800": {800}, "iso800": {800}, "800 ASA": {800}, "12 800": {12800},
	})
	refuses(t, func() quantity { return new(EI) }, map[string]string{
		"T4": "is a T-stop, an exposure index is wanted", "8": "8 EI is below 10 EI", "EI": "is not an exposure index",
	})
	reads(t, func() quantity { return new(FPS) }, map[string][]float64{
		"24": {24}, "24 fps": {24}, "25p": {25}, "23.976": {23.976}, "24000/1001": {24000. / 1001},
	})
	refuses(t, func() quantity { return new(FPS) }, map[string]string{"0": "0 fps is below 0.001 fps"})
	reads(t, func() quantity { return new(Second) }, map[string][]float64{
		"1/50 s": {0.02}, "0.02 s": {0.02}, "20 ms": {0.02}, "1/48": {1. / 48}, "2 min": {120},
	})
	reads(t, func() quantity { return new(LuxSecond) }, map[string][]float64{"250": {250}, "340 lx s": {340}, "340 lx·s": {340}})
	prints(t, map[string]EI{"EI 800": 800})
	prints(t, map[string]FPS{"24 fps": 24, "23.976 fps": 24000. / 1001})
	prints(t, map[string]Second{"1/48 s": 1. / 48, "1/50 s": 0.02, "2.5 s": 2.5, "0.5 s": 0.5, "0 s": 0})
}

func TestShutter(t *testing.T) {
	fresh := func() quantity { return new(Shutter) }
	reads(t, fresh, map[string][]float64{
		"180 deg": {180, 0}, "172.8°": {172.8, 0}, "172,8": {172.8, 0}, "180": {180, 0}, "5": {5, 0}, "360°": {360, 0},
		"1/50 s": {0, 0.02}, "1/50": {0, 0.02}, "1/48": {0, 1. / 48}, "0.02 s": {0, 0.02}, "20 ms": {0, 0.02},
	})
	refuses(t, fresh, map[string]string{
		"2":        "may be degrees or seconds; write which",
		"0 deg":    "is a shutter that never opens",
		"0":        "is a shutter that never opens",
		"-180 deg": "is a shutter that never opens",
		"400 deg":  "400° is above 360°",
		"24 fps":   "is a frame rate, a shutter is wanted",
		"":         "is empty",
	})
	prints(t, map[string]Shutter{"180°": {Angle: 180}, "172.8°": {Angle: 172.8}, "1/50 s": {Time: 0.02}})
}

func TestLoads(t *testing.T) {
	reads(t, func() quantity { return new(Watt) }, map[string][]float64{"1350 W": {1350}, "1.2 kW": {1200}, "60": {60}})
	reads(t, func() quantity { return new(Ampere) }, map[string][]float64{"16 A": {16}, "30 mA": {0.03}, "5,99": {5.99}})
	reads(t, func() quantity { return new(Volt) }, map[string][]float64{"230 V": {230}, "120 volts": {120}})
	reads(t, func() quantity { return new(Hertz) }, map[string][]float64{"50 Hz": {50}, "60": {60}})
	// One pound is 0.45359237 kg: international yard and pound agreement, 1959.
	reads(t, func() quantity { return new(Kilogram) }, map[string][]float64{
		"14 kg": {14}, "500 g": {0.5}, "10 lb": {4.5359237}, "16 oz": {0.45359237},
	})
	reads(t, func() quantity { return new(DecibelA) }, map[string][]float64{"32 dB(A)": {32}, "32 dBA": {32}, "20 dB": {20}})
	refuses(t, func() quantity { return new(Watt) }, map[string]string{
		"-1 W": "−1 W is below 0 W", "14 kg": "is a mass, a power is wanted", "1,350 W": "may mean 1.35 or 1350; write one of these",
	})
	prints(t, map[string]Watt{"1350 W": 1350, "2.5 W": 2.5})
	prints(t, map[string]Hertz{"50 Hz": 50, "4 Hz": 4})
	prints(t, map[string]Kilogram{"14 kg": 14, "4.6 kg": 4.6})
	prints(t, map[string]DecibelA{"21.1 dB(A)": 21.12})
	if got := Kilogram(14).WithPounds(); got != "14 kg (30.9 lb)" {
		t.Errorf("both systems: %s", got)
	}
}
