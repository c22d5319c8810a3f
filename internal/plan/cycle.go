package plan

import (
	"fmt"
	"strings"
)

// node is what a place hangs on: where a thing is, or, with points, where the points of a person are, which turn with
// what the person faces.
type node struct {
	name   string
	points bool
}

func nodeOf(n Name) node { return node{n.Thing, n.Point != ""} }

// hangsOn returns what a node's place is measured from.
func (c *checker) hangsOn(n node) []node {
	t, ok := c.named[n.name]
	if !ok {
		return nil
	}
	var all []node
	switch {
	case n.points && t.person != nil:
		all = append(all, node{n.name, false})
		if faces := t.person.Faces.Name; faces != (Name{}) {
			all = append(all, nodeOf(faces))
		}
		if t.person.Key == "" {
			for i := range c.doc.Lamps {
				if c.doc.Lamps[i].Value.Key {
					all = append(all, node{c.doc.Lamps[i].Name, false})
				}
			}
		}
	case t.at != nil:
		for _, name := range t.at.names() {
			all = append(all, nodeOf(name))
		}
	case t.room != nil:
		for _, name := range t.room.Corner.names() {
			all = append(all, nodeOf(name))
		}
	default:
		for i := range t.marks {
			for _, name := range t.marks[i].names() {
				all = append(all, nodeOf(name))
			}
		}
	}
	return all
}

// checkCycles tells each circle of places that hang on one another, once.
func (c *checker) checkCycles() {
	s := circles{checker: c, done: map[node]bool{}, open: map[node]int{}}
	s.visit(node{CameraName, false})
	for _, t := range c.things {
		s.visit(node{t.name, false})
		if t.person != nil {
			s.visit(node{t.name, true})
		}
	}
}

// circles is a search down the places.
type circles struct {
	*checker
	done  map[node]bool
	open  map[node]int // where on the trail
	trail []node
}

func (s *circles) visit(n node) {
	if i, open := s.open[n]; open {
		s.tellCircle(s.trail[i:])
		return
	}
	if s.done[n] {
		return
	}
	s.open[n] = len(s.trail)
	s.trail = append(s.trail, n)
	for _, next := range s.hangsOn(n) {
		s.visit(next)
	}
	s.trail = s.trail[:len(s.trail)-1]
	delete(s.open, n)
	s.done[n] = true
}

// tellCircle tells a circle at the place of the thing that comes first in the file.
func (s *circles) tellCircle(around []node) {
	first := s.named[around[0].name]
	var links []string
	for i, n := range around {
		t, next := s.named[n.name], around[(i+1)%len(around)].name
		if at, best := s.places.At(t.path), s.places.At(first.path); at.Line < best.Line {
			first = t
		}
		if next != n.name || len(around) == 1 {
			links = append(links, fmt.Sprintf("%s hangs on %s", n.name, next))
		}
	}
	f := faultText("the places go in a circle: " + strings.Join(links, ", "))
	f.Hint = "give one of them a place of its own"
	s.tell(first.path, f)
}
