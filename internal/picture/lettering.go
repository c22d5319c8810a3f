package picture

import (
	"image"
	"image/draw"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Strips below a picture are neutral, so that they do not tint what is seen beside them.
var (
	stripGround  = ink{0x30, 0x30, 0x30}
	stripLetters = ink{0xf0, 0xf0, 0xf0}
)

// lettering is a size of type. It serves one goroutine at a time.
type lettering struct {
	face   font.Face
	height int // of a line, px
}

var regular = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic("picture: font cannot be read")
	}
	return f
})

// letterSize returns the size of type, in pixels, for a picture of a width.
func letterSize(width int) float64 { return max(10, float64(width)/64) }

func newLettering(size float64) lettering {
	face, err := opentype.NewFace(regular(), &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("picture: font cannot be set")
	}
	return lettering{face, face.Metrics().Height.Ceil()}
}

func (l lettering) width(text string) int { return font.MeasureString(l.face, text).Ceil() }

// draw writes a text from the left of its base line.
func (l lettering) draw(out draw.Image, x, base int, text string, colour ink) {
	d := font.Drawer{Dst: out, Src: image.NewUniform(colour.rgba()), Face: l.face, Dot: fixed.P(x, base)}
	d.DrawString(text)
}

// centre writes a text around a point, in the letters of a class, clear of the class's pattern.
func (l lettering) centre(out draw.Image, at image.Point, text string, class uint8) {
	width, height := l.width(text), l.face.Metrics().CapHeight.Ceil()
	x, base := at.X-width/2, at.Y+height/2
	fill(out, image.Rect(x-2, base-height-2, x+width+2, base+2), grounds[class])
	l.draw(out, x, base, text, letters(class))
}

// lines writes lines on a strip, from the left and top.
func (l lettering) lines(out draw.Image, x, top int, lines []string) {
	for i, line := range lines {
		l.draw(out, x, top+i*l.height+l.face.Metrics().Ascent.Ceil(), line, stripLetters)
	}
}

// wrap puts phrases into as few lines as fit a width; a phrase that is wider alone is broken between words.
func (l lettering) wrap(width int, phrases []string) (lines []string) {
	line := ""
	for _, phrase := range phrases {
		if joined := line + " · " + phrase; line != "" && l.width(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
		for _, word := range strings.Fields(phrase) {
			joined := strings.TrimSpace(line + " " + word)
			if line != "" && l.width(joined) > width {
				lines = append(lines, line)
				joined = word
			}
			line = joined
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func fill(out draw.Image, area image.Rectangle, colour ink) {
	draw.Draw(out, area, image.NewUniform(colour.rgba()), image.Point{}, draw.Src)
}
