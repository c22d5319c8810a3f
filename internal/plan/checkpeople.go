package plan

import (
	"fmt"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// checkMarks tells what is wrong with marks and walks.
func (c *checker) checkMarks() {
	for i := range c.doc.Marks {
		c.where(document.Path("marks").Join(c.doc.Marks[i].Name), &c.doc.Marks[i].Value.At)
	}
	for i := range c.doc.Walks {
		c.checkWalk(document.Path("walks").Join(c.doc.Walks[i].Name), &c.doc.Walks[i].Value)
	}
}

// mostWalkPoints bounds the points of one walk.
const mostWalkPoints = 1000

func (c *checker) checkWalk(path document.Path, w *Walk) {
	marks := path.Join("marks")
	for i := range w.Marks {
		c.where(marks.Item(i), &w.Marks[i])
	}
	c.toward(path.Join("faces"), w.Faces)
	c.between(path.Join("height"), *w.Height, 0, highest)
	if w.Who != "" && !c.left[w.Who] {
		c.isA(path.Join("who"), w.Who, personKind)
	}
	if !c.clean(path) {
		return
	}
	if len(w.Marks) < 2 {
		c.tell(marks, fault.Fault{Text: "a walk leads from one mark to another: it needs two or more", Read: w.Marks[0].String()})
		return
	}
	length, ok := c.walkLength(w)
	switch {
	case !ok:
	case length < smallestSide:
		c.tell(marks, faultText("the walk has no length: its marks are all in one place"))
	case *w.Every < 0.01 || length/(*w.Every) > mostWalkPoints:
		c.tell(path.Join("every"), fault.Fault{Text: fmt.Sprintf("the walk is %v long: that makes too many points", length), Read: w.Every.String(),
			Allowed: fmt.Sprintf("1 cm or more, and up to %d points", mostWalkPoints)})
	}
}

// walkLength returns how long a walk is, and whether all its marks have places.
func (c *checker) walkLength(w *Walk) (unit.Metre, bool) {
	var length float64
	var before geometry.Vector
	for i := range w.Marks {
		at, ok := c.locator.Place(&w.Marks[i], 0)
		if !ok {
			return 0, false
		}
		if i > 0 {
			length += at.Sub(before).Length()
		}
		before = at
	}
	return unit.Metre(length), true
}

// checkPeople tells what is wrong with people.
func (c *checker) checkPeople() {
	for i := range c.doc.People {
		p := &c.doc.People[i].Value
		path := document.Path("people").Join(c.doc.People[i].Name)
		c.where(path.Join("at"), &p.At)
		c.toward(path.Join("faces"), &p.Faces)
		c.ownWay(path.Join("faces"), c.doc.People[i].Name, &p.Faces)
		c.between(path.Join("height"), *p.Height, 0.4, 2.6)
		if p.Face != nil && (*p.Face <= 0.1 || *p.Face >= *p.Height) {
			c.tell(path.Join("face"), fault.Fault{Text: "the face is above the floor and below the crown", Read: p.Face.String(),
				Allowed: fmt.Sprintf("%v to %v", unit.Metre(0.1), *p.Height)})
		}
		c.material(path.Join("skin"), p.Skin)
		c.material(path.Join("wears"), p.Wears)
	}
}

// ownWay tells a thing that faces itself.
func (c *checker) ownWay(path document.Path, name string, t *Toward) {
	if t.Name.Thing == name {
		c.tell(path, faultText("it faces itself"))
	}
}

// checkKeySides tells people whose key side nothing says.
func (c *checker) checkKeySides() {
	keys := c.doc.keyLamps()
	for i := range c.doc.People {
		path := document.Path("people").Join(c.doc.People[i].Name)
		switch {
		case c.doc.People[i].Value.Key != "" || !c.clean(path, "lamps"):
		case len(keys) == 0:
			c.tell(path, fault.Fault{Text: "nothing says which is the key side", Hint: "say key: left or key: right here, or key: true at one lamp"})
		case len(keys) > 1:
			c.tell(path, fault.Fault{Text: "several lamps are marked key, so the key side is open", Read: strings.Join(keys, ", "),
				Hint: "say key: left or key: right here"})
		}
	}
}

// checkPoints tells what is wrong with metering points.
func (c *checker) checkPoints() {
	for i := range c.doc.Points {
		p := &c.doc.Points[i].Value
		path := document.Path("points").Join(c.doc.Points[i].Name)
		c.where(path.Join("at"), &p.At)
		c.toward(path.Join("faces"), p.Faces)
		c.between(path.Join("height"), p.Height, lowest, highest)
		if !c.clean(path) {
			continue
		}
		spot := p.Receptor == "spot"
		switch {
		case spot && p.Faces != nil:
			c.tell(path.Join("faces"), faultText("a spot faces nothing: it looks from the camera"))
		case spot && c.doc.Camera != nil && c.doc.Camera.At == nil && c.clean("camera"):
			c.lacks(path, fault.Fault{Text: "a spot looks from the camera, which has no place", Hint: "say where it stands: camera.at"})
		case !spot && p.Faces == nil:
			c.lacks(path, fault.Fault{Text: "does not say what the meter faces", Allowed: Toward{}.Forms()})
		case !spot:
			at, ok := c.locator.Meter(&p.At, p.Height)
			c.notAtItself(path.Join("faces"), p.Faces, at, ok)
		}
	}
}

// notAtItself tells what faces the place where it stands, if it has one.
func (c *checker) notAtItself(path document.Path, t *Toward, at geometry.Vector, placed bool) {
	if !placed {
		return
	}
	if way, ok := c.locator.Way(t, at); ok && way.Length() < float64(smallestSide) {
		c.tell(path, fault.Fault{Text: "this is where it stands itself, so there is no direction", Read: t.String()})
	}
}

// checkAmbient tells readings that do not say where they come from.
func (c *checker) checkAmbient() {
	for i := range c.doc.Ambient {
		a := &c.doc.Ambient[i].Value
		path := document.Path("ambient").Join(c.doc.Ambient[i].Name)
		c.where(path.Join("at"), a.At)
		c.toward(path.Join("faces"), a.Faces)
		c.meteringPoint(path.Join("point"), a.Point)
		c.checkLight(path, a.Spectrum, a.Colour, a.Duv)
		for j, name := range a.Through {
			c.isA(path.Join("through").Item(j), name, openingKind)
		}
		if a.Doubt != nil && *a.Doubt < 0 {
			c.tell(path.Join("doubt"), fault.Fault{Text: "a doubt is not below 0", Read: a.Doubt.String()})
		}
		if c.clean(path) {
			c.checkReading(path, a)
		}
	}
}

// Shapes of an ambient that are asked for by name.
const (
	sunShape      = "sun"
	daylightShape = "daylight"
)

// checkReading tells a reading that is none, or that does not say where the meter was.
func (c *checker) checkReading(path document.Path, a *Ambient) {
	if a.Reading <= 0 {
		c.tell(path.Join("reading"), fault.Fault{Text: "a reading of no light is no source", Allowed: "above 0 lx"})
	}
	if a.Luminance != nil && *a.Luminance <= 0 {
		c.tell(path.Join("luminance"), fault.Fault{Text: "a luminance is above 0"})
	}
	if p, ok := c.doc.Points.Get(a.Point); ok && p.Receptor == "spot" {
		c.tell(path.Join("point"), faultText("%q is a spot and reads a luminance; an ambient's reading is in lux", a.Point))
	}
	place := a.At != nil && a.Faces != nil
	switch {
	case a.Point != "" && a.At != nil:
		c.tell(path, faultText("says twice where it was read: by point and by at"))
	case a.Point == "" && !place && a.Shape != "everywhere" && (a.Shape != daylightShape || a.Outside != nil):
		c.lacks(path, fault.Fault{Text: "does not say where it was read", Hint: "say point: a metering point, or at: and faces:"})
	case place:
		at, ok := c.locator.Meter(a.At, a.Height)
		c.notAtItself(path.Join("faces"), a.Faces, at, ok)
	}
	c.checkModel(path, a)
	if a.Shape == sunShape {
		switch {
		case a.Altitude == nil || a.Azimuth == nil:
			c.lacks(path, fault.Fault{Text: "does not say where the sun stands", Hint: "say altitude: and azimuth:"})
		case *a.Altitude <= 0 || *a.Altitude > 90:
			c.tell(path.Join("altitude"), fault.Fault{Text: "the sun lights nothing from below the horizon", Read: a.Altitude.String(), Allowed: "above 0° to 90°"})
		}
	}
}
