package document

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/token"
)

// span is a stretch of bytes of the text.
type span struct{ start, end int }

// locator walks text and tokens side by side. The library's own offsets and columns are off after comments, tabs and
// escapes; but nothing stands between two tokens save blanks and newlines, so each is found where the last one ended.
type locator struct {
	text  string
	at    int
	delim int  // column, from 0, of the last key or dash, -1 for none: a block scalar's lines stand deeper
	block bool // a block scalar's header has passed and its lines come next
	flow  int  // open braces and brackets; a block scalar inside is not YAML
}

// locate returns where tokens stand in text, and sets their line and column right. It stops at the first token that is
// not where it should be; end is where that one was looked for.
func locate(text string, tokens token.Tokens) (at map[*token.Token]span, end int) {
	l := locator{text: text, delim: -1}
	at = make(map[*token.Token]span, len(tokens))
	line, column, counted := 1, 1, 0
	for i, t := range tokens {
		where, ok := l.next(t)
		if !ok {
			break
		}
		at[t] = where
		passed := text[counted:where.start]
		if n := strings.Count(passed, "\n"); n > 0 {
			line, column, passed = line+n, 1, passed[strings.LastIndexByte(passed, '\n')+1:]
		}
		column, counted = column+utf8.RuneCountInString(passed), where.start
		t.Position.Line, t.Position.Column = line, column
		switch {
		case t.Type == token.DocumentHeaderType:
			l.delim = -1
		case t.Type == token.SequenceEntryType:
			l.delim = t.Position.Column - 1
		case t.Type == token.MappingValueType && i > 0:
			l.delim = tokens[i-1].Position.Column - 1
		}
	}
	return at, l.at
}

// next returns where t stands and moves behind it.
func (l *locator) next(t *token.Token) (span, bool) {
	if l.block && t.Type != token.CommentType {
		l.block = false
		if t.Type == token.StringType { // else the scalar is empty
			where := l.lines()
			l.at = where.end
			return where, true
		}
	}
	l.skip()
	start, ok := l.at, false
	rest := l.text[start:]
	switch t.Type {
	case token.InvalidType:
		return span{}, false
	case token.CommentType:
		ok = strings.HasPrefix(rest, "#")
		l.at = lineEnd(l.text, start)
	case token.SingleQuoteType, token.DoubleQuoteType:
		var length int
		length, ok = quoted(rest)
		ok = ok && (rest[0] == '\'' || escapes.MatchString(rest[:length]))
		l.at += length
	case token.LiteralType, token.FoldedType:
		l.block = true
		ok = l.flow == 0 && l.delim >= 0 && !stated(t) && l.match(t.Value)
		if start == 0 || l.text[start-1] == '\n' { // as the library has it
			l.delim = 0
		}
	default:
		ok = l.match(t.Value)
	}
	switch t.Type {
	case token.MappingStartType, token.SequenceStartType:
		l.flow++
	case token.MappingEndType, token.SequenceEndType:
		l.flow--
	}
	if !ok {
		l.at = start
	}
	return span{start, l.at}, ok
}

func (l *locator) skip() {
	for l.at < len(l.text) && strings.IndexByte(" \t\n", l.text[l.at]) >= 0 {
		l.at++
	}
}

// match moves behind value, which the library may have folded: blanks and newlines differ, all else is as written.
func (l *locator) match(value string) bool {
	for _, r := range value {
		if r == ' ' || r == '\n' {
			continue
		}
		l.skip()
		got, size := utf8.DecodeRuneInString(l.text[l.at:])
		if got != r {
			return false
		}
		l.at += size
	}
	return value != ""
}

// escapes is a text in double quotes whose escapes by number are whole; the library takes any letters for digits.
var escapes = regexp.MustCompile(`^(?:[^\\]|\\[^xuU]|\\x[[:xdigit:]]{2}|\\u[[:xdigit:]]{4}|\\U00(?:0[[:xdigit:]]|10)[[:xdigit:]]{4})*$`)

// quoted returns the length of the quoted scalar that text begins with.
func quoted(text string) (int, bool) {
	if text == "" {
		return 0, false
	}
	mark := text[0]
	for i := 1; i < len(text); i++ {
		switch {
		case mark == '"' && text[i] == '\\':
			i++
		case text[i] != mark:
		case mark == '\'' && i+1 < len(text) && text[i+1] == mark:
			i++
		default:
			return i + 1, mark == '"' || mark == '\''
		}
	}
	return 0, false
}

// stated reports a block scalar's header that states how deep its lines stand, which the library gets wrong.
func stated(t *token.Token) bool { return strings.ContainsAny(t.Value, "123456789") }

// lines returns the stretch of a block scalar's content, without the newline of the last line: the lines after the
// header's that are blank or stand as deep as the first, and in any case deeper than the key or dash before the header.
func (l *locator) lines() span {
	header := lineEnd(l.text, l.at)
	end, floor, first := header, l.delim+1, true
	for at := header + 1; at <= len(l.text); {
		stop := lineEnd(l.text, at)
		line := l.text[at:stop]
		if body := strings.TrimLeft(line, " "); body != "" {
			indent := len(line) - len(body)
			if indent < floor {
				break
			}
			if first {
				floor, first = indent, false
			}
		}
		end, at = stop, stop+1
	}
	return span{min(header+1, end), end}
}
