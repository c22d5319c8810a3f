package unit

import "fmt"

// Fraction is a share from 0 to 1: a dim level, a reflectance, a transmittance.
type Fraction float64

var share = dimension{
	name: "a fraction", high: 1,
	units: map[string]float64{"": 1, "%": 0.01, "percent": 0.01},
}

// Parse reads a share from 0 to 1, plain or in percent.
func (f *Fraction) Parse(text string) error {
	n, unit, err := split(text, share.name)
	if err != nil {
		return err
	}
	value := n.value * share.units[unit]
	switch {
	case unit == "%" && value > 1:
		return fmt.Errorf("%s %% is above 100 %%", figures(n.value, 6))
	case unit == "" && 1 < value && value <= 100:
		return fmt.Errorf("%s is above 1; write %[1]s %% if that is meant", figures(n.value, 6))
	}
	value, err = share.value(n, unit)
	if err == nil {
		*f = Fraction(value)
	}
	return err
}

// Forms says how a fraction is written.
func (Fraction) Forms() string { return "a fraction: 60 %, 0.6, 1/2" }

// String returns whole percent, below 10 % to a tenth: 60 %, 2.5 %.
func (f Fraction) String() string {
	if f < 0.0995 {
		return places(float64(f)*100, 1) + " %"
	}
	return places(float64(f)*100, 0) + " %"
}
