package unit

import (
	"math"
	"strings"
)

// Degree is a plane angle in degrees.
type Degree float64

// Bearing is a direction on the ground in degrees clockwise from true north, from 0 to below 360.
type Bearing float64

var (
	degrees = map[string]float64{"": 1, "deg": 1, "degree": 1, "degrees": 1, "°": 1}
	angle   = dimension{name: "an angle", symbol: "°", low: -360, high: 360, units: degrees}
	bearing = dimension{name: "a bearing", symbol: "°", low: -360, high: 360, units: degrees}
)

// Parse reads an angle of at most a whole turn either way; a plain number is in degrees.
func (d *Degree) Parse(text string) error { return set(d, &angle, text) }

// Forms says how an angle is written.
func (Degree) Forms() string { return "an angle such as 26 deg, 26°, 172.8" }

// String returns the angle to a tenth of a degree: 26°, 172.8°.
func (d Degree) String() string { return places(float64(d), 1) + "°" }

// Radians returns the angle in radians, for the inside of a numerical loop.
func (d Degree) Radians() float64 { return float64(d) * math.Pi / 180 }

// points are the sixteen points of the compass, clockwise from north.
var points = []string{"n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"}

var compassLetters = strings.NewReplacer("north", "n", "east", "e", "south", "s", "west", "w", "-", "", " ", "")

// Parse reads a compass word or an angle from true north; −90 is 270.
func (b *Bearing) Parse(text string) error {
	s, err := scan(text, bearing.name)
	if err != nil {
		return err
	}
	letters := compassLetters.Replace(s.rest)
	for i, point := range points {
		if letters == point {
			*b = Bearing(float64(i) * 22.5)
			return nil
		}
	}
	value, err := bearing.read(text)
	if err == nil {
		*b = Bearing(math.Mod(value+360, 360))
	}
	return err
}

// Forms says how a bearing is written.
func (Bearing) Forms() string { return "a bearing from true north such as 170 deg, SSE, south-west" }

// String returns the bearing to a tenth of a degree: 170°, 22.5°.
func (b Bearing) String() string { return Degree(b).String() }
