package document

import "strings"

type kind int

const (
	null kind = iota
	scalar
	mapping
	list
	alias
)

// node is one value of the text.
type node struct {
	kind    kind
	text    string // scalar: its text, without quotes
	style   byte   // scalar: the quote, or | or > before its lines; 0 for plain
	span    span   // of a scalar with lines: the header; of a null not written: where it would stand
	lines   span   // of a scalar with lines
	entries []entry
	flow    bool  // in braces or brackets
	target  *node // alias
	size    int   // values, with aliases unfolded
	weight  int   // bytes of text, with aliases unfolded
	depth   int
}

// entry is one value of a mapping or list with what stands before it.
type entry struct {
	name  string
	lead  int // where the name or dash begins; in a list in brackets, the value
	sign  int // where the colon or dash ends; 0 where there is none
	comma int // in braces or brackets, the comma before it, -1 for none
	value *node
	from  Path // the fragment that brought it over the document; "" as its parent
}

// real returns the node an alias stands for.
func (n *node) real() *node {
	for n.kind == alias {
		n = n.target
	}
	return n
}

// end returns where the last byte of the value ends. Blank lines after a scalar's lines belong to it only by its `+`.
func (n *node) end(text string) int {
	switch {
	case n.lines.end > n.lines.start && strings.Contains(text[n.span.start:n.span.end], "+"):
		return n.lines.end
	case n.lines.end > n.lines.start:
		last := n.lines.start + len(strings.TrimRight(text[n.lines.start:n.lines.end], "\n "))
		return lineEnd(text, last)
	}
	return n.span.end
}

// place returns where a fault on the value of e is told: at a single value's text, else at the name.
func (e entry) place() int {
	if n := e.value.real(); n.kind == scalar || n.kind == null && n.span.end > n.span.start {
		return n.span.start
	}
	return e.lead
}
