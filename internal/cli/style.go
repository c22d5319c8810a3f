package cli

import (
	"io"
	"os"
	"strings"
	"unicode/utf8"
)

// style is how text is set off: on a terminal by weight, elsewhere not at all. Colour is never the only carrier.
type style struct{ on bool }

// styleFor is on for a terminal that has not asked for plain text (NO_COLOR, TERM=dumb).
func styleFor(w io.Writer) style {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return style{}
	}
	info, err := f.Stat()
	return style{err == nil && info.Mode()&os.ModeCharDevice != 0}
}

func (s style) bold(text string) string { return s.wrap("1", text) }
func (s style) dim(text string) string  { return s.wrap("2", text) }

func (s style) wrap(code, text string) string {
	if !s.on {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// pad fills a text with blanks to a width in characters; right puts the blanks first.
func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

func right(text string, width int) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text))) + text
}

// column fills a text with blanks to a width, as pad does; one too long for its column has lines of its own before, and
// the row goes on below it. indent is what stands before the column.
func column(text string, width, indent int) string {
	if utf8.RuneCountInString(text) < width {
		return pad(text, width)
	}
	return wrapped(text, lineWidth-indent, indent+2) + "\n" + strings.Repeat(" ", indent+width)
}

// tail puts a text behind a row, or below it where it does not fit.
func tail(row, text string) string {
	last := row[strings.LastIndexByte(row, '\n')+1:]
	if utf8.RuneCountInString(last)+utf8.RuneCountInString(text) <= lineWidth {
		return row + text
	}
	return strings.TrimRight(row, " ") + "\n    " + wrapped(text, lineWidth-4, 4)
}

// wrapped breaks a text into lines of at most width characters, each after the first indented.
func wrapped(text string, width, indent int) string {
	var lines []string
	line, room := "", width
	for _, word := range strings.Fields(text) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > room {
			lines, line, room = append(lines, line), "", width-indent
		}
		line = strings.TrimLeft(line+" "+word, " ")
		for letters := []rune(line); len(letters) > room; letters = []rune(line) { // one word longer than a line
			lines, line, room = append(lines, string(letters[:room])), string(letters[room:]), width-indent
		}
	}
	return strings.Join(append(lines, line), "\n"+strings.Repeat(" ", indent))
}

// clipped cuts a text to a width in characters, its last one then a mark that there is more.
func clipped(text string, width int) string {
	if r := []rune(text); len(r) > width {
		return string(r[:width-1]) + "…"
	}
	return text
}
