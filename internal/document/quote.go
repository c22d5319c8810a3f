package document

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
)

// unsafe finds what makes a text mean something else when it stands plain: a sign at its start, blanks at an end, a
// colon or a hash that YAML would see [YAML122, 7.3.3], a word for nothing.
var (
	unsafe     = regexp.MustCompile("^$|^[]?:,[{}#&*!|>'\"%@`<]|^-(?:[^0-9A-Za-z.]|$)|^---|^\\.\\.\\.|^ | $|:(?: |$)| #|^(?:~|null|Null|NULL)$")
	unsafeFlow = regexp.MustCompile(`[][{},:]`)
)

// encode returns value as a scalar for one line. It stays plain where that reads back, unless the old one was quoted.
func encode(value string, flow bool, style byte) string {
	odd := strings.ContainsFunc(value, func(r rune) bool { return !plainRune(r) })
	switch {
	case odd || style == '"':
		return doubleQuoted(value)
	case style == '\'' || unsafe.MatchString(value) || flow && unsafeFlow.MatchString(value):
		return "'" + strings.ReplaceAll(value, "'", "''") + "'"
	}
	return value
}

// plainRune reports whether r may stand as it is; a byte order mark and blanks other than the common one may not.
func plainRune(r rune) bool { return unicode.IsPrint(r) }

// doubleQuoted returns value with the escapes of [YAML122, 5.7].
func doubleQuoted(value string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range value {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case plainRune(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\U%08X`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
