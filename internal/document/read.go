package document

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"gloam/internal/fault"
)

// Parse reads the form of a YAML text. The file name serves the faults alone. The error is a fault.List.
func Parse(file string, text []byte) (*Source, error) {
	s := &Source{file: file, raw: bytes.Clone(text)}
	if faults := s.admit(); faults != nil {
		return nil, faults
	}
	if faults := s.readTree(); faults != nil {
		return nil, faults
	}
	return s, nil
}

// admit checks size, encoding and indentation and sets s.text.
func (s *Source) admit() fault.List {
	if len(s.raw) > maxBytes {
		return fault.List{{
			Place: fault.Place{File: s.file}, Text: "the file is too big",
			Read: fmt.Sprintf("%d bytes", len(s.raw)), Allowed: "up to 4 MiB",
		}}
	}
	if bytes.HasPrefix(s.raw, []byte("\ufeff")) {
		s.bom = len("\ufeff")
	}
	s.takeText(s.raw[s.bom:])
	for i, r := range s.text {
		_, size := utf8.DecodeRuneInString(s.text[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			return s.one(i, fault.Fault{Text: "not UTF-8 text", Hint: "save the file with the encoding UTF-8"})
		case unicode.IsControl(r) && r != '\n' && r != '\t':
			return s.one(i, fault.Fault{Text: fmt.Sprintf("a control character (code %d)", r), Hint: "is this a plain text file?"})
		}
	}
	return s.tabs()
}

// takeText sets s.text to raw without the carriage returns of line ends.
func (s *Source) takeText(raw []byte) {
	var b strings.Builder
	b.Grow(len(raw))
	for i, c := range raw {
		if c == '\r' && i+1 < len(raw) && raw[i+1] == '\n' {
			s.cuts = append(s.cuts, b.Len())
			continue
		}
		b.WriteByte(c)
	}
	s.text = b.String()
}

// tabs tells each line that is indented with a tab.
func (s *Source) tabs() fault.List {
	var faults fault.List
	offset := 0
	for line := range strings.Lines(s.text) {
		rest := strings.TrimLeft(line, " \t")
		indent := line[:len(line)-len(rest)]
		if tab := strings.IndexByte(indent, '\t'); tab >= 0 && strings.TrimSpace(rest) != "" && len(faults) < maxFaults {
			faults = append(faults, fault.Fault{
				Place: s.place(offset + tab), Text: "the line is indented with a tab", Hint: "use blanks",
			})
		}
		offset += len(line)
	}
	return faults
}

// one returns the list of a single fault at an offset.
func (s *Source) one(offset int, f fault.Fault) fault.List {
	f.Place = s.place(offset)
	return fault.List{f}
}

// readTree reads the tree of values. Whatever the syntax library does, the outcome is a tree or a fault.
func (s *Source) readTree() (faults fault.List) {
	defer func() {
		if r := recover(); r != nil {
			faults = s.one(0, fault.Fault{Text: fmt.Sprintf("the text cannot be read (%v)", r)})
		}
	}()
	if faults := s.crowd(); faults != nil {
		return faults
	}
	// The library drops tabs inside a value, so it is given blanks; a last line without an end reads as one with it.
	tokens := lexer.Tokenize(strings.ReplaceAll(s.text, "\t", " ") + "\n")
	at, end := locate(s.text, tokens)
	if bad := tokens.InvalidToken(); bad != nil {
		return s.syntax(bad.Error, s.afterBlanks(end))
	}
	if len(at) < len(tokens) {
		return s.lost(tokens, len(at), s.afterBlanks(end))
	}
	if faults := s.outline(tokens, at); faults != nil {
		return faults
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return s.syntaxError(err, at)
	}
	return s.plant(file, at)
}

// crowd refuses a text with so many signs of structure that the tokens alone would fill the memory.
func (s *Source) crowd() fault.List {
	const signs = ",[]{}:-&*!?|>%#'\"" // each begins a token
	count := 0
	for i := range len(s.text) {
		if strings.IndexByte(signs, s.text[i]) >= 0 {
			count++
		}
	}
	if count > 5*maxValues {
		return s.one(0, fault.Fault{Text: tooMany})
	}
	return nil
}

// plant builds the tree of the one document in file.
func (s *Source) plant(file *ast.File, at map[*token.Token]span) fault.List {
	docs := slices.DeleteFunc(slices.Clone(file.Docs), func(d *ast.DocumentNode) bool { return d.Start == nil && d.Body == nil })
	if len(docs) > 1 {
		begin := docs[1].Start
		if begin == nil {
			begin = docs[1].Body.GetToken()
		}
		return s.one(s.afterBlanks(lineStart(s.text, at[begin].start)), fault.Fault{Text: "a second document begins here", Hint: "keep each in a file of its own"})
	}
	b := builder{source: s, at: at, anchors: map[string]*node{}}
	s.root = &node{kind: null, span: span{len(s.text), len(s.text)}}
	if len(docs) == 1 && docs[0].Body != nil {
		s.root = b.node(docs[0].Body, 0)
	}
	return b.faults
}
