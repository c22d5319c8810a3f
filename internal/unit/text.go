package unit

import (
	"strconv"
	"strings"
)

// longest is the most bytes a written quantity can have.
const longest = 100

// glue joins a whole number and a fraction that was one sign, so that `2½ 3` stays two numbers: U+2064, invisible plus.
const glue = "\u2064"

var plainSigns = strings.NewReplacer(
	"−", "-", "–", "-", "×", "x", "⁄", "/", "º", "°", "²", "2", "⁻¹", "-1",
	"′", "'", "’", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`,
	"½", glue+"1/2", "⅓", glue+"1/3", "⅔", glue+"2/3", "¼", glue+"1/4", "¾", glue+"3/4",
	"⅛", glue+"1/8", "⅜", glue+"3/8", "⅝", glue+"5/8", "⅞", glue+"7/8",
)

// clean returns the text in small letters with plain signs, and with one plain blank where there were any blanks.
func clean(text string) string {
	text = plainSigns.Replace(strings.ToLower(strings.Join(strings.Fields(text), " ")))
	var b strings.Builder
	afterDigit := false
	for _, r := range text {
		if string(r) == glue && !afterDigit {
			continue
		}
		b.WriteRune(r)
		afterDigit = '0' <= r && r <= '9'
	}
	return b.String()
}

// scanner reads a cleaned text from the left.
type scanner struct {
	rest string
	// alone: the text is one quantity, so a blank may stand inside a number (`1 1/3`, `250 000`).
	alone bool
}

// number is a number as written.
type number struct {
	value  float64
	signed bool // has a sign
	whole  bool // has digits only
	comma  bool // has a comma and three digits behind it: of decimals, or of thousands
}

func (s *scanner) skipBlanks() { s.rest = strings.TrimLeft(s.rest, " ") }

func (s *scanner) take(prefix string) bool {
	rest, found := strings.CutPrefix(s.rest, prefix)
	s.rest = rest
	return found
}

// number reads `12`, `-3.8`, `3,8`, `.5`, `1e3`, `1/2`, `1⅓` and, when alone, `1 1/3` and `250 000`.
func (s *scanner) number() (number, bool) {
	before := s.rest
	negative := s.take("-")
	signed := negative || s.take("+")
	n, ok := s.decimal()
	if !ok {
		s.rest = before
		return number{}, false
	}
	n.signed = signed
	if divisor, ok := s.divisor(); ok {
		n.value, n.whole, n.comma = n.value/divisor, false, false
	} else if n.whole {
		if fraction, ok := s.fraction(); ok {
			n.value, n.whole = n.value+fraction, false
		}
	}
	if negative {
		n.value = -n.value
	}
	return n, true
}

// decimal reads a number without sign and fraction.
func (s *scanner) decimal() (n number, ok bool) {
	r := s.rest
	end := digits(r)
	text, groups := r[:end], false
	for s.alone && 0 < end && (groups || end <= 3) && thousands(r[end:]) {
		text, end, groups = text+r[end+1:end+4], end+4, true
	}
	n.whole = true
	if end < len(r) && (r[end] == '.' || r[end] == ',') {
		if d := digits(r[end+1:]); d > 0 {
			n.comma = r[end] == ',' && d == 3 && 0 < end && end <= 3 && r[0] != '0'
			n.whole = false
			text, end = text+"."+r[end+1:end+1+d], end+1+d
		}
	}
	if text == "" {
		return number{}, false
	}
	if d := exponent(r[end:]); d > 0 {
		n.whole = false
		text, end = text+r[end:end+d], end+d
	}
	// The form is right, so the one possible error is a number too large, which comes back infinite.
	n.value, _ = strconv.ParseFloat(text, 64)
	s.rest = r[end:]
	return n, true
}

// divisor reads the slash and the number below it.
func (s *scanner) divisor() (float64, bool) {
	below := scanner{rest: s.rest}
	if !below.take("/") {
		return 0, false
	}
	n, ok := below.decimal()
	if ok {
		s.rest = below.rest
	}
	return n.value, ok
}

// fraction reads the fraction that follows a whole number.
func (s *scanner) fraction() (float64, bool) {
	after := scanner{rest: s.rest}
	if !after.take(glue) && !(s.alone && after.take(" ")) {
		return 0, false
	}
	above, ok := after.decimal()
	if !ok || !above.whole {
		return 0, false
	}
	divisor, ok := after.divisor()
	if ok {
		s.rest = after.rest
	}
	return above.value / divisor, ok
}

// digits returns how many digits s begins with.
func digits(s string) int {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return i
		}
	}
	return len(s)
}

// thousands reports whether s begins with a blank and a group of three digits that is not the top of a fraction.
func thousands(s string) bool {
	return strings.HasPrefix(s, " ") && digits(s[1:]) == 3 && !strings.HasPrefix(s[4:], "/")
}

// exponent returns the length of the `e3` or `e-3` that s begins with.
func exponent(s string) int {
	if !strings.HasPrefix(s, "e") {
		return 0
	}
	begin := 1
	if len(s) > 1 && (s[1] == '+' || s[1] == '-') {
		begin = 2
	}
	if d := digits(s[begin:]); d > 0 {
		return begin + d
	}
	return 0
}
