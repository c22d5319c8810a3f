package unit

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Lux is an illuminance, lm/m².
type Lux float64

// FootCandle is an illuminance, lm/ft².
type FootCandle float64

// LuxAt is the level that a lamp makes at a distance, square-on: a way to state its intensity.
type LuxAt struct {
	Level    Lux
	Distance Metre
}

// Nit is a luminance, cd/m².
type Nit float64

// FootLambert is a luminance, 1/π cd/ft².
type FootLambert float64

// Candela is a luminous intensity.
type Candela float64

// Lumen is a luminous flux.
type Lumen float64

const (
	footCandle  = 1 / (foot * foot)           // lux, 10.7639: one lumen on a square foot
	footLambert = 1 / (math.Pi * foot * foot) // cd/m², 3.42626
)

var (
	illuminance = dimension{
		name: "an illuminance", symbol: " lx", high: 1e9,
		units: map[string]float64{
			"": 1, "lx": 1, "lux": 1, "klx": 1000, "klux": 1000,
			"fc": footCandle, "ftc": footCandle, "footcandle": footCandle, "footcandles": footCandle,
			"foot-candle": footCandle, "foot-candles": footCandle,
		},
	}
	luminance = dimension{
		name: "a luminance", symbol: " cd/m²", high: 1e10,
		units: map[string]float64{
			"": 1, "cd/m2": 1, "kcd/m2": 1000, "nt": 1, "nit": 1, "nits": 1,
			"fl": footLambert, "ftl": footLambert, "foot-lambert": footLambert, "foot-lamberts": footLambert,
		},
	}
	intensity = dimension{
		name: "an intensity", symbol: " cd", high: 1e10,
		units: map[string]float64{"": 1, "cd": 1, "candela": 1, "candelas": 1, "kcd": 1000, "cp": 1},
	}
	flux = dimension{
		name: "a flux", symbol: " lm", high: 1e9,
		units: map[string]float64{"": 1, "lm": 1, "lumen": 1, "lumens": 1, "klm": 1000},
	}
)

// Parse reads an illuminance of at least 0; a plain number is in lux.
func (l *Lux) Parse(text string) error { return set(l, &illuminance, text) }

// Forms says how an illuminance is written.
func (Lux) Forms() string { return "an illuminance such as 640 lx, 59 fc, 1.2 klx" }

// FootCandles returns the illuminance in foot-candles.
func (l Lux) FootCandles() FootCandle { return FootCandle(l / footCandle) }

// String returns three significant figures: 640 lx.
func (l Lux) String() string { return figures(float64(l), 3) + " lx" }

// WithFootCandles returns the illuminance in both units: 640 lx (59.5 fc).
func (l Lux) WithFootCandles() string { return l.String() + " (" + l.FootCandles().String() + ")" }

// Lux returns the illuminance in lux.
func (f FootCandle) Lux() Lux { return Lux(f * footCandle) }

// String returns three significant figures: 59.5 fc.
func (f FootCandle) String() string { return figures(float64(f), 3) + " fc" }

// Parse reads a level and the distance it holds at, both above 0.
func (l *LuxAt) Parse(text string) error {
	s, err := scan(text, "a level at a distance")
	if err != nil {
		return err
	}
	level, distance, found := cutAt(s.rest)
	if !found {
		return errors.New("is not a level at a distance; an @ stands between them")
	}
	var read LuxAt
	if err := read.Level.Parse(level); err != nil {
		return fmt.Errorf("level %w", err)
	}
	if err := read.Distance.Parse(distance); err != nil {
		return fmt.Errorf("distance %w", err)
	}
	if read.Level <= 0 || read.Distance <= 0 {
		return errors.New("has a level or a distance that is not above 0")
	}
	*l = read
	return nil
}

// Forms says how a level at a distance is written.
func (LuxAt) Forms() string {
	return "a level at a distance such as 10000 lx @ 5 m, 250 klx @ 1 m, 929 fc @ 16 ft"
}

// Candela returns the intensity that makes the level: E·d².
func (l LuxAt) Candela() Candela { return Candela(float64(l.Level) * float64(l.Distance*l.Distance)) }

// String returns the level and the distance: 10000 lx @ 5.00 m.
func (l LuxAt) String() string { return l.Level.String() + " @ " + l.Distance.String() }

func cutAt(text string) (level, distance string, found bool) {
	return strings.Cut(strings.Replace(text, " at ", "@", 1), "@")
}

// Parse reads a luminance of at least 0; a plain number is in cd/m².
func (n *Nit) Parse(text string) error { return set(n, &luminance, text) }

// Forms says how a luminance is written.
func (Nit) Forms() string { return "a luminance such as 2400 cd/m2, 2400 nt, 100 fL" }

// FootLamberts returns the luminance in foot-lamberts.
func (n Nit) FootLamberts() FootLambert { return FootLambert(n / footLambert) }

// String returns three significant figures: 2400 cd/m².
func (n Nit) String() string { return figures(float64(n), 3) + " cd/m²" }

// WithFootLamberts returns the luminance in both units: 2400 cd/m² (700 fL).
func (n Nit) WithFootLamberts() string { return n.String() + " (" + n.FootLamberts().String() + ")" }

// Nit returns the luminance in cd/m².
func (f FootLambert) Nit() Nit { return Nit(f * footLambert) }

// String returns three significant figures: 100 fL.
func (f FootLambert) String() string { return figures(float64(f), 3) + " fL" }

// Parse reads an intensity of at least 0, straight or as the level at a distance; a plain number is in candela.
func (c *Candela) Parse(text string) error {
	if _, _, found := cutAt(text); !found {
		return set(c, &intensity, text)
	}
	var l LuxAt
	if err := l.Parse(text); err != nil {
		return err
	}
	value, err := intensity.within(number{value: float64(l.Candela())}, 1)
	if err == nil {
		*c = Candela(value)
	}
	return err
}

// Forms says how an intensity is written.
func (Candela) Forms() string { return "an intensity such as 250 kcd, 250000 cd, 10000 lx @ 5 m" }

// String returns three significant figures, from 1000 cd in thousands: 250 kcd, 450 cd.
func (c Candela) String() string { return thousand(float64(c), "cd") }

// Parse reads a flux of at least 0; a plain number is in lumens.
func (l *Lumen) Parse(text string) error { return set(l, &flux, text) }

// Forms says how a flux is written.
func (Lumen) Forms() string { return "a flux such as 470 lm, 57.6 klm" }

// String returns three significant figures, from 1000 lm in thousands: 57.6 klm, 470 lm.
func (l Lumen) String() string { return thousand(float64(l), "lm") }

// thousand prints three significant figures, with the prefix k from 1000.
func thousand(x float64, symbol string) string {
	if x >= 999.5 {
		return figures(x/1000, 3) + " k" + symbol
	}
	return figures(x, 3) + " " + symbol
}
