package unit

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// TStop is a lens opening by transmission. Nominal numbers are read as exact powers of √2: T2.8 is √8.
type TStop float64

// FNumber is a lens opening by geometry: focal length over the width of the entrance pupil.
type FNumber float64

var (
	byTransmission = dimension{name: "a T-stop", low: 0.5, high: 128}
	byGeometry     = dimension{name: "an f-number", low: 0.5, high: 128}
)

// fullStops are the full stops as engraved, from √2 to the power −1.
var fullStops = []float64{0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64}

// nominal returns the exact power of √2 that an engraved full stop [ISO517] stands for, and any other number as it is.
func nominal(number float64) float64 {
	for i, full := range fullStops {
		if number == full {
			return rootTwo(i - 1)
		}
	}
	return number
}

// rootTwo returns √2 to the power n, exact for even n.
func rootTwo(n int) float64 {
	if n%2 == 0 {
		return math.Exp2(float64(n / 2))
	}
	return math.Sqrt(math.Exp2(float64(n)))
}

// Parse reads a T-stop from 0.5 to 128; thirds behind it close the lens further: T4 2/3 is two thirds closed from T4.
func (t *TStop) Parse(text string) error {
	value, err := byTransmission.readOpening(text, "t")
	if err == nil {
		*t = TStop(value)
	}
	return err
}

// Forms says how a T-stop is written.
func (TStop) Forms() string { return "a T-stop such as T2.8, 2.8, T4 2/3" }

// String returns the full stop below and the thirds closed from it: T4⅔.
func (t TStop) String() string { return "T" + printOpening(float64(t)) }

// Decimal returns the T-stop as a number with one decimal: T5.0.
func (t TStop) Decimal() string { return "T" + fixed(float64(t), 1) }

// Closed returns the T-stop with the lens closed by so many stops.
func (t TStop) Closed(by Stop) TStop { return t * TStop(math.Exp2(float64(by)/2)) }

// Parse reads an f-number from 0.5 to 128; thirds behind it close the lens further.
func (f *FNumber) Parse(text string) error {
	value, err := byGeometry.readOpening(text, "f/", "f")
	if err == nil {
		*f = FNumber(value)
	}
	return err
}

// Forms says how an f-number is written.
func (FNumber) Forms() string { return "an f-number such as f/2.8, 2.8, f/4 2/3" }

// String returns the full stop below and the thirds closed from it: f/4⅔.
func (f FNumber) String() string { return "f/" + printOpening(float64(f)) }

// readOpening reads a lens opening that may begin with one of the marks.
func (d *dimension) readOpening(text string, marks ...string) (float64, error) {
	s, err := scan(text, d.name)
	if err != nil {
		return 0, err
	}
	cleaned := s.rest
	s.rest, _ = cutAny(s.rest, marks...)
	s.alone = false // a blank ends the number: what follows is a fraction of a stop
	n, ok := s.decimal()
	if !ok {
		return 0, d.refuseOpening(cleaned)
	}
	s.alone = true
	closed, _ := s.fraction()
	if s.rest != "" {
		return 0, d.wrong(word(s.rest))
	}
	if !(closed < 1) {
		return 0, fmt.Errorf("is not %s; it closes by less than a stop", d.name)
	}
	n.value, n.comma = nominal(n.value)*math.Exp2(closed/2), false
	return d.within(n, 1)
}

func (d *dimension) refuseOpening(cleaned string) error {
	if rest, found := cutAny(cleaned, "f/", "f"); found && digits(strings.TrimLeft(rest, ".")) > 0 {
		return errors.New("is an f-number, a T-stop is wanted; glass loses 0.1 to 0.5 stop between them")
	}
	return refuse(cleaned, d.name)
}

// printOpening returns an opening to the nearest third of a stop: the engraved full stop and the thirds closed from it.
func printOpening(x float64) string {
	count := math.Round(6 * math.Log2(x)) // thirds of a stop from 1
	full := int(math.Floor(count / 3))
	if i := full + 1; 0 <= i && i < len(fullStops) {
		return places(fullStops[i], 1) + strings.TrimPrefix(thirds(count/3-float64(full)), "0")
	}
	return figures(x, 3)
}
