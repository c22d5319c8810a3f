package chart

import (
	"strings"

	"gloam/internal/colour"
)

// White is a light by its place in the CIE 1976 diagram u′, v′. Text is its colour as the reader wants it written, with its
// words.
type White struct {
	Name, Text string
	At         colour.UV
}

// Match is what a light is to be matched to: all colours within a radius in u′, v′ pass. Text says so.
type Match struct {
	Name, Text string
	At         colour.UV
	Radius     float64
}

// Chromaticity is a window of the CIE 1976 diagram near the whites: the lights of a set-up against the loci of black bodies
// and of daylight.
type Chromaticity struct {
	Whites []White
	Match  *Match
}

// leastWindow is the least width and height of the window in u′ and v′: three just noticeable steps to each side of a pair
// of like lights stay in sight.
const leastWindow = 0.03

// Draw returns the diagram. Its scales are "u" along x and "v" along y, equally long to a unit. Whites that have no place
// between 0 and 0.7 are named below it.
func (c Chromaticity) Draw(f Frame) Drawing {
	k := newSketch(f)
	d := &diagram{sketch: k, match: c.Match}
	var unknown []string
	for _, w := range c.Whites {
		k.say(w.Name, w.Text)
		if drawable(w.At) {
			d.whites = append(d.whites, w)
		} else {
			unknown = append(unknown, joined(w.Name, w.Text, "no place here"))
		}
	}
	if m := c.Match; m != nil && !(drawable(m.At) && m.Radius > 0 && m.Radius < 1) {
		unknown = append(unknown, joined(m.Name, m.Text, "no place here"))
		d.match = nil
	}
	below := k.ruler.wrap(strings.Join(unknown, "; "), k.Width-2*margin, plain, k.theme.Bold)
	d.layout(float64(len(below)) * line)
	for n, text := range below {
		k.text("unknown", "", Text{String: text, X: margin, Y: d.area.bottom + 24 + line*float64(n+1)})
	}
	d.draw()
	return k.done()
}

// diagram is a chromaticity diagram being drawn.
type diagram struct {
	*sketch
	whites []White
	match  *Match
	area   box
	u, v   Scale
	labels []label
	left   float64 // of the labels
}

func (d *diagram) at(p colour.UV) XY { return XY{d.u.at(p.U), d.v.at(p.V)} }

// drawable reports whether a place can be on the diagram.
func drawable(p colour.UV) bool { return p.U >= 0 && p.U <= 0.7 && p.V >= 0 && p.V <= 0.7 }

// named returns what has a label: the whites, then what is to be matched.
func (d *diagram) named() []White {
	if d.match == nil {
		return d.whites
	}
	return append(d.whites[:len(d.whites):len(d.whites)], White{d.match.Name, d.match.Text, d.match.At})
}

// layout finds the edges of the plot and its window. below is the room kept under it.
func (d *diagram) layout(below float64) {
	top := d.legend()
	var names, texts []string
	for _, w := range d.named() {
		names, texts = append(names, w.Name), append(texts, w.Text)
	}
	d.left = d.Width - margin
	if width := d.columnWidth(0.36, names, texts); d.Width >= narrow && len(names) > 0 {
		d.left -= width
		for _, w := range d.named() {
			d.labels = append(d.labels, d.newLabel("label", w.Name, w.Text, width))
		}
	} else {
		var rows []keyRow
		for n, w := range d.named() {
			s := signOf(n)
			if n == len(d.whites) {
				s = wanted
			}
			rows = append(rows, d.newKey(w.Name, w.Text, s))
		}
		top = d.key(rows, top)
	}
	d.area = box{margin + 34, top + 24, d.left - 6, 0}
	if len(d.labels) > 0 {
		d.area.right -= lead + 6
	}
	least := max(labelRoom(d.labels), 160)
	d.area.bottom = d.area.top + max(d.Height-d.area.top-below-24-margin, least)
	d.Height = d.area.bottom + below + 24 + margin
	d.window()
}

// legend tells the two loci apart and returns its last base line.
func (d *diagram) legend() float64 {
	const sample = 30.0
	y := d.top
	for n, text := range []string{"black bodies, ticks in mired", "daylight"} {
		for i, part := range d.ruler.wrap(text, d.Width-2*margin-sample-8, plain, d.theme.Bold) {
			y += line
			if i == 0 {
				d.stroke("legend", "", open(XY{margin, y - 5}, XY{margin + sample, y - 5}), lociPens(d.theme)[n])
			}
			d.text("legend", "", Text{String: part, X: margin + sample + 8, Y: y, Colour: d.theme.Muted})
		}
	}
	return y
}

// window sets the scales: all that is named and the nearest black body to each, and no less than leastWindow.
func (d *diagram) window() {
	var u, v span
	for _, w := range d.named() {
		body := nearest(planckian(), w.At).at
		u.hold(w.At.U, body.U)
		v.hold(w.At.V, body.V)
	}
	if d.match != nil {
		u.hold(d.match.At.U-d.match.Radius, d.match.At.U+d.match.Radius)
		v.hold(d.match.At.V-d.match.Radius, d.match.At.V+d.match.Radius)
	}
	if !u.any { // nothing to show: the whites from 2500 K to 10 000 K
		for _, p := range planckian() {
			if p.mired >= 100 && p.mired <= 400 {
				u.hold(p.at.U)
				v.hold(p.at.V)
			}
		}
	}
	width, height := d.area.right-d.area.left, d.area.bottom-d.area.top
	least := max(leastWindow, 1.25*(u.high-u.low), 1.25*(v.high-v.low)*width/height)
	least = max(least, leastWindow*width/height) / 2
	mid := colour.UV{U: (u.low + u.high) / 2, V: (v.low + v.high) / 2}
	tall := least * height / width
	d.u = newScale("u", "", false, [2]float64{d.area.left, d.area.right}, [2]float64{mid.U - least, mid.U + least})
	d.v = newScale("v", "", true, [2]float64{d.area.bottom, d.area.top}, [2]float64{mid.V - tall, mid.V + tall})
	d.Scales = append(d.Scales, d.u, d.v)
}
