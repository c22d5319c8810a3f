package unit

import (
	"errors"
	"math"
)

// Kelvin is a correlated colour temperature.
type Kelvin float64

// Mired is a reciprocal colour temperature or a shift of one, 10⁶/K.
type Mired float64

var (
	temperature = dimension{
		name: "a colour temperature", symbol: " K", low: 1000, high: 100_000,
		units: map[string]float64{"": 1, "k": 1, "kelvin": 1, "kk": 1000},
	}
	reciprocal = dimension{
		name: "a shift in mired", symbol: " mired", low: -1000, high: 1000,
		units: map[string]float64{"": 1, "mired": 1, "mireds": 1, "mk-1": 1, "/mk": 1},
	}
)

// Parse reads a colour temperature from 1000 K to 100 000 K, or its reciprocal in mired; a plain number is in kelvin.
func (k *Kelvin) Parse(text string) error {
	n, unit, err := split(text, temperature.name)
	if err != nil {
		return err
	}
	if factor, ok := reciprocal.units[unit]; ok && unit != "" {
		n.value, n.comma, unit = 1e6/(n.value*factor), false, "k"
	}
	value, err := temperature.value(n, unit)
	if err == nil {
		*k = Kelvin(value)
	}
	return err
}

// Forms says how a colour temperature is written.
func (Kelvin) Forms() string { return "a colour temperature such as 3200 K, 5600, 179 mired" }

// Mired returns the reciprocal colour temperature.
func (k Kelvin) Mired() Mired { return Mired(1e6 / k) }

// String returns the temperature to 50 K below 4000 K and to 100 K above: 3200 K.
func (k Kelvin) String() string {
	step := 100.0
	if k < 4000 {
		step = 50
	}
	return places(math.Round(float64(k)/step)*step, 0) + " K"
}

// Parse reads a shift, or a reciprocal colour temperature, from −1000 to 1000 mired; a plain number is in mired.
func (m *Mired) Parse(text string) error { return set(m, &reciprocal, text) }

// Forms says how a shift in mired is written.
func (Mired) Forms() string { return "a shift in mired such as +133 mired, -57 MK-1" }

// Kelvin returns the colour temperature of a reciprocal one, or an error for one that has none.
func (m Mired) Kelvin() (Kelvin, error) {
	if !(m > 0) || math.IsInf(1e6/float64(m), 0) {
		return 0, errors.New("a reciprocal colour temperature is above 0 mired")
	}
	return Kelvin(1e6 / m), nil
}

// String returns whole mired: 179 mired.
func (m Mired) String() string { return places(float64(m), 0) + " mired" }

// Shift returns whole mired with their sign: +133 mired, −57 mired.
func (m Mired) Shift() string {
	text := m.String()
	if text == "0 mired" {
		return text
	}
	return signed(text)
}
