package unit

import "errors"

// EI is an exposure index (ISO arithmetic speed).
type EI float64

// FPS is a frame rate, frames a second.
type FPS float64

// Second is a time in seconds.
type Second float64

// Shutter is how long a frame is exposed: an angle of the turn that one frame takes, or a time. One of them is above 0.
type Shutter struct {
	Angle Degree
	Time  Second
}

// LuxSecond is an exposure, and the calibration constant C of an incident meter.
type LuxSecond float64

var (
	shutter = dimension{name: "a shutter"}
	speed   = dimension{
		name: "an exposure index", symbol: " EI", low: 10, high: 1e7,
		units: map[string]float64{"": 1, "ei": 1, "iso": 1, "asa": 1},
	}
	frameRate = dimension{
		name: "a frame rate", symbol: " fps", low: 0.001, high: 10_000,
		units: map[string]float64{"": 1, "fps": 1, "p": 1},
	}
	duration = dimension{
		name: "a time", symbol: " s", high: 1e6,
		units: map[string]float64{
			"": 1, "s": 1, "sec": 1, "second": 1, "seconds": 1, "ms": 0.001, "min": 60, "minutes": 60, "h": 3600,
		},
	}
	calibration = dimension{
		name: "a calibration constant", symbol: " lx s", low: 1, high: 10_000,
		units: map[string]float64{"": 1, "lx s": 1, "lxs": 1, "lx·s": 1},
	}
)

// Parse reads an exposure index of at least 10.
func (e *EI) Parse(text string) error { return set(e, &speed, text, "ei", "iso", "asa") }

// Forms says how an exposure index is written.
func (EI) Forms() string { return "an exposure index such as 800, EI 800, ISO 800" }

// String returns the whole index: EI 800.
func (e EI) String() string { return "EI " + places(float64(e), 0) }

// Parse reads a frame rate above 0; a plain number is in frames a second.
func (f *FPS) Parse(text string) error { return set(f, &frameRate, text) }

// Forms says how a frame rate is written.
func (FPS) Forms() string { return "a frame rate such as 24, 25 fps, 23.976" }

// String returns the rate with up to three decimals: 24 fps, 23.976 fps.
func (f FPS) String() string { return places(float64(f), 3) + " fps" }

// Parse reads a time of at least 0; a plain number is in seconds.
func (s *Second) Parse(text string) error { return set(s, &duration, text) }

// Forms says how a time is written.
func (Second) Forms() string { return "a time such as 1/50 s, 0.02 s, 20 ms" }

// String returns a time below half a second as a part of one: 1/48 s, 2.5 s.
func (s Second) String() string {
	if 0 < s && s < 0.5 {
		return "1/" + figures(1/float64(s), 4) + " s"
	}
	return figures(float64(s), 3) + " s"
}

// Parse reads a shutter angle above 0 up to 360° or an exposure time above 0. A plain number is a time below 1 and an
// angle from 5.
func (s *Shutter) Parse(text string) error {
	n, unit, err := split(text, shutter.name)
	if err != nil {
		return err
	}
	switch {
	case unit != "":
	case n.value < 1:
		unit = "s"
	case n.value < 5:
		return errors.New("may be degrees or seconds; write which")
	default:
		unit = "deg"
	}
	var value float64
	var read Shutter
	if _, isTime := duration.units[unit]; isTime {
		value, err = duration.value(n, unit)
		read.Time = Second(value)
	} else if _, isAngle := angle.units[unit]; isAngle {
		value, err = angle.value(n, unit)
		read.Angle = Degree(value)
	} else {
		return shutter.wrong(unit)
	}
	if err != nil {
		return err
	}
	if value <= 0 {
		return errors.New("is a shutter that never opens")
	}
	*s = read
	return nil
}

// Forms says how a shutter is written.
func (Shutter) Forms() string { return "a shutter such as 180 deg, 172.8°, 1/50 s" }

// String returns the angle or the time as stated: 172.8°, 1/50 s.
func (s Shutter) String() string {
	if s.Angle > 0 {
		return places(float64(s.Angle), 1) + "°"
	}
	return s.Time.String()
}

// Parse reads a calibration constant from 1 to 10 000 lx·s; a plain number is in lx·s.
func (l *LuxSecond) Parse(text string) error { return set(l, &calibration, text) }

// Forms says how a calibration constant is written.
func (LuxSecond) Forms() string { return "a meter's calibration constant such as 250, 250 lx s" }

// String returns three significant figures: 250 lx s.
func (l LuxSecond) String() string { return figures(float64(l), 3) + " lx s" }
