package gear

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// Milliampere is an earth leakage current.
type Milliampere float64

// Parse reads a current of 0 to 1000 mA; a plain number is in milliampere.
func (m *Milliampere) Parse(text string) error {
	number := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "ma"))
	value, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || math.IsNaN(value) {
		return errors.New("is not a current")
	}
	if !(value >= 0 && value <= 1000) {
		return errors.New("is not from 0 to 1000 mA")
	}
	*m = Milliampere(value)
	return nil
}

// Forms says how a current is written.
func (Milliampere) Forms() string { return "a current: 2 mA, 3.5 mA" }
