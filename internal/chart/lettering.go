package chart

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// Sizes of type, in units of the drawing: 13.5 is 10 points, the least that is read on paper.
const (
	plain   = 13.5
	heading = 17.0
	line    = 17.0 // from base line to base line of plain text
)

// spare is how much wider than the Go font the type of a page may run: DejaVu Sans, which is common where others are
// missing, is about a fifth wider.
const spare = 1.22

var fonts = sync.OnceValue(func() [2]*opentype.Font {
	var parsed [2]*opentype.Font
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := opentype.Parse(data)
		if err != nil {
			panic("chart: font cannot be read")
		}
		parsed[i] = f
	}
	return parsed
})

// newFace returns a size of type. A face serves one goroutine at a time.
func newFace(size float64, bold bool) font.Face {
	f := fonts()[0]
	if bold {
		f = fonts()[1]
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic("chart: font cannot be set")
	}
	return face
}

// thirds are the fractions that the Go font lacks.
var thirds = strings.NewReplacer("⅓", "¹⁄₃", "⅔", "²⁄₃")

// Spelled returns the text in signs that the Go font has, for what letters it with that font.
func (t Text) Spelled() string { return thirds.Replace(t.String) }

// ruler measures texts; it is made for one drawing.
type ruler struct{ regular, bold font.Face }

// measured is the size at which texts are measured: widths grow in proportion.
const measured = 64

func newRuler() ruler { return ruler{newFace(measured, false), newFace(measured, true)} }

// width returns the room a text takes.
func (r ruler) width(text string, size float64, bold bool) float64 {
	face := r.regular
	if bold {
		face = r.bold
	}
	return float64(font.MeasureString(face, thirds.Replace(text))) / 64 * size / measured * spare
}

// wrap breaks a text into lines that fit a width, between words where it can and within a word where it must.
func (r ruler) wrap(text string, width, size float64, bold bool) []string {
	var lines []string
	now := ""
	for _, word := range strings.Fields(text) {
		if joined := now + " " + word; now != "" && r.width(joined, size, bold) <= width {
			now = joined
			continue
		}
		if now != "" {
			lines = append(lines, now)
		}
		for r.width(word, size, bold) > width && len([]rune(word)) > 1 {
			n := r.fitting([]rune(word), width, size, bold)
			lines = append(lines, string([]rune(word)[:n]))
			word = string([]rune(word)[n:])
		}
		now = word
	}
	if now != "" {
		lines = append(lines, now)
	}
	return lines
}

// fitting returns how many letters of a word fit, at least one.
func (r ruler) fitting(word []rune, width, size float64, bold bool) int {
	n := 1
	for n < len(word) && r.width(string(word[:n+1]), size, bold) <= width {
		n++
	}
	return n
}
