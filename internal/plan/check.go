package plan

import (
	"fmt"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/unit"
)

// checker gathers what is wrong with a document whose form has been read: the plan's own, or that of a set-up.
type checker struct {
	doc    *Document
	places document.Places
	kit    *gear.Kit
	files  *files
	form   fault.List      // what was wrong with the form
	setup  string          // "" for the plan's own document
	left   map[string]bool // names that the set-up's uses leave out
	draft  bool            // the plan's own document, which its set-ups complete
	later  map[string]bool // of a draft: names that only set-ups declare
	faults fault.List

	things  []*thing
	named   map[string]*thing
	locator *Locator
	partial bool // some names were lost with a fault of form, so a name not found may be one of them
}

// check tells everything that is wrong and does not hang on what one set-up uses.
func (c *checker) check() {
	c.locator = NewLocator(c.doc)
	c.things, c.named = c.locator.things, c.locator.named
	c.partial = c.lost()
	c.checkCycles() // first, so that a circle reads the same whatever else is asked
	c.checkNames()
	c.checkZone()
	c.checkDaylight()
	c.checkSet()
	c.checkMaterials()
	c.checkMarks()
	c.checkPeople()
	c.checkPoints()
	c.checkLamps()
	c.checkPracticals()
	c.checkCloths()
	c.checkAmbient()
	c.checkCamera()
	c.checkResponse()
	c.checkRipple()
	c.checkUnderlay()
	c.checkTruck()
	c.checkTargets()
	c.checkTones()
	c.checkInside()
}

// checkWhole tells what a set-up lacks to give an answer.
func (c *checker) checkWhole(path document.Path) {
	d := c.doc
	if d.Camera == nil && c.clean("camera") {
		c.tell(path, fault.Fault{Text: "there is no camera, so no level to be over or under",
			Hint: "add camera: with ei, fps, shutter and stop"})
	}
	c.checkKeySides()
}

// tell adds a fault at path.
func (c *checker) tell(path document.Path, f fault.Fault) {
	if len(c.faults) > mostFaults {
		return // more than anybody reads
	}
	f.Place, f.Path = c.places.At(path), string(c.places.Path(path))
	c.faults = append(c.faults, f)
}

// tellErr adds the fault that an error is, with the text that was read.
func (c *checker) tellErr(path document.Path, err error, read string) {
	for _, f := range fault.Of(err, fault.Input) {
		if f.Read == "" {
			f.Read = read
		}
		c.tell(path, f)
	}
}

// lacks tells what is not there, unless a set-up may bring it: then each set-up is asked.
func (c *checker) lacks(path document.Path, f fault.Fault) {
	if !c.draft {
		c.tell(path, f)
	}
}

func faultText(text string, values ...any) fault.Fault {
	if len(values) > 0 {
		text = fmt.Sprintf(text, values...)
	}
	return fault.Fault{Text: text}
}

// clean reports whether the form had no fault at or under any of the paths, nor at the root.
func (c *checker) clean(paths ...document.Path) bool {
	for _, f := range c.form {
		if f.Path == "" {
			return false
		}
		for _, p := range paths {
			if under(document.Path(f.Path), p) {
				return false
			}
		}
	}
	return true
}

// under reports whether a path is p or lies under it.
func under(path, p document.Path) bool {
	rest, found := strings.CutPrefix(string(path), string(p))
	return found && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// lost reports whether a fault of form may have cost a name: one that stands where names are declared.
func (c *checker) lost() bool {
	for _, f := range c.form {
		switch f.Path {
		case "", "set", "set.rooms", "set.objects", "marks", "walks", "people", "points", "lamps", "practicals", "cloths", "ambient":
			return true
		}
		for _, r := range c.doc.Set.Rooms {
			if room := roomPath(r.Name); f.Path == string(room) || f.Path == string(room.Join("openings")) {
				return true
			}
		}
	}
	return false
}

// between tells a length that is outside its bounds, and reports whether it is inside.
func (c *checker) between(path document.Path, value, low, high unit.Metre) bool {
	text := "is too small"
	switch {
	case value > high:
		text = "is too big"
	case value >= low:
		return true
	}
	c.tell(path, fault.Fault{Text: text, Read: value.String(), Allowed: fmt.Sprintf("%v to %v", low, high)})
	return false
}

// sides tells the first side of a size that is outside its bounds, and reports whether there is none.
func (c *checker) sides(path document.Path, high unit.Metre, sides ...unit.Metre) bool {
	for _, side := range sides {
		if !c.between(path, side, smallestSide, high) {
			return false
		}
	}
	return true
}

// Bounds of sizes: past them a figure is taken for a slip of the pen or of the unit.
const (
	largestRoom  unit.Metre = 1000
	largestCloth unit.Metre = 100
	smallestSide unit.Metre = 0.001
	highest      unit.Metre = 1000
	lowest       unit.Metre = -1000
)

// hottest is the highest colour temperature for which there is a spectrum.
const hottest unit.Kelvin = 25_000

// colour tells a colour temperature for which there is no spectrum.
func (c *checker) colour(path document.Path, k *unit.Kelvin) {
	if k != nil && *k > hottest {
		c.tell(path, fault.Fault{Text: "is above 25,000 K, past which no light is known", Read: fmt.Sprintf("%.0f K", float64(*k)), Allowed: "1000 K to 25,000 K"})
	}
}

// material tells a material that is none.
func (c *checker) material(path document.Path, text string) {
	if text == "" {
		return
	}
	if _, err := c.doc.Finish(text); err != nil {
		c.tellErr(path, err, text)
	}
}
