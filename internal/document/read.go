package document

import (
	"bytes"
	"fmt"
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
	return s.indents()
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

// indents tells each line that is indented with a tab, and a gap of too many empty lines.
func (s *Source) indents() fault.List {
	var faults fault.List
	offset, empty := 0, 0
	for line := range strings.Lines(s.text) {
		rest := strings.TrimLeft(line, " \t")
		tab := strings.IndexByte(line[:len(line)-len(rest)], '\t')
		var f fault.Fault
		empty++
		switch {
		case rest != "" && rest != "\n":
			empty = 0
			if tab >= 0 {
				f = fault.Fault{Place: s.place(offset + tab), Text: "the line is indented with a tab", Hint: "use blanks"}
			}
		case empty == maxEmpty+1:
			f = fault.Fault{Place: s.place(offset), Text: fmt.Sprintf("more than %d empty lines in a row", maxEmpty)}
		}
		if f.Text != "" && len(faults) < maxFaults {
			faults = append(faults, f)
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
	if faults := s.outline(tokens[:len(at)], at); faults != nil {
		return faults
	}
	if len(at) < len(tokens) {
		return s.lost(tokens[len(at)], s.afterBlanks(end))
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

// plant builds the tree of the document in file; outline has seen that there is one at most.
func (s *Source) plant(file *ast.File, at map[*token.Token]span) fault.List {
	b := builder{source: s, at: at, anchors: map[string]*node{}}
	s.root = &node{kind: null, span: span{len(s.text), len(s.text)}}
	for _, doc := range file.Docs {
		if doc.Body != nil {
			s.root = b.node(doc.Body, 0)
		}
	}
	return b.faults
}
