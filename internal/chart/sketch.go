package chart

import (
	"math"
	"strings"
)

// Frame is what a chart is drawn in. ID is unique on the page that holds the chart. The title and the note stand above it; the
// note may be empty. Width and Height are in units of 1/96 inch; a width below 320 or a height below 240 is taken as that,
// and a drawing grows higher than asked where its labels need the room. None is above 4000, but for such growth.
type Frame struct {
	ID, Title, Note string
	Width, Height   float64
	Theme           Theme
}

// margin is kept clear along every edge.
const margin = 14

// sketch is a drawing being made.
type sketch struct {
	Drawing
	theme Theme
	ruler ruler
	top   float64 // below the title
	said  []string
}

// newSketch begins a drawing with its title and note.
func newSketch(f Frame) *sketch {
	k := &sketch{theme: f.Theme, ruler: newRuler()}
	k.Drawing = Drawing{ID: f.ID, Title: f.Title, Ground: f.Theme.Ground,
		Width: sized(f.Width, 320), Height: sized(f.Height, 240)}
	y := float64(margin)
	for _, text := range k.ruler.wrap(f.Title, k.Width-2*margin, heading, true) {
		y += heading
		k.text("title", "", Text{String: text, X: margin, Y: y - 2, Size: heading, Bold: true})
	}
	for _, text := range k.ruler.wrap(f.Note, k.Width-2*margin, plain, f.Theme.Bold) {
		y += line
		k.text("note", "", Text{String: text, X: margin, Y: y, Colour: k.theme.Muted})
	}
	k.top = y + 10
	if f.Note != "" {
		k.say(f.Note)
	}
	return k
}

func sized(asked, least float64) float64 {
	if !(asked > least) { // nor NaN
		return least
	}
	return min(asked, 4000)
}

// done returns the drawing, which says in words what it shows.
func (k *sketch) done() Drawing {
	k.Desc = strings.Join(k.said, ". ")
	if k.Desc == "" {
		k.Desc = "nothing to show"
	}
	return k.Drawing
}

// say adds a sentence to what a screen reader is told: of what, and the parts of it that are not empty.
func (k *sketch) say(of string, parts ...string) {
	if rest := joined(parts...); rest != "" {
		of += ": " + rest
	}
	k.said = append(k.said, of)
}

// pen is how a line is drawn: width and dash in units of the drawing.
type pen struct {
	colour Colour
	width  float64
	dash   []float64
}

func (k *sketch) stroke(class, name string, p Path, with pen) {
	if len(p) == 0 {
		return
	}
	k.Items = append(k.Items, Item{class, name,
		&Shape{Path: p, Stroke: &with.colour, Width: with.width * k.theme.Weight, Dash: with.dash}, nil})
}

func (k *sketch) fill(class, name string, p Path, c Colour) {
	if len(p) > 0 {
		k.Items = append(k.Items, Item{class, name, &Shape{Path: p, Fill: &c}, nil})
	}
}

// outline fills a path with one colour and strokes it with another.
func (k *sketch) outline(class, name string, p Path, fill Colour, with pen) {
	k.Items = append(k.Items, Item{class, name,
		&Shape{Path: p, Fill: &fill, Stroke: &with.colour, Width: with.width * k.theme.Weight, Dash: with.dash}, nil})
}

// text writes a text, plain and in ink unless it says otherwise.
func (k *sketch) text(class, name string, t Text) {
	if t.Size == 0 {
		t.Size = plain
	}
	if t.Colour == (Colour{}) {
		t.Colour = k.theme.Ink
	}
	t.Bold = t.Bold || k.theme.Bold
	k.Items = append(k.Items, Item{class, name, nil, &t})
}

// textBox returns the area that a text takes.
func (k *sketch) textBox(t Text) box {
	width := k.ruler.width(t.String, plain, t.Bold || k.theme.Bold)
	left := t.X - width*[...]float64{0, 0.5, 1}[t.Align]
	return box{left - 2, t.Y - 12, left + width + 2, t.Y + 4}
}

// onPattern writes a plain text on ground of its own, clear of the pattern below.
func (k *sketch) onPattern(class, name string, t Text) {
	k.fill("clear", "", k.textBox(t).path(), k.theme.Ground)
	k.text(class, name, t)
}

// hatch rules a box with lines that rise to the right, so far apart along x.
func (k *sketch) hatch(class, name string, b box, apart float64, with pen) {
	var p Path
	height := b.bottom - b.top
	for n := math.Floor((b.left - height) / apart); n*apart < b.right; n++ {
		x := n * apart
		p = append(p, clip([]XY{{x, b.bottom}, {x + height, b.top}}, b)...)
	}
	k.stroke(class, name, p, with)
}

// dots fills a box with dots: lines of short dashes.
func (k *sketch) dots(class, name string, b box, c Colour) {
	const apart, size = 6.0, 2.0
	var rows Path
	for n := 0; b.top+3+float64(n)*apart < b.bottom; n++ {
		y := b.top + 3 + float64(n)*apart
		rows = append(rows, open(XY{b.left + 3, y}, XY{b.right, y})...)
	}
	k.stroke(class, name, rows, pen{c, size, []float64{size, apart - size}})
}

// bracket draws what is wanted from one place to another along y, open to the left.
func (k *sketch) bracket(name string, x, from, to float64) {
	k.stroke("target", name, open(XY{x - 5, from}, XY{x, from}, XY{x, to}, XY{x - 5, to}), pen{k.theme.Ink, 1.6, nil})
}
