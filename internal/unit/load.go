package unit

// Watt is a power.
type Watt float64

// Ampere is a current.
type Ampere float64

// Volt is a voltage.
type Volt float64

// Hertz is a frequency: of the mains, of a beat.
type Hertz float64

// Kilogram is a mass.
type Kilogram float64

// Pound is a mass in avoirdupois pounds.
type Pound float64

// DecibelA is an A-weighted sound pressure level, dB(A).
type DecibelA float64

const pound = 0.45359237 // kilograms, exact by definition

var (
	power = dimension{
		name: "a power", symbol: " W", high: 1e6,
		units: map[string]float64{"": 1, "w": 1, "watt": 1, "watts": 1, "kw": 1000},
	}
	current = dimension{
		name: "a current", symbol: " A", high: 1e5,
		units: map[string]float64{"": 1, "a": 1, "amp": 1, "amps": 1, "ma": 0.001},
	}
	voltage = dimension{
		name: "a voltage", symbol: " V", low: 1, high: 1000,
		units: map[string]float64{"": 1, "v": 1, "volt": 1, "volts": 1},
	}
	frequency = dimension{
		name: "a frequency", symbol: " Hz", low: 0.001, high: 1000,
		units: map[string]float64{"": 1, "hz": 1},
	}
	mass = dimension{
		name: "a mass", symbol: " kg", high: 1e5,
		units: map[string]float64{
			"": 1, "kg": 1, "g": 0.001, "lb": pound, "lbs": pound, "pound": pound, "pounds": pound, "oz": pound / 16,
		},
	}
	sound = dimension{
		name: "a sound level", symbol: " dB(A)", low: -20, high: 200,
		units: map[string]float64{"": 1, "db": 1, "db(a)": 1, "db (a)": 1, "dba": 1},
	}
)

// Parse reads a power of at least 0; a plain number is in watts.
func (w *Watt) Parse(text string) error { return set(w, &power, text) }

// Forms says how a power is written.
func (Watt) Forms() string { return "a power such as 1350 W, 1.2 kW" }

// String returns whole watts, below 10 W to a tenth: 1350 W.
func (w Watt) String() string {
	if w < 9.95 {
		return places(float64(w), 1) + " W"
	}
	return places(float64(w), 0) + " W"
}

// Parse reads a current of at least 0; a plain number is in amperes.
func (a *Ampere) Parse(text string) error { return set(a, &current, text) }

// Forms says how a current is written.
func (Ampere) Forms() string { return "a current such as 16 A, 30 mA" }

// String returns the current to a tenth of an ampere: 6 A, 11.5 A.
func (a Ampere) String() string { return places(float64(a), 1) + " A" }

// Parse reads a voltage from 1 to 1000 V; a plain number is in volts.
func (v *Volt) Parse(text string) error { return set(v, &voltage, text) }

// Forms says how a voltage is written.
func (Volt) Forms() string { return "a voltage such as 230 V, 120 V" }

// String returns three significant figures: 230 V.
func (v Volt) String() string { return figures(float64(v), 3) + " V" }

// Parse reads a frequency above 0 and up to 1000 Hz; a plain number is in hertz.
func (h *Hertz) Parse(text string) error { return set(h, &frequency, text) }

// Forms says how a frequency is written.
func (Hertz) Forms() string { return "a frequency such as 50 Hz, 60 Hz" }

// String returns three significant figures: 50 Hz.
func (h Hertz) String() string { return figures(float64(h), 3) + " Hz" }

// Parse reads a mass of at least 0; a plain number is in kilograms.
func (k *Kilogram) Parse(text string) error { return set(k, &mass, text) }

// Forms says how a mass is written.
func (Kilogram) Forms() string { return "a mass such as 14 kg, 31 lb, 500 g" }

// Pounds returns the mass in pounds.
func (k Kilogram) Pounds() Pound { return Pound(k / pound) }

// String returns three significant figures: 14 kg.
func (k Kilogram) String() string { return figures(float64(k), 3) + " kg" }

// WithPounds returns the mass in both systems: 14 kg (30.9 lb).
func (k Kilogram) WithPounds() string { return k.String() + " (" + k.Pounds().String() + ")" }

// String returns three significant figures: 30.9 lb.
func (p Pound) String() string { return figures(float64(p), 3) + " lb" }

// Parse reads an A-weighted sound level; a plain number is in dB(A).
func (d *DecibelA) Parse(text string) error { return set(d, &sound, text) }

// Forms says how a sound level is written.
func (DecibelA) Forms() string { return "a sound level such as 32 dB(A), 20 dB" }

// String returns the level to a tenth of a decibel: 32 dB(A), 21.1 dB(A).
func (d DecibelA) String() string { return places(float64(d), 1) + " dB(A)" }
