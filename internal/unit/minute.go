package unit

import "time"

// Minute is a time that work takes, in minutes.
type Minute float64

var minutes = dimension{
	name: "a number of minutes", symbol: " min", high: 7 * 24 * 60,
	units: map[string]float64{
		"": 1, "min": 1, "mins": 1, "minute": 1, "minutes": 1, "h": 60, "hr": 60, "hour": 60, "hours": 60,
	},
}

// Parse reads a time of at least 0; a plain number is in minutes.
func (m *Minute) Parse(text string) error { return set(m, &minutes, text) }

// Forms says how a time that work takes is written.
func (Minute) Forms() string { return "a time such as 40 min, 1.5 h" }

// String returns whole minutes: 40 min.
func (m Minute) String() string { return places(float64(m), 0) + " min" }

// Duration returns the time as a time.Duration.
func (m Minute) Duration() time.Duration { return time.Duration(float64(m) * float64(time.Minute)) }
