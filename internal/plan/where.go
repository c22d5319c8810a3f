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

// ParseName reads a name; a dot separates a person's point. Whether it is a name it does not ask.
func ParseName(text string) Name {
	thing, point, _ := strings.Cut(text, ".")
	return Name{strings.TrimSpace(thing), strings.TrimSpace(point)}
}

// parse reads a name that may not be half a name.
func (n *Name) parse(text string) error {
	read := ParseName(text)
	if read.Thing == "" || read.Point == "" && strings.Contains(text, ".") {
		return errors.New("is no name; a dot stands between a person and their point: maker.front")
	}
	*n = read
	return nil
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
		return nil
	case numeric(text):
		return err
	}
	read := Where{}
	if err := read.Name.parse(text); err != nil {
		return err
	}
	*w = read
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
	name, bearing, found := strings.Cut(rest, " bearing ")
	if found {
		if err := read.Bearing.Parse(bearing); err != nil {
			return fmt.Errorf("the bearing %w", err)
		}
	} else {
		var toward string
		if name, toward, found = cutToward(rest); !found {
			return errors.New("does not say which way: bearing 215, or toward a thing")
		}
		if err := read.Toward.parse(toward); err != nil {
			return err
		}
	}
	if err := read.Name.parse(name); err != nil {
		return err
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
