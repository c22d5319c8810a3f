// Package document turns the YAML text of a plan or a kit into typed Go values and changes such a text at one place.
//
// Reading is strict and tells every fault at once, each with its place, its path, what was read and what is allowed.
// A value is read from its text as written: 18:35 stays 18:35 and 012 stays 012, whatever a YAML schema makes of them.
// Editing changes the bytes of one value and no other; comments, blank lines and line ends stay. The JSON Schema for
// editors comes from the same Go types.
//
// Of YAML [YAML122] it reads mappings, sequences and scalars in block and flow form, anchors and aliases. It refuses,
// with a fault, what a plan has no use for and what makes a text mean something unseen: tags, merge keys, directives,
// keys that are not text, a stated depth of lines, several documents in one file. A tab counts as a blank and may not indent.
//
// Input is bounded: 4 MiB, 200 000 values with aliases unfolded, 64 levels, 5000 names side by side, 200 bytes a name,
// 50 empty lines in a row. No input makes the package panic. A wrong Go type does.
package document

import (
	"reflect"
	"sort"
	"strings"
	"unicode/utf8"

	"gloam/internal/fault"
)

const (
	maxBytes   = 4 << 20
	maxValues  = 200_000
	maxDepth   = 64
	maxEntries = 5000 // of one mapping: the syntax library's time grows with its square
	maxEmpty   = 50   // lines in a row: after a text on lines of its own, its time grows with them times the text
	maxName    = 200  // bytes
	maxFaults  = 500  // told at once; nobody reads more
)

// Text is a value that reads itself from one line of text, as every quantity of package unit does. It is implemented
// by a pointer. Forms says what Parse accepts, to stand after "allowed:".
type Text interface {
	Parse(text string) error
	Forms() string
}

// Short is a struct for which a single value may stand: `ground: snow`. It is implemented by a pointer. A type with a
// method Forms() string has it told in faults and in the schema.
type Short interface {
	ParseShort(text string) error
}

// Named is a mapping of names to values in the order written.
type Named[T any] []Entry[T]

// Entry is one name of a Named with its value.
type Entry[T any] struct {
	Name  string
	Value T
}

// Get returns the value of a name, and whether the name is there.
func (n Named[T]) Get(name string) (*T, bool) {
	for i := range n {
		if n[i].Name == name {
			return &n[i].Value, true
		}
	}
	return nil, false
}

// Names returns the names in the order written.
func (n Named[T]) Names() []string {
	names := make([]string, len(n))
	for i := range n {
		names[i] = n[i].Name
	}
	return names
}

// add appends a name and returns the address of its value, so that the reader need not know T.
func (n *Named[T]) add(name string) reflect.Value {
	*n = append(*n, Entry[T]{Name: name})
	return reflect.ValueOf(&(*n)[len(*n)-1].Value).Elem()
}

func (n *Named[T]) element() reflect.Type { return reflect.TypeFor[T]() }

// named is what every *Named[T] has.
type named interface {
	add(name string) reflect.Value
	element() reflect.Type
}

// Fragment is the field of a set-up, tagged `yaml:"*"`, that takes every name the set-up has no field for: the part of
// the document that it overrides. It holds those names in the order written; DecodeOverlaid reads what is under them.
type Fragment []string

// Source is a document whose form is right: its text, and where in it each value stands.
type Source struct {
	file string
	raw  []byte // as given
	text string // raw without byte order mark and carriage returns; offsets count its bytes
	bom  int    // bytes of the byte order mark
	cuts []int  // offsets in text before which raw has a carriage return more
	root *node
}

// place returns line and column, in characters from 1, of an offset in s.text.
func (s *Source) place(offset int) fault.Place {
	start := lineStart(s.text, offset)
	return fault.Place{
		File:   s.file,
		Line:   1 + strings.Count(s.text[:start], "\n"),
		Column: 1 + utf8.RuneCountInString(s.text[start:offset]),
	}
}

// rawOffset returns where an offset of s.text is in s.raw. The end of a line is before its carriage return.
func (s *Source) rawOffset(offset int) int {
	return s.bom + offset + sort.SearchInts(s.cuts, offset)
}

func lineStart(text string, offset int) int { return strings.LastIndexByte(text[:offset], '\n') + 1 }

// lineEnd returns the offset of the newline that ends the line, or of the end of the text.
func lineEnd(text string, offset int) int {
	if i := strings.IndexByte(text[offset:], '\n'); i >= 0 {
		return offset + i
	}
	return len(text)
}
