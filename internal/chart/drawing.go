// Package chart draws what a crew reads at a glance: the day, the stop ladder, spectra, chromaticities and the mired
// ladder. Each chart is drawn once, from plain values, into a Drawing: a short list of shapes and texts. SVG and PNG are
// written from that list, and whatever else prints takes the same list, so that page and paper cannot differ.
//
// Texts about a value come in formatted, in the reader's units and with the reader's decimal sign; the package itself
// prints whole numbers, clock times and words only. No chart tells anything by colour alone: shape, dash or word says it too.
// Values that are no number are left out of the picture and named in words.
package chart

import "math"

// Drawing is a picture in units of 1/96 inch, x to the right and y down, on a ground of one colour. Later items lie over
// earlier ones.
type Drawing struct {
	ID            string // unique on the page that holds it
	Title, Desc   string // for screen readers
	Width, Height float64
	Ground        Colour
	Scales        []Scale
	Items         []Item
}

// Item is one shape or one text. Class says what kind of thing it stands for (point, line, window, target ...) and Name
// which one; both are there for a page that lays handles over the drawing.
type Item struct {
	Class, Name string
	Shape       *Shape
	Text        *Text
}

// Shape is a path, filled by the non-zero rule, stroked, or both. Width and Dash are in units of the drawing.
type Shape struct {
	Path         Path
	Fill, Stroke *Colour
	Width        float64
	Dash         []float64
}

// Text is a line of type on a base line at Y. Size is the em in units of the drawing.
type Text struct {
	String string
	X, Y   float64
	Size   float64
	Bold   bool
	Align  Align
	Colour Colour
}

// Align says which part of a text stands at X.
type Align int

const (
	// Left puts the beginning of a text at X.
	Left Align = iota
	// Middle puts its middle there.
	Middle
	// Right puts its end there.
	Right
)

// XY is a place in a drawing.
type XY struct{ X, Y float64 }

// Op is what a step of a path does.
type Op int

const (
	// MoveTo begins a part of the path at To.
	MoveTo Op = iota
	// LineTo goes straight to To.
	LineTo
	// CubicTo goes to To by a Bézier curve with the control points A and B.
	CubicTo
	// Close goes straight back to where the part began.
	Close
)

// Step is one step of a path.
type Step struct {
	Op       Op
	To, A, B XY
}

// Path is an outline of one or more parts.
type Path []Step

// open returns the path through points, from the first to the last.
func open(points ...XY) Path {
	p := make(Path, 0, len(points)+1)
	for i, at := range points {
		op := LineTo
		if i == 0 {
			op = MoveTo
		}
		p = append(p, Step{Op: op, To: at})
	}
	return p
}

// closed returns the polygon of points.
func closed(points ...XY) Path { return append(open(points...), Step{Op: Close}) }

// box is an area with sides along the axes.
type box struct{ left, top, right, bottom float64 }

func (b box) path() Path {
	return closed(XY{b.left, b.top}, XY{b.right, b.top}, XY{b.right, b.bottom}, XY{b.left, b.bottom})
}

func (b box) overlaps(c box) bool {
	return b.left < c.right && c.left < b.right && b.top < c.bottom && c.top < b.bottom
}

func (b box) contains(p XY) bool {
	return b.left <= p.X && p.X <= b.right && b.top <= p.Y && p.Y <= b.bottom
}

// grown returns the box moved outwards by d on every side.
func (b box) grown(d float64) box { return box{b.left - d, b.top - d, b.right + d, b.bottom + d} }

// circle returns a circle as four cubic curves; the constant keeps the radius to 0.03 % (from memory).
func circle(at XY, r float64) Path {
	const k = 0.5523
	p := Path{{Op: MoveTo, To: XY{at.X + r, at.Y}}}
	x, y := r, 0.0
	for range 4 {
		nx, ny := -y, x
		p = append(p, Step{CubicTo, XY{at.X + nx, at.Y + ny},
			XY{at.X + x + k*nx, at.Y + y + k*ny}, XY{at.X + nx + k*x, at.Y + ny + k*y}})
		x, y = nx, ny
	}
	return append(p, Step{Op: Close})
}

// clip returns the parts of an open line that lie inside a box. A point that is no number breaks the line.
func clip(points []XY, b box) Path {
	var p Path
	last, joined := XY{}, false
	for i := 1; i < len(points); i++ {
		from, to, ok := clipSegment(points[i-1], points[i], b)
		if !ok {
			joined = false
			continue
		}
		if !joined || from != last {
			p = append(p, Step{Op: MoveTo, To: from})
		}
		p = append(p, Step{Op: LineTo, To: to})
		last, joined = to, true
	}
	return p
}

// clipSegment returns the part of a segment inside a box, by the parametric method of Liang and Barsky (from memory).
func clipSegment(a, b XY, in box) (from, to XY, ok bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	t0, t1 := 0.0, 1.0
	for _, side := range [...][2]float64{{-dx, a.X - in.left}, {dx, in.right - a.X}, {-dy, a.Y - in.top}, {dy, in.bottom - a.Y}} {
		speed, distance := side[0], side[1]
		if math.IsNaN(speed) || math.IsNaN(distance) || math.IsInf(speed, 0) {
			return XY{}, XY{}, false
		}
		switch {
		case speed == 0 && distance < 0:
			return XY{}, XY{}, false
		case speed < 0:
			t0 = max(t0, distance/speed)
		case speed > 0:
			t1 = min(t1, distance/speed)
		}
	}
	if t0 > t1 {
		return XY{}, XY{}, false
	}
	from, to = a, b
	if t0 > 0 {
		from = XY{a.X + t0*dx, a.Y + t0*dy}
	}
	if t1 < 1 {
		to = XY{a.X + t1*dx, a.Y + t1*dy}
	}
	return from, to, true
}
