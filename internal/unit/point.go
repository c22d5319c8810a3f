package unit

import "fmt"

// Point2 is a place on the plan, metres from the origin.
type Point2 struct{ X, Y Metre }

// Point3 is a place in space, metres from the origin, z up.
type Point3 struct{ X, Y, Z Metre }

// Parse reads two coordinates with a blank between them; a unit at the end holds for the one without.
func (p *Point2) Parse(text string) error {
	c, err := readCoordinates(text, 2)
	if err == nil {
		*p = Point2{c[0], c[1]}
	}
	return err
}

// Forms says how a place is written.
func (Point2) Forms() string { return `x y such as 2.5 2.0, 2,5 2,0 m, 8' 6'6"` }

// String returns both coordinates: 2.50 2.00 m.
func (p Point2) String() string { return printMetres(" ", p.X, p.Y) }

// Parse reads three coordinates with blanks between them; a unit at the end holds for those without.
func (p *Point3) Parse(text string) error {
	c, err := readCoordinates(text, 3)
	if err == nil {
		*p = Point3{c[0], c[1], c[2]}
	}
	return err
}

// Forms says how a place is written.
func (Point3) Forms() string { return `x y z such as 2.5 2.0 1.6, 2,5 2,0 1,6 m, 8' 6'6" 5'` }

// String returns the three coordinates: 2.50 2.00 1.60 m.
func (p Point3) String() string { return printMetres(" ", p.X, p.Y, p.Z) }

// readCoordinates reads lengths with blanks between them. A comma or semicolon before the blank is tolerated.
func readCoordinates(text string, count int) ([]Metre, error) {
	const name = "a place in coordinates"
	s, err := scan(text, name)
	if err != nil {
		return nil, err
	}
	s.alone = false
	var found []measure
	for s.rest != "" {
		m, ok := s.length()
		if !ok || !s.separator() {
			return nil, refuse(s.rest, name)
		}
		found = append(found, m)
	}
	if len(found) != count {
		return nil, fmt.Errorf("has %s, %d are wanted; blanks separate them", counted(len(found), "coordinate"), count)
	}
	return resolve(found)
}

// separator reads what stands between two coordinates, or nothing at the end of the text.
func (s *scanner) separator() bool {
	if s.rest == "" {
		return true
	}
	if s.take(";") {
		s.skipBlanks()
		return s.rest != ""
	}
	s.take(",")
	return s.take(" ")
}
