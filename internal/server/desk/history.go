package desk

import (
	"bytes"
	"slices"
)

// kind is what made a step.
type kind string

const (
	edited  kind = "edit"
	undone  kind = "undo"
	redone  kind = "redo"
	outside kind = "outside"
)

// record is one step from a revision to the next.
type record struct {
	Revision int    `json:"revision"` // after it
	Kind     kind   `json:"kind"`
	By       string `json:"by,omitempty"`
	Group    string `json:"group,omitempty"`
	Splice   splice `json:"splice"`
	Lost     []Loss `json:"lost,omitempty"`

	// What it did to the fields, for edits made on a revision before it.
	Set    []string `json:"set,omitempty"`    // paths of single values, as they are after it
	Gone   []string `json:"gone,omitempty"`   // the same of what is no longer there, as they were before it
	Shifts []shift  `json:"shifts,omitempty"` // items of lists put in or taken out
	Lists  []string `json:"lists,omitempty"`  // lists whose items moved in a way not known
	Form   bool     `json:"form,omitempty"`   // a text on one of its sides is not well formed: anything may have changed
}

// splice is the one stretch of bytes in which two texts differ.
type splice struct {
	At  int    `json:"at"`
	Out []byte `json:"out,omitempty"`
	In  []byte `json:"in,omitempty"`
}

func spliceOf(before, after []byte) splice {
	short := min(len(before), len(after))
	head := 0
	for head < short && before[head] == after[head] {
		head++
	}
	tail := 0
	for tail < short-head && before[len(before)-1-tail] == after[len(after)-1-tail] {
		tail++
	}
	return splice{head, slices.Clone(before[head : len(before)-tail]), slices.Clone(after[head : len(after)-tail])}
}

// apply returns text with the splice made, and whether it fits the text.
func (s splice) apply(text []byte) ([]byte, bool) {
	if s.At < 0 || s.At > len(text) || !bytes.HasPrefix(text[s.At:], s.Out) {
		return nil, false
	}
	return slices.Concat(text[:s.At], s.In, text[s.At+len(s.Out):]), true
}

func (s splice) inverse() splice { return splice{s.At, s.In, s.Out} }

// unit is what one undo takes back: the splices of a step or of a group of them, in the order made.
type unit struct {
	by, group string
	splices   []splice
}

// history is the steps from a base revision to the present.
type history struct {
	base         int // revision before records[0]
	records      []record
	done, undone []unit
}

func (h *history) revision() int { return h.base + len(h.records) }

// since returns the steps after a revision.
func (h *history) since(revision int) []record { return h.records[revision-h.base:] }

// add books a step and returns it with its revision.
func (h *history) add(r record) record {
	r.Revision = h.revision() + 1
	h.records = append(h.records, r)
	switch r.Kind {
	case undone:
		h.undone = append(h.undone, pop(&h.done, r.Splice.inverse()))
	case redone:
		h.done = append(h.done, pop(&h.undone, r.Splice))
	default:
		h.undone = nil
		last := len(h.done) - 1
		if last >= 0 && r.Group != "" && h.done[last].group == r.Group && h.done[last].by == r.By {
			h.done[last].splices = append(h.done[last].splices, r.Splice)
		} else if len(r.Splice.Out)+len(r.Splice.In) > 0 {
			h.done = append(h.done, unit{r.By, r.Group, []splice{r.Splice}})
		}
	}
	return r
}

// pop takes the last unit off a stack; where the journal was cut before it, the step itself tells what it was. What was
// taken back and made again is no longer open for more of its group.
func pop(stack *[]unit, otherwise splice) unit {
	last := len(*stack) - 1
	if last < 0 {
		return unit{splices: []splice{otherwise}}
	}
	u := (*stack)[last]
	*stack = (*stack)[:last]
	u.group = ""
	return u
}

// travel returns the text after an undo or a redo, and whether there is one.
func (h *history) travel(k kind, text []byte) ([]byte, bool) {
	stack := h.done
	if k == redone {
		stack = h.undone
	}
	if len(stack) == 0 {
		return nil, false
	}
	splices := slices.Clone(stack[len(stack)-1].splices)
	if k == undone {
		slices.Reverse(splices)
	}
	ok := true
	for _, s := range splices {
		if k == undone {
			s = s.inverse()
		}
		if text, ok = s.apply(text); !ok {
			return nil, false
		}
	}
	return text, true
}

// mostLost is how many losses are told.
const mostLost = 20

// lost returns the latest losses.
func (h *history) lost() []Loss {
	all := []Loss{}
	for i := len(h.records) - 1; i >= 0 && len(all) < mostLost; i-- {
		for j := len(h.records[i].Lost) - 1; j >= 0; j-- {
			l := h.records[i].Lost[j]
			l.Revision = h.records[i].Revision
			all = append(all, l)
		}
	}
	slices.Reverse(all)
	return all
}
