package photometry

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"gloam/internal/fault"
)

// scanner walks through the text of a file by lines or by words and gathers what is wrong with it.
type scanner struct {
	name   string
	text   string
	pos    int // bytes
	line   int // of pos, from 1
	start  int // of that line, bytes
	faults fault.List
}

// Bounds on what is read. A full sphere every quarter of a degree has 721 × 1441 values.
const (
	maxBytes  = 16 << 20
	maxValues = 1 << 20 // intensities in a file, before its symmetry is undone
	maxLabels = 1000    // lines before TILT=
	maxFaults = 20      // enough to see what is the matter
	maxCd     = 1e12    // cd; the sun itself is 3e27, no lamp is near this
)

// newScanner returns a scanner over the bytes of a file. Text that is no UTF-8 is taken for Latin-1, and every kind of
// line end becomes a line feed.
func newScanner(name string, data []byte) *scanner {
	text := strings.TrimPrefix(string(data), "\ufeff")
	if !utf8.ValidString(text) {
		var b strings.Builder
		for i := range len(text) {
			b.WriteRune(rune(text[i]))
		}
		text = b.String()
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return &scanner{name: name, text: text, line: 1}
}

func (s *scanner) place(pos int) fault.Place {
	return fault.Place{File: s.name, Line: s.line, Column: pos - s.start + 1}
}

// nextLine returns the rest of the line without surrounding blanks, and the place where it begins.
func (s *scanner) nextLine() (string, fault.Place, bool) {
	if s.pos >= len(s.text) {
		return "", s.place(s.pos), false
	}
	end := strings.IndexByte(s.text[s.pos:], '\n')
	next := s.pos + end + 1
	if end < 0 {
		next = len(s.text)
		end = next - s.pos
	}
	raw := s.text[s.pos : s.pos+end]
	word := strings.TrimLeft(raw, blanks)
	at := s.place(s.pos + len(raw) - len(word))
	s.pos, s.start = next, next
	s.line++
	return strings.TrimRight(word, blanks), at, true
}

// blanks part the words of a line; 0x1A ended a file in older systems.
const blanks = " \t\v\f\x00\x1a"

// nextWord returns the next word, parted by blanks, commas and line ends, and the place where it begins.
func (s *scanner) nextWord() (string, fault.Place, bool) {
	for s.pos < len(s.text) {
		c := s.text[s.pos]
		if c == '\n' {
			s.line++
			s.start = s.pos + 1
		} else if c != ',' && strings.IndexByte(blanks, c) < 0 {
			break
		}
		s.pos++
	}
	end := strings.IndexAny(s.text[s.pos:], blanks+",\n")
	if end < 0 {
		end = len(s.text) - s.pos
	}
	word, at := s.text[s.pos:s.pos+end], s.place(s.pos)
	s.pos += end
	return word, at, end > 0
}

func (s *scanner) failed() bool { return len(s.faults) > 0 }

// fail notes a fault. Past the first twenty the reader only counts on.
func (s *scanner) fail(at fault.Place, text, read, allowed string) {
	if len(s.faults) < maxFaults {
		s.faults = append(s.faults, fault.Fault{Place: at, Text: text, Read: read, Allowed: allowed})
	}
}

// parseNumber reads a decimal number; unlike strconv it knows no hexadecimal, infinity or not-a-number.
func parseNumber(word string) (float64, bool) {
	if strings.Trim(word, "0123456789+-.eE") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(word, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// number reads the next word as a number. After the end of the file it fails once and returns false from then on.
func (s *scanner) number(what string) (float64, fault.Place, bool) {
	word, at, ok := s.nextWord()
	if !ok {
		s.fail(at, "the file ends before "+what, "", "")
		return 0, at, false
	}
	x, ok := parseNumber(word)
	if !ok {
		s.fail(at, what+" is not a number", word, "")
	}
	return x, at, ok
}

// whole checks that a number that was read is a whole one between least and most.
func (s *scanner) whole(x float64, at fault.Place, what string, least, most int) int {
	if x != math.Trunc(x) || x < float64(least) || x > float64(most) {
		s.fail(at, what+" is not possible", strconv.FormatFloat(x, 'g', -1, 64), fmt.Sprintf("%d to %d", least, most))
		return least
	}
	return int(x)
}

// counts checks the counts of angles before anything is set aside for them.
func (s *scanner) counts(v, h float64, at fault.Place) (vertical, horizontal int) {
	if v*h > maxValues {
		s.fail(at, "the file declares too many intensities", fmt.Sprintf("%g × %g", v, h), fmt.Sprintf("up to %d", maxValues))
		return 0, 0
	}
	vertical = s.whole(v, at, "the number of vertical angles", 2, maxValues)
	return vertical, s.whole(h, at, "the number of planes", 1, maxValues)
}

// enough fails, before anything is set aside for them, where the rest of the file is too short for n more
// values of a digit and a separator each.
func (s *scanner) enough(at fault.Place, n int, what string) bool {
	if n > (len(s.text)-s.pos)/2+1 {
		s.fail(at, fmt.Sprintf("the file declares %d %s, more than it can hold", n, what), "", "")
		return false
	}
	return true
}

// source yields the next number of a list; words for LM-63, lines for EULUMDAT.
type source func(what string) (float64, fault.Place, bool)

// angles reads n ascending angles between least and most degrees.
func (s *scanner) angles(next source, n int, what string, least, most float64) []float64 {
	out := make([]float64, 0, n)
	for i := range n {
		a, at, ok := next(fmt.Sprintf("%s %d of %d", what, i+1, n))
		switch {
		case !ok:
			return out
		case a < least || a > most:
			s.fail(at, what+" is out of range", fmt.Sprint(a), fmt.Sprintf("%g to %g", least, most))
		case i > 0 && a <= out[i-1]:
			s.fail(at, what+" does not ascend", fmt.Sprint(a), fmt.Sprintf("above %g", out[i-1]))
		}
		out = append(out, a)
	}
	return out
}

// intensities reads planes × n values and returns them times factor. It goes on past a bad value, to show them all.
func (s *scanner) intensities(next source, planes, n int, factor float64) [][]float64 {
	out := make([][]float64, planes)
	for h := range out {
		out[h] = make([]float64, n)
		for v := range out[h] {
			x, at, ok := next(fmt.Sprintf("intensity %d of %d", h*n+v+1, planes*n))
			if !ok && s.pos >= len(s.text) {
				return out
			}
			if ok && !(x >= 0 && x*factor <= maxCd) {
				s.fail(at, "an intensity is not possible", fmt.Sprint(x), fmt.Sprintf("0 to %g cd", maxCd))
			}
			out[h][v] = x * factor
		}
	}
	return out
}

// surplus fails where a number stands behind the last value: the counts or the order of the values must be wrong then.
func (s *scanner) surplus() {
	word, at, ok := s.nextWord()
	if _, number := parseNumber(word); ok && number {
		s.fail(at, "more values than the file declares", word, "")
	}
}
