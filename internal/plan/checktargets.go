package plan

import (
	"gloam/internal/document"
	"gloam/internal/fault"
)

// checkTargets tells targets that want nothing, or something of a point that is none.
func (c *checker) checkTargets() {
	for i := range c.doc.Targets {
		t := &c.doc.Targets[i]
		path := t.Path()
		c.meteringPoint(path.Join("point"), t.Point)
		for n, point := range t.Across {
			c.meteringPoint(path.Join("across").Item(n), point)
		}
		if t.Over != OverKey && t.Over != OverAmbient {
			c.meteringPoint(path.Join("over"), t.Over)
		}
		if t.Walk != "" {
			c.isA(path.Join("walk"), t.Walk, walkKind)
		}
		if t.By != "" {
			c.isA(path.Join("by"), t.By, lampKind, practicalKind)
		}
		if t.Tolerance != nil && *t.Tolerance < 0 {
			c.tell(path.Join("tolerance"), fault.Fault{Text: "a tolerance is not below 0", Read: t.Tolerance.String()})
		}
		if t.Within != nil && *t.Within < 0 {
			c.tell(path.Join("within"), fault.Fault{Text: "a tolerance is not below 0", Read: t.Within.String()})
		}
		if c.clean(path) {
			c.checkWish(path, t)
		}
	}
}

func (c *checker) checkWish(path document.Path, t *Target) {
	wishes := 0
	for _, whole := range []bool{t.Point != "" && t.Level != nil, t.Point != "" && t.Mired != nil, t.Walk != "" && t.Swing != nil, len(t.Across) > 0 && t.Swing != nil} {
		if whole {
			wishes++
		}
	}
	half := (t.Point == "") != (t.Level == nil && t.Mired == nil) || (t.Walk == "" && len(t.Across) == 0) != (t.Swing == nil)
	switch {
	case wishes != 1 || half:
		c.lacks(path, fault.Fault{Text: "a target is one wish", Allowed: "point with level, point with mired, walk with swing, or across with swing"})
	case t.Swing != nil && *t.Swing <= 0:
		c.tell(path.Join("swing"), fault.Fault{Text: "a swing is above 0", Read: t.Swing.String()})
	case len(t.Across) == 1:
		c.tell(path.Join("across"), fault.Fault{Text: "one point is always even", Allowed: "two points or more"})
	case t.Point != "" && t.Over == t.Point:
		c.tell(path.Join("over"), faultText("a point is not over itself"))
	case t.Bound != "at" && t.Level == nil:
		c.tell(path.Join("bound"), fault.Fault{Text: "only a level may lie above or below", Read: t.Bound})
	}
}
