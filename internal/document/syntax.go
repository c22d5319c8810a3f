package document

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml/token"

	"gloam/internal/fault"
)

// plain gives the syntax library's messages in words for people; the first entry whose key the message contains holds.
var plain = []struct{ message, text, hint string }{
	{"end character of single-quoted", "a ' is not closed", "a value that begins with ' must end with one"},
	{"end character of double-quoted", `a " is not closed`, `a value that begins with " must end with one`},
	{"end token '}'", "a { is not closed", ""},
	{"sequence end token ']'", "a [ is not closed", ""},
	{"corresponding to ']'", "a ] without its [", ""},
	{"corresponding to '}'", "a } without its {", ""},
	{"',' or '}' must", "a comma or } is missing", ""},
	{"',' or ']' must", "a comma or ] is missing", ""},
	{"invalid header option", "a value cannot begin with > or |", "put it in quotes"},
	{"number of indent", "a number behind > or |", "leave it out"},
	{"'@' is a reserved", "a value cannot begin with @", "put it in quotes"},
	{"'`' is a reserved", "a value cannot begin with `", "put it in quotes"},
	{"block sequence entries", "a list begins beside its name", "begin it on the next line, or put the value in quotes"},
	{"unknown escape", badEscape, badEscapeHint},
	{"UTF-", badEscape, badEscapeHint},
	{"non-map value", "a line without a colon", "write name: value"},
	{"unexpected key name", "a line without a colon and a blank after it", "write name: value"},
	{"implicit line break", "a name over several lines", "is a comma missing?"},
	{"placed after document separator", "a value stands beside ---", "begin it on the next line"},
	{"document separator", "--- or ... inside a value", ""},
	{"alias", "a value cannot begin with *", "put it in quotes"},
	{"anchor", "a value cannot begin with &", "put it in quotes"},
	{"mapping value is not allowed", "a second colon in one value", "put the value in quotes"},
	{"value is not allowed", "this belongs to nothing", "put the whole value in quotes"},
}

const (
	badEscape     = `a \ that means nothing inside " "`
	badEscapeHint = `write \\ for a single \, or use ' '`
)

// syntax returns the list of one fault of form at an offset.
func (s *Source) syntax(message string, offset int) fault.List {
	switch rest := s.text[offset:]; {
	case strings.HasPrefix(rest, ","):
		return s.one(offset, fault.Fault{Text: "a comma with nothing before it"})
	case strings.HasPrefix(rest, ":"):
		return s.one(offset, fault.Fault{Text: "a colon without a name before it"})
	}
	for _, p := range plain {
		if strings.Contains(message, p.message) {
			return s.one(offset, fault.Fault{Text: p.text, Hint: p.hint})
		}
	}
	return s.one(offset, fault.Fault{Text: "not readable from here", Hint: message})
}

// syntaxError returns the fault for the error of the library's parser.
func (s *Source) syntaxError(err error, at map[*token.Token]span) fault.List {
	var known interface {
		GetMessage() string
		GetToken() *token.Token
	}
	if !errors.As(err, &known) || known.GetToken() == nil {
		return s.syntax(err.Error(), 0)
	}
	where, message := at[known.GetToken()], known.GetMessage()
	if s.afterBlanks(lineStart(s.text, where.start)) == where.start && strings.HasPrefix(message, "value is not allowed") {
		return s.one(where.start, fault.Fault{Text: "the indentation fits no line above"})
	}
	return s.syntax(message, where.start)
}

// lost returns the fault for a token that is not at offset, where it should be.
func (s *Source) lost(t *token.Token, offset int) fault.List {
	lines := t.Type == token.LiteralType || t.Type == token.FoldedType
	switch {
	case t.Type == token.MergeKeyType: // the library drops what stands before it
		return s.one(offset, noMerge)
	case lines && stated(t):
		return s.syntax("number of indent", offset)
	case lines: // in braces or brackets, or with no name
		return s.syntax("invalid header option", offset)
	case t.Type == token.DoubleQuoteType: // \x with other than digits behind it
		return s.one(offset, fault.Fault{Text: badEscape, Hint: badEscapeHint})
	}
	return s.one(offset, fault.Fault{Text: "the text cannot be followed from here"})
}

// afterBlanks returns the first offset from offset on at which something stands.
func (s *Source) afterBlanks(offset int) int {
	rest := s.text[offset:]
	return offset + len(rest) - len(strings.TrimLeft(rest, " \t\n"))
}
