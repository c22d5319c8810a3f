package server

import (
	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// TargetDrawn is a level wanted at a point.
type TargetDrawn struct {
	Path      document.Path `json:"path" doc:"of the whole target: to remove it"`
	Point     string        `json:"point"`
	Over      string        `json:"over" doc:"key, ambient or another point"`
	Bound     string        `json:"bound" doc:"at, at least, at most"`
	Wanted    unit.Stop     `json:"wanted_stops"`
	Tolerance unit.Stop     `json:"tolerance_stops"`
	Level     Field         `json:"level"`
	Within    Field         `json:"within"`
	Against   Field         `json:"against" doc:"what the level is over"`
}

// TintDrawn is a colour wanted at a point.
type TintDrawn struct {
	Path   document.Path `json:"path" doc:"of the whole target: to remove it"`
	Point  string        `json:"point"`
	Mired  Field         `json:"mired" doc:"distance from the balance"`
	Within Field         `json:"within"`
}

// targets are those of points. A list is written whole or not at all, so each is edited where it stands.
func (d *drawer) targets() {
	for i := range d.view.Document.Targets {
		t := &d.view.Document.Targets[i]
		path := d.view.Places.Path(t.Path())
		field := func(name, value string) Field { return Field{name, path.Join(name), value} }
		if t.Mired != nil {
			d.out.Tints = append(d.out.Tints, TintDrawn{path, t.Point, field("mired", t.Mired.String()), field("within", t.Within.String())})
		}
		if t.Level == nil {
			continue
		}
		d.out.Targets = append(d.out.Targets, TargetDrawn{path, t.Point, t.Over, t.Bound, *t.Level, *t.Tolerance,
			field("level", t.Level.String()), field("tolerance", t.Tolerance.Interval()[len("±"):]), field("over", t.Over)})
	}
}

// newTarget is where a further target is written: at the end of the list that holds for the set-up.
func newTarget(p *plan.Plan, view *plan.View) document.Path {
	list := document.Path("targets")
	if own := view.Places.Path(list); own != list {
		return own.Item(len(view.Document.Targets)) // of its own list a set-up leaves nothing out
	}
	return list.Item(len(p.Document.Targets))
}
