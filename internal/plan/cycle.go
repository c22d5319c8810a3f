package plan

import (
	"fmt"
	"strings"
)

// checkCycles tells each circle of places that hang on one another, once.
func (c *checker) checkCycles() {
	c.locator.foot(Name{Thing: CameraName})
	for _, t := range c.things {
		c.locator.foot(Name{Thing: t.name})
		if c.named[t.name].person != nil {
			c.locator.Figure(t.name)
			c.locator.keyLeft(t.name)
		}
	}
	for _, around := range c.locator.circles {
		c.tellCircle(around)
	}
}

// tellCircle tells a circle at the place of the thing that comes first in the file.
func (c *checker) tellCircle(around []node) {
	const most = 12 // links worth reading
	first := c.named[around[0].name]
	var links []string
	for i, n := range around {
		t, next := c.named[n.name], around[(i+1)%len(around)].name
		if at, best := c.places.At(t.path), c.places.At(first.path); at.Line < best.Line {
			first = t
		}
		if next != n.name || len(around) == 1 {
			links = append(links, fmt.Sprintf("%s hangs on %s", n.name, next))
		}
	}
	if len(links) > most {
		links = append(links[:most], "and so on")
	}
	f := faultText("the places go in a circle: " + strings.Join(links, ", "))
	f.Hint = "give one of them a place of its own"
	c.tell(first.path, f)
}
