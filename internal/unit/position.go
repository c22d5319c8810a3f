package unit

import (
	"errors"
	"math"
	"strings"
)

// Position is a place on the Earth: latitude positive north, longitude positive east.
type Position struct{ Latitude, Longitude Degree }

var (
	latitude  = dimension{name: "a latitude", symbol: "° of latitude", low: -90, high: 90}
	longitude = dimension{name: "a longitude", symbol: "° of longitude", low: -180, high: 180}
)

// Parse reads latitude and longitude in degrees, or degrees, minutes and seconds, with the letters N, S, E, W or signs.
func (p *Position) Parse(text string) error {
	const name = "a position"
	s, err := scan(text, name)
	if err != nil {
		return err
	}
	s.alone = false
	first, ok := s.arc()
	if !ok {
		return refuse(s.rest, name)
	}
	between := s.take(",") || s.take(";") || s.take(" ") || first.letter != 0
	second, ok := s.arc()
	if !ok || !between || s.rest != "" {
		return refuse(s.rest, name)
	}
	if first.isEast() && second.isNorth() {
		first, second = second, first
	}
	switch lettered := first.letter != 0 || second.letter != 0; {
	case lettered && !(first.isNorth() && second.isEast()):
		return errors.New("is not a latitude and a longitude; N or S stands with one, E or W with the other")
	case lettered && (first.signed || second.signed):
		return errors.New("has a sign and a letter for it; write one of them")
	}
	north, err := latitude.within(first.number, first.sign())
	if err != nil {
		return err
	}
	east, err := longitude.within(second.number, second.sign())
	if err != nil {
		return err
	}
	*p = Position{Degree(north), Degree(east)}
	return nil
}

// Forms says how a position is written.
func (Position) Forms() string {
	return "a position such as 55.95 N, 3.19 W; 55.95 -3.19; 41°09'N 8°37'W"
}

// String returns both to a ten-thousandth of a degree, about 10 m: 55.95° N, 3.19° W.
func (p Position) String() string {
	return printArc(p.Latitude, "N", "S") + ", " + printArc(p.Longitude, "E", "W")
}

func printArc(d Degree, positive, negative string) string {
	if d < 0 {
		positive = negative
	}
	return places(math.Abs(float64(d)), 4) + "° " + positive
}

// arc is a latitude or a longitude as written: its letter is n, s, e, w or 0.
type arc struct {
	number
	letter byte
}

func (a arc) isNorth() bool { return a.letter == 'n' || a.letter == 's' }
func (a arc) isEast() bool  { return a.letter == 'e' || a.letter == 'w' }

func (a arc) sign() float64 {
	if a.letter == 's' || a.letter == 'w' {
		return -1
	}
	return 1
}

// arc reads `55.95`, `N 55.95`, `41°09'N`, `41° 9' 12" N`.
func (s *scanner) arc() (a arc, ok bool) {
	s.skipBlanks()
	a.letter = s.letter()
	s.skipBlanks()
	if a.number, ok = s.number(); !ok {
		return a, false
	}
	if s.take("°") {
		a.value += math.Copysign(s.sixtieths("'")/60+s.sixtieths(`"`)/3600, a.value)
	}
	if a.letter == 0 {
		before := s.rest
		s.skipBlanks()
		if a.letter = s.letter(); a.letter == 0 {
			s.rest = before
		}
	}
	return a, true
}

// sixtieths reads a number below 60 with the mark behind it, or nothing.
func (s *scanner) sixtieths(mark string) float64 {
	after := *s
	after.skipBlanks()
	n, ok := after.number()
	if !ok || n.signed || n.value >= 60 || !after.take(mark) {
		return 0
	}
	*s = after
	return n.value
}

// letter reads one of the letters of the compass.
func (s *scanner) letter() byte {
	if s.rest == "" || !strings.Contains("nsew", s.rest[:1]) {
		return 0
	}
	letter := s.rest[0]
	s.rest = s.rest[1:]
	return letter
}
