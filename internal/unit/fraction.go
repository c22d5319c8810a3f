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
	switch written := figures(n.value, 6); {
	case unit == "%" && n.value > 100:
		return fmt.Errorf("%s %% is above 100 %%", written)
	case unit == "%" && n.value < 0:
		return fmt.Errorf("%s %% is below 0 %%", written)
	case unit == "" && 1 < n.value && n.value <= 100:
		return fmt.Errorf("%s is above 1; write %[1]s %% if that is meant", written)
	}
	value, err := share.value(n, unit)
	if err == nil {
		*f = Fraction(value)
	}
	return err
}

// Forms says how a fraction is written.
func (Fraction) Forms() string { return "a fraction such as 60 %, 0.6, 1/2" }

// String returns whole percent, below 10 % to a tenth: 60 %, 2.5 %.
func (f Fraction) String() string {
	if f < 0.0995 {
		return places(float64(f)*100, 1) + " %"
	}
	return places(float64(f)*100, 0) + " %"
}
