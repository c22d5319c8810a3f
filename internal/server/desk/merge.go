package desk

import (
	"cmp"
	"path/filepath"

	"gloam/internal/document"
	"gloam/internal/fault"
)

// Loss is a value that a conflict cost: one that a later edit of the same field overwrote, or one that could not be
// written since what it belonged to was gone. Nothing is lost for good: undo brings it back.
type Loss struct {
	Revision int    `json:"revision" doc:"the step that settled it"`
	Path     string `json:"path"`
	Lost     string `json:"lost"`
	Kept     string `json:"kept"`
	Reason   string `json:"reason"`
}

// shift is an item put into a list, or taken out of it.
type shift struct {
	List  string `json:"list"`
	Index int    `json:"index"`
	Added bool   `json:"added,omitempty"`
}

// merged is what an edit comes to on the present text.
type merged struct {
	text   []byte
	shifts []shift
	lost   []Loss
}

// merge makes an edit's changes on the present text. Of two edits of one field the later one stands.
func (d *Desk) merge(e Edit) (merged, error) {
	out := merged{text: d.text}
	now, ok := fieldsOf(d.text)
	if !ok {
		return out, fault.Fault{Kind: fault.Input, Text: "the plan's text is not well formed: mend it first"}
	}
	for _, c := range e.Changes {
		way, err := steps(c.Path)
		if err != nil {
			return out, fault.Fault{Kind: fault.Call, Path: string(c.Path), Text: err.Error(), Read: string(c.Path)}
		}
		m := mover{by: e.By, way: way, now: &now}
		for _, r := range d.history.since(e.Base) {
			m.pass(&r)
		}
		if loss := m.settle(&c); loss != nil {
			out.lost = append(out.lost, *loss)
		}
		if m.gone {
			continue
		}
		if err := out.make(filepath.Base(d.file), m.way, c.Value, &now); err != nil {
			return out, err
		}
	}
	return out, nil
}

// make makes one change.
func (m *merged) make(file string, way []step, value *string, now *fields) error {
	source, err := document.Parse(file, m.text)
	if err != nil {
		return err
	}
	path := join(way)
	if value == nil {
		m.text, err = source.Remove(path)
	} else {
		m.text, err = source.Edit(path, *value)
	}
	if err != nil {
		return err
	}
	for i, s := range way {
		list := string(join(way[:i]))
		switch n, known := now.lists[list]; {
		case s.item < 0:
		case value == nil && i == len(way)-1:
			m.shifts = append(m.shifts, shift{list, s.item, false})
		case value != nil && (!known || s.item == n):
			m.shifts = append(m.shifts, shift{list, s.item, true})
		}
	}
	*now, _ = fieldsOf(m.text)
	return nil
}

// mover takes the path of one change through the steps that came between.
type mover struct {
	by     string
	way    []step
	now    *fields
	gone   bool   // what the change belonged to is no longer there
	reason string // why there is a conflict; "" for none
}

// pass takes the path through a step. A person's own steps are no news to them.
func (m *mover) pass(r *record) {
	if m.gone || r.By == m.by && r.By != "" {
		return
	}
	if r.Form {
		m.conflict("the text was changed outside")
		return
	}
	path := string(join(m.way))
	for _, g := range r.Gone {
		if within(g, path) || within(path, g) {
			m.conflict("removed meanwhile")
		}
		for i := 2; i < len(m.way); i++ { // a thing of a section: with its last field it goes itself
			if holder := string(join(m.way[:i])); within(g, holder) && !m.now.holds(holder) {
				m.gone = true
				m.conflict(holder + " was removed meanwhile")
			}
		}
	}
	for _, s := range r.Shifts {
		m.shift(s)
	}
	for _, list := range r.Lists {
		if i := m.inList(list); i >= 0 {
			m.gone = true
			m.conflict("the items of " + list + " moved meanwhile")
		}
	}
	path = string(join(m.way))
	for _, s := range r.Set {
		if within(s, path) || within(path, s) {
			m.conflict("changed meanwhile")
		}
	}
}

func (m *mover) conflict(reason string) { m.reason = reason }

// inList returns which step of the way leads to an item of a list, or -1.
func (m *mover) inList(list string) int {
	for i, s := range m.way {
		if s.item >= 0 && string(join(m.way[:i])) == list {
			return i
		}
	}
	return -1
}

// shift follows an item that moved.
func (m *mover) shift(s shift) {
	i := m.inList(s.List)
	switch {
	case i < 0:
	case s.Added && m.way[i].item >= s.Index:
		m.way[i].item++
	case !s.Added && m.way[i].item == s.Index:
		m.gone = true
		m.conflict("removed meanwhile")
	case !s.Added && m.way[i].item > s.Index:
		m.way[i].item--
	}
}

// settle says what a conflict cost.
func (m *mover) settle(c *Change) *Loss {
	if m.reason == "" {
		return nil
	}
	path := string(join(m.way))
	theirs, there := m.now.values[path]
	if !there {
		theirs = "its removal"
	}
	if !there && m.now.holds(path) {
		theirs = "what stood in it"
	}
	mine := ""
	if c.Value != nil {
		mine = *c.Value
	}
	switch {
	case m.gone:
		return &Loss{Path: path, Lost: cmp.Or(mine, "its removal"), Reason: m.reason}
	case c.Value == nil && !m.now.holds(path):
		m.gone = true // both removed it
		return nil
	case theirs == mine && there:
		return nil
	}
	return &Loss{Path: path, Lost: theirs, Kept: mine, Reason: m.reason}
}
