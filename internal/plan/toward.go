package plan

import (
	"errors"
	"fmt"
	"strings"

	"gloam/internal/unit"
)

// Toward is what something faces or is aimed at, as it is written: a thing, coordinates or a direction. The zero Toward
// is one that was not written or could not be read.
type Toward struct {
	Name    Name          // a thing, the camera or the sun
	Place   *Place        // coordinates
	Bearing *unit.Bearing // a direction, from true north
	Below   unit.Degree   // of a direction: how far below level, from −90 (up) to 90 (down)
}

// Parse reads `170 deg`, `SE`, `170 deg 30 deg down`, `up`, `down`, `camera`, `sun`, `bench`, `maker.front`, `2.5 2.0
// 1.6`.
func (t *Toward) Parse(text string) error {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" {
		return errors.New("is empty")
	}
	if place, err := parsePlace(text); err == nil {
		*t = Toward{Place: place}
		return nil
	}
	direction, ok := parseTilted(text)
	if ok {
		*t = direction
		return nil
	}
	var bearing unit.Bearing
	err := bearing.Parse(text)
	switch {
	case err == nil:
		*t = Toward{Bearing: &bearing}
		return nil
	case numeric(text):
		return err
	}
	read := Toward{}
	if err := read.Name.parse(text); err != nil {
		return err
	}
	*t = read
	return nil
}

// parseTilted reads up, down, and a bearing with an angle above or below level.
func parseTilted(text string) (Toward, bool) {
	north := unit.Bearing(0)
	switch text {
	case "up":
		return Toward{Bearing: &north, Below: -90}, true
	case "down":
		return Toward{Bearing: &north, Below: 90}, true
	}
	sign := unit.Degree(1)
	rest, found := strings.CutSuffix(text, " down")
	if !found {
		rest, found = strings.CutSuffix(text, " up")
		sign = -1
	}
	for i := range rest {
		var bearing unit.Bearing
		var tilt unit.Degree
		if !found || rest[i] != ' ' || bearing.Parse(rest[:i]) != nil || tilt.Parse(rest[i:]) != nil {
			continue
		}
		if tilt >= 0 && tilt <= 90 {
			return Toward{Bearing: &bearing, Below: sign * tilt}, true
		}
	}
	return Toward{}, false
}

// Forms says how a direction is written.
func (Toward) Forms() string {
	return "a thing or a way: bench, maker.front, camera, sun, 2.5 2.0 1.6, 170 deg, SE, 170 deg 30 deg down, up, down"
}

const figures = `0123456789+-−.,;/'"′″½⅓⅔¼¾`

// numeric reports whether text is made of numbers and units alone, so that it is meant as figures and not as a name.
func numeric(text string) bool {
	text = strings.ToLower(text)
	if text == "nan" || text == "inf" {
		return true
	}
	if strings.IndexAny(text, figures) != 0 {
		return false
	}
	for token := range strings.FieldsSeq(text) {
		switch strings.TrimLeft(token, figures) {
		case "", "m", "cm", "mm", "km", "metre", "metres", "meter", "meters", "ft", "foot", "feet", "in", "inch", "inches",
			"deg", "degree", "degrees", "°", "up", "down", "nan", "inf":
		default:
			return false
		}
	}
	return true
}

// names returns the name that a direction leads to, if it has one; t may be nil.
func (t *Toward) names() []Name {
	if t == nil || t.Name == (Name{}) {
		return nil
	}
	return []Name{t.Name}
}

// String returns the direction as it may be written.
func (t Toward) String() string {
	switch {
	case t.Place != nil:
		return t.Place.String()
	case t.Bearing == nil:
		return t.Name.String()
	case t.Below == 90:
		return "down"
	case t.Below == -90:
		return "up"
	case t.Below > 0:
		return fmt.Sprintf("%v %v down", t.Bearing, t.Below)
	case t.Below < 0:
		return fmt.Sprintf("%v %v up", t.Bearing, -t.Below)
	}
	return t.Bearing.String()
}
