package picture

import (
	"fmt"
	"image"
	"image/color"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// Stops returns a map of the stops over grey, each band of one stop in its own tone and numbered where there is room, with
// its legend below. Dots mark what is at or below the noise floor, hatching what is at or above the clip; both are in
// stops over grey, the floor the lower. The tones stand for the float pixels: what the map shows is what Probe reads.
func Stops(c *Composite, cam exposure.Camera, noiseFloor, clip unit.Stop) *image.RGBA64 {
	k := newKey(noiseFloor, clip)
	m := classed(c, cam, k)
	legend := newLegend(k, c.Width)
	out := image.NewRGBA64(image.Rect(0, 0, c.Width, c.Height+legend.height()))
	scale := patternScale(c.Width)
	rows(c.Height, func(y int) {
		for x := range c.Width {
			class := m.class[y*c.Width+x]
			i := at(class, x, y, scale)
			if m.border(x, y) {
				i = grounds[class].contour()
			}
			out.SetRGBA64(x, y, i.rgba())
		}
	})
	hand := newLettering(letterSize(m.width))
	for _, n := range m.numbers(k, &hand) {
		hand.centre(out, image.Pt(n.X, n.Y), n.Text, n.class)
	}
	legend.draw(out, c.Height)
	return out
}

// Numbers returns the numbers that Stops writes on the map.
func Numbers(c *Composite, cam exposure.Camera, noiseFloor, clip unit.Stop) []Number {
	k := newKey(noiseFloor, clip)
	hand := newLettering(letterSize(c.Width))
	return classed(c, cam, k).numbers(k, &hand)
}

// classed sorts the pixels into the key's classes.
func classed(c *Composite, cam exposure.Camera, k key) *classMap {
	m := &classMap{c.Width, c.Height, make([]uint8, c.Width*c.Height)}
	rows(c.Height, func(y int) {
		for i := y * c.Width; i < (y+1)*c.Width; i++ {
			m.class[i] = k.class(cam.OverGrey(unit.Nit(c.Pixels[i].Y)))
		}
	})
	return m
}

// patternScale keeps patterns as coarse against the picture as they are at a width of 960.
func patternScale(width int) int { return max(1, width/960) }

func (i ink) rgba() color.RGBA64 {
	return color.RGBA64{uint16(i[0]) * 0x101, uint16(i[1]) * 0x101, uint16(i[2]) * 0x101, 0xffff}
}

// legend is the strip that explains the key.
type legend struct {
	key     key
	width   int
	letters lettering
	shown   []uint8
	columns int
	text    []string
}

func newLegend(k key, width int) *legend {
	l := &legend{key: k, width: width, letters: newLettering(letterSize(width)), shown: k.shown()}
	l.columns = min(len(l.shown), max(1, width/(l.letters.width("noise")+l.letters.height/2)))
	l.text = l.letters.wrap(width-2*l.margin(), []string{
		"stops over grey (0: an 18 % card in light at the key)",
		fmt.Sprintf("dots: noise floor, %s and below", k.noiseFloor.Tenths()),
		fmt.Sprintf("hatch: clip, %s and above", k.clip.Tenths()),
	})
	return l
}

func (l *legend) margin() int     { return l.letters.height / 2 }
func (l *legend) rowsOfKey() int  { return (len(l.shown) + l.columns - 1) / l.columns }
func (l *legend) cellHeight() int { return l.letters.height * 2 }

func (l *legend) height() int {
	return l.rowsOfKey()*l.cellHeight() + len(l.text)*l.letters.height + 2*l.margin()
}

// draw draws the strip from a line of the picture on.
func (l *legend) draw(out *image.RGBA64, top int) {
	fill(out, image.Rect(0, top, l.width, top+l.height()), stripGround)
	for i, class := range l.shown {
		x, y := i%l.columns, i/l.columns
		cell := image.Rect(x*l.width/l.columns, top+y*l.cellHeight(), (x+1)*l.width/l.columns, top+(y+1)*l.cellHeight())
		for y := cell.Min.Y; y < cell.Max.Y; y++ {
			for x := cell.Min.X; x < cell.Max.X; x++ {
				out.SetRGBA64(x, y, at(class, x, y, patternScale(l.width)).rgba())
			}
		}
		l.letters.centre(out, cell.Min.Add(cell.Size().Div(2)), l.key.label(class), class)
	}
	l.letters.lines(out, l.margin(), top+l.rowsOfKey()*l.cellHeight()+l.margin(), l.text)
}
