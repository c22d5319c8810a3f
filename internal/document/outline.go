package document

import (
	"fmt"

	"github.com/goccy/go-yaml/token"

	"gloam/internal/fault"
)

var (
	tooMany = fmt.Sprintf("more than %d values", maxValues)
	tooDeep = fmt.Sprintf("more than %d levels of fields inside fields", maxDepth)
	noMerge = fault.Fault{Text: "merge keys (<<) are not read", Hint: "write the fields out"}
)

// level is one mapping or list that is open while the tokens pass.
type level struct {
	flow   bool // in braces or brackets
	braces bool
	rank   int // of a block: twice the column, one more for a list, which may stand at its key's column
	keys   int
	length int // bytes of the last key
}

// outliner measures the nesting from the tokens alone, before the library's parser recurses over it.
type outliner struct {
	source *Source
	at     map[*token.Token]span
	faults fault.List
	open   []level
	begun  bool // something of the document has passed
	ended  bool // its end has
	values int
	path   int // bytes of the keys now open
	paths  int // bytes of all paths so far: the library keeps one for each value
}

// outline refuses what is too big for the parser and the parts of YAML that are not read.
func (s *Source) outline(tokens token.Tokens, at map[*token.Token]span) fault.List {
	o := outliner{source: s, at: at}
	for i, t := range tokens {
		o.refuse(tokens, i)
		if o.second(t) {
			break
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			o.open = append(o.open, level{flow: true, braces: t.Type == token.MappingStartType})
		case token.MappingEndType, token.SequenceEndType:
			o.closeFlow()
		case token.SequenceEntryType:
			o.openBlock(2*t.Position.Column + 1)
		case token.MappingValueType:
			o.key(tokens, i)
		case token.CollectEntryType:
			if len(o.open) > 0 && o.top().braces {
				o.top().keys++
			}
		}
		if excess := o.measure(t); excess != "" {
			o.tell(t, fault.Fault{Text: excess})
			break
		}
	}
	return o.faults
}

// openBlock closes the blocks that stand deeper than rank and opens one there, if none is open.
func (o *outliner) openBlock(rank int) {
	for len(o.open) > 0 && !o.top().flow && o.top().rank > rank {
		o.pop()
	}
	if len(o.open) == 0 || o.top().flow || o.top().rank < rank {
		o.open = append(o.open, level{rank: rank})
	}
}

// closeFlow closes the innermost bracket and the blocks inside it.
func (o *outliner) closeFlow() {
	for len(o.open) > 0 {
		flow := o.top().flow
		o.pop()
		if flow {
			return
		}
	}
}

// key notes the name before colon i in the mapping it belongs to.
func (o *outliner) key(tokens token.Tokens, i int) {
	if i > 0 && tokens[i-1].Type == token.MergeKeyType {
		return
	}
	if i == 0 || !isScalar(tokens[i-1]) {
		o.tell(tokens[i], fault.Fault{Text: "a colon without a name before it"})
		return
	}
	t := tokens[i-1]
	o.sameLine(t, tokens[i])
	if len(o.open) == 0 || !o.top().flow {
		o.openBlock(2 * t.Position.Column)
	}
	top := o.top()
	o.path += len(t.Value) - top.length
	top.length = len(t.Value)
	if !top.braces { // there the commas count, since an entry may have no colon
		top.keys++
	}
	if len(t.Value) > maxName {
		o.tell(t, fault.Fault{Text: fmt.Sprintf("a name longer than %d bytes", maxName), Read: t.Value})
	}
}

// isScalar reports whether t is a text, a number or a word.
func isScalar(t *token.Token) bool {
	return t.Indicator == token.NotIndicator || t.Indicator == token.QuotedScalarIndicator
}

// measure counts a token and says which limit it passes, or "".
func (o *outliner) measure(t *token.Token) string {
	const maxPaths = 64 << 20 // bytes
	if isScalar(t) || t.Type == token.MappingStartType || t.Type == token.SequenceStartType || t.Type == token.SequenceEntryType {
		o.values++
	}
	o.paths += o.path
	switch {
	case o.values > maxValues:
		return tooMany
	case len(o.open) > maxDepth:
		return tooDeep
	case len(o.open) > 0 && o.top().keys > maxEntries:
		return fmt.Sprintf("more than %d names side by side", maxEntries)
	case o.paths > maxPaths:
		return "too many long names inside each other"
	}
	return ""
}

func (o *outliner) top() *level { return &o.open[len(o.open)-1] }

func (o *outliner) pop() {
	o.path -= o.top().length
	o.open = o.open[:len(o.open)-1]
}

// tell adds a fault at a token.
func (o *outliner) tell(t *token.Token, f fault.Fault) { o.tellAt(o.at[t].start, f) }

func (o *outliner) tellAt(offset int, f fault.Fault) {
	if len(o.faults) < maxFaults {
		o.faults = append(o.faults, o.source.one(offset, f)...)
	}
}
