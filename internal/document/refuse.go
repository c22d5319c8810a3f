package document

import (
	"strings"

	"github.com/goccy/go-yaml/token"

	"gloam/internal/fault"
)

// refuse tells the parts of YAML that are not read.
func (o *outliner) refuse(tokens token.Tokens, i int) {
	switch t := tokens[i]; t.Type {
	case token.TagType:
		o.tell(t, fault.Fault{Text: "a value cannot begin with !", Read: t.Value, Hint: "put it in quotes"})
	case token.DirectiveType:
		o.tell(t, fault.Fault{Text: "a value cannot begin with %", Hint: "put it in quotes"})
	case token.MappingKeyType:
		o.tell(t, fault.Fault{Text: `a name cannot begin with "? "`, Hint: "put it in quotes"})
	case token.MergeKeyType:
		o.tell(t, noMerge)
	case token.MappingValueType:
		if i > 0 && i+1 < len(tokens) && o.glued(tokens[i-1], t, tokens[i+1]) {
			o.tell(t, fault.Fault{Text: "a colon without a blank after it", Hint: "put a blank after the colon, or the value in quotes"})
		}
	}
}

// glued reports a colon inside braces with text on both sides, which YAML reads as text and the library as a key.
func (o *outliner) glued(before, colon, after *token.Token) bool {
	plain := before.Indicator != token.QuotedScalarIndicator && before.Type != token.MappingEndType && before.Type != token.SequenceEndType
	text := after.Type != token.CollectEntryType && after.Type != token.MappingEndType && after.Type != token.SequenceEndType
	return plain && text && o.at[colon].end == o.at[after].start
}

// second tells a token that belongs to a second document.
func (o *outliner) second(t *token.Token) bool {
	if t.Type == token.CommentType {
		return false
	}
	if len(o.faults) == 0 && (o.ended && t.Type != token.DocumentEndType || o.begun && t.Type == token.DocumentHeaderType) {
		o.tell(t, fault.Fault{Text: "a second document begins here", Hint: "keep each in a file of its own"})
		return true
	}
	o.begun, o.ended = true, t.Type == token.DocumentEndType
	return false
}

// sameLine tells a name that does not stand on the line of its colon: the line above ran into it.
func (o *outliner) sameLine(name, colon *token.Token) {
	text, where := o.source.text, o.at[name]
	if !strings.Contains(text[where.start:o.at[colon].start], "\n") {
		return
	}
	last := lineStart(text, where.end)
	switch {
	case len(o.open) > 0 && o.top().flow:
		o.tell(name, fault.Fault{Text: "a name and its colon on different lines", Read: name.Value, Hint: "is a comma or a colon missing?"})
	case last <= where.start:
		o.tell(colon, fault.Fault{Text: "a colon without a name before it"})
	case depth(text, last) > depth(text, where.start):
		o.tellAt(o.source.afterBlanks(last), fault.Fault{Text: "the line is indented too far", Hint: "put it under the name above, or give that name no value"})
	default:
		o.tell(name, fault.Fault{Text: "a line without a colon and a blank after it", Hint: "write name: value"})
	}
}

// depth returns how many blanks indent the line of offset.
func depth(text string, offset int) int {
	line := text[lineStart(text, offset):lineEnd(text, offset)]
	return len(line) - len(strings.TrimLeft(line, " \t"))
}
