package plan

import (
	"errors"
	"fmt"
	"strings"

	"gloam/internal/unit"
)

// Name is a thing of the plan as another names it, or one point of a person: `maker`, `maker.key side`.
type Name struct{ Thing, Point string }

// The things that need no name of their own.
const (
	CameraName = "camera"
	SunName    = "sun"
)

// The points each person brings.
const (
	Front      = "front"
	KeySide    = "key side"
	ShadowSide = "shadow side"
	Hair       = "hair"
)

// PersonPoints lists the points each person brings.
func PersonPoints() []string { return []string{Front, KeySide, ShadowSide, Hair} }

// parseName reads a name; a dot separates a person's point.
func parseName(text string) Name {
	thing, point, _ := strings.Cut(text, ".")
	return Name{strings.TrimSpace(thing), strings.TrimSpace(point)}
}

// String returns the name as it is written.
func (n Name) String() string {
	if n.Point == "" {
		return n.Thing
	}
	return n.Thing + "." + n.Point
}

// Place is a place in coordinates. Without a height, Z is nil.
type Place struct {
	X, Y unit.Metre
	Z    *unit.Metre
}

// parsePlace reads two or three coordinates.
func parsePlace(text string) (*Place, error) {
	var three unit.Point3
	if err := three.Parse(text); err == nil {
		return &Place{three.X, three.Y, &three.Z}, nil
	}
	var two unit.Point2
	if err := two.Parse(text); err != nil {
		return nil, err
	}
	return &Place{two.X, two.Y, nil}, nil
}

// Where is a place as it is written: coordinates, a thing, or a distance from a thing. The zero Where is one that was
// not written or could not be read.
type Where struct {
	Place    *Place       // coordinates; nil for the other forms
	Name     Name         // the thing it is at or measured from
	Distance unit.Metre   // from the thing, level; 0: at it
	Bearing  unit.Bearing // the way from the thing, where Toward is empty
	Toward   Name         // the thing the way leads to, as seen from above
}

// Parse reads `2.5 2.0`, `2.5 2.0 1.6 m`, `bench`, `maker.front`, `3.2 m from bench bearing 215`, `1.2 m from bench
// toward window`.
func (w *Where) Parse(text string) error {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" {
		return errors.New("is empty")
	}
	if distance, rest, found := strings.Cut(text, " from "); found {
		return w.parseAway(distance, rest)
	}
	place, err := parsePlace(text)
	switch {
	case err == nil:
		*w = Where{Place: place}
	case numeric(text):
		return err
	default:
		*w = Where{Name: parseName(text)}
	}
	return nil
}

// parseAway reads the distance from a thing and what follows the word `from`.
func (w *Where) parseAway(distance, rest string) error {
	read := Where{}
	if err := read.Distance.Parse(distance); err != nil {
		return fmt.Errorf("the distance %w", err)
	}
	if read.Distance <= 0 {
		return errors.New("the distance is not above 0")
	}
	if name, bearing, found := strings.Cut(rest, " bearing "); found {
		if err := read.Bearing.Parse(bearing); err != nil {
			return fmt.Errorf("the bearing %w", err)
		}
		read.Name = parseName(name)
	} else if name, toward, found := cutToward(rest); found {
		read.Name, read.Toward = parseName(name), parseName(toward)
	} else {
		return errors.New("does not say which way: bearing 215, or toward a thing")
	}
	*w = read
	return nil
}

// cutToward cuts text around the word toward, or towards.
func cutToward(text string) (before, after string, found bool) {
	if before, after, found = strings.Cut(text, " toward "); found {
		return before, after, true
	}
	return strings.Cut(text, " towards ")
}

// Forms says how a place is written.
func (Where) Forms() string {
	return "a place: 2.5 2.0, 2.5 2.0 1.6 m, bench, 3.2 m from bench bearing 215, 1.2 m from bench toward window"
}

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
	case numeric(text):
		return err
	default:
		*t = Toward{Name: parseName(text)}
	}
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

// numeric reports whether text is made of numbers and units alone, so that it is meant as figures and not as a name.
func numeric(text string) bool {
	text = strings.ToLower(text)
	if !strings.ContainsAny(text, "0123456789") && text != "nan" && text != "inf" {
		return false
	}
	for token := range strings.FieldsSeq(text) {
		switch word := strings.Trim(token, `0123456789+-−.,;/'"′″½⅓⅔¼¾`); word {
		case "nan", "inf":
		case "", "m", "cm", "mm", "km", "metre", "metres", "meter", "meters", "ft", "foot", "feet", "in", "inch", "inches",
			"deg", "degree", "degrees", "°", "up", "down":
		default:
			return false
		}
	}
	return true
}

// Extent is a size of two or three sides, each above 0. Depth is 0 where two were written.
type Extent struct{ Width, Depth, Height unit.Metre }

// Parse reads two or three sides.
func (e *Extent) Parse(text string) error {
	var two unit.Size2
	err := two.Parse(text)
	if err == nil {
		*e = Extent{Width: two.Width, Height: two.Height}
		return nil
	}
	if strings.Count(strings.ToLower(text), "x")+strings.Count(text, "×") == 1 {
		return err
	}
	var three unit.Size3
	if err := three.Parse(text); err != nil {
		return err
	}
	*e = Extent(three)
	return nil
}

// Forms says how a size is written.
func (Extent) Forms() string { return "a size: 1.2 x 2.4 m, 1.8 x 0.7 x 0.9 m, 8 x 4 ft" }

// names returns the names a place is measured from.
func (w *Where) names() []Name {
	var all []Name
	for _, n := range []Name{w.Name, w.Toward} {
		if n != (Name{}) {
			all = append(all, n)
		}
	}
	return all
}

// names returns the name that a direction leads to, if it has one; t may be nil.
func (t *Toward) names() []Name {
	if t == nil || t.Name == (Name{}) {
		return nil
	}
	return []Name{t.Name}
}

// String returns the place in coordinates.
func (p *Place) String() string {
	if p.Z == nil {
		return unit.Point2{X: p.X, Y: p.Y}.String()
	}
	return unit.Point3{X: p.X, Y: p.Y, Z: *p.Z}.String()
}

// String returns the place as it may be written.
func (w Where) String() string {
	switch {
	case w.Place != nil:
		return w.Place.String()
	case w.Distance == 0:
		return w.Name.String()
	case w.Toward != (Name{}):
		return fmt.Sprintf("%v from %v toward %v", w.Distance, w.Name, w.Toward)
	}
	return fmt.Sprintf("%v from %v bearing %v", w.Distance, w.Name, w.Bearing)
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
