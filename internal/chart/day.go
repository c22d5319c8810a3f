package chart

import (
	"math"

	"gloam/internal/unit"
)

// Times of a day are clock times in minutes; after midnight they count on past 1440 and are printed from 00:00 again. Samples
// stand in the order of time. A level that is NaN leaves a gap.

// Sample is a level at a time with its 95 % half-width.
type Sample struct {
	At              unit.Clock
	Level, Interval unit.Stop
}

// Line is a point's level over the day. Text is what the reader should know of it, such as what is wanted.
type Line struct {
	Name, Text string
	Samples    []Sample
	Target     *Range
}

// SunSample is the geometric altitude of the sun's centre at a time.
type SunSample struct {
	At       unit.Clock
	Altitude unit.Degree
}

// Span is a stretch of the day in which a target holds. Maybe says that the interval leaves it open.
type Span struct {
	Opens, Best, Closes unit.Clock
	Maybe               bool
}

// Window is when a target holds, and how that target is written. Without a span it never does.
type Window struct {
	Name, Text string
	Spans      []Span
}

// Moment is a marked time, such as now.
type Moment struct {
	At   unit.Clock
	Text string
}

// Day is the light clock from one time to a later one: the sun, the levels of points in stops over key, a ratio in stops, the
// windows of targets. Whatever is missing is left out.
type Day struct {
	From, To unit.Clock
	Sun      []SunSample
	Lines    []Line
	Ratio    *Line
	Windows  []Window
	Now      *Moment
}

// Draw returns the light clock. Its scales are "time" along x in minutes since midnight, and along y "sun" in degrees, "level"
// and "ratio" in stops, those that are drawn.
func (d Day) Draw(f Frame) Drawing {
	k := newSketch(f)
	c := d.layout(k)
	y := k.top
	if d.Now != nil {
		y += line
	}
	c.top = y
	rows := c.windowRows(d.Windows)
	below := axisRoom + roomOf(rows) + margin
	levels, ratio := c.levels(d.Lines), c.ratio(d.Ratio)
	above := y
	if len(d.Sun) > 0 {
		above += sunRoom
	}
	levels.height = max(k.Height-above-levels.heading()-ratio.room()-below, levels.labelRoom(), 140)
	c.bottom = above + levels.room() + ratio.room() + axisRoom + roomOf(rows)
	k.Height = c.bottom + margin

	k.Scales = append(k.Scales, c.time)
	c.grid()
	c.now(d.Now)
	if len(d.Sun) > 0 {
		c.sun(d.Sun, y)
	}
	y = levels.draw(above)
	y = ratio.draw(y)
	c.axis(y)
	c.windows(rows, y+axisRoom)
	return k.done()
}

// axisRoom is the height of the time axis.
const axisRoom = 30.0

// clockwork is a light clock being drawn.
type clockwork struct {
	*sketch
	time        Scale
	labelLeft   float64 // of the column of labels
	labelWidth  float64 // 0 where they stand above the lines instead
	top, bottom float64 // of what the hours run through
}

// bracketRoom is the width of a lane of targets.
const bracketRoom = 25.0

// layout finds the edges of the plot: what the labels and the targets need is kept at the right.
func (d Day) layout(k *sketch) *clockwork {
	lines := d.Lines
	if d.Ratio != nil {
		lines = append(lines[:len(lines):len(lines)], *d.Ratio)
	}
	var names, texts []string
	wanted := 0
	for _, l := range lines {
		names, texts = append(names, l.Name), append(texts, l.Text)
		if l.Target.plain() != nil {
			wanted++
		}
	}
	left, right := margin+46.0, k.Width-margin-20
	width := k.columnWidth(0.3, names, texts)
	brackets := min(float64(wanted)*bracketRoom, k.Width*0.15)
	switch {
	case len(lines) > 0 && k.Width < narrow:
		width = 0
		right = k.Width - margin - max(20, brackets)
	case len(lines) > 0:
		right = k.Width - margin - width - lead - 8 - brackets
	}
	return &clockwork{sketch: k, labelLeft: k.Width - margin - width, labelWidth: width,
		time: newScale("time", "min", false, [2]float64{left, right}, [2]float64{float64(d.From), float64(d.To)})}
}

// left and right are the edges of the plot.
func (c *clockwork) left() float64  { return c.time.Places[0] }
func (c *clockwork) right() float64 { return c.time.Places[1] }

// hours returns the times that are written on the axis.
func (c *clockwork) hours() []float64 {
	return c.time.ticks(c.time.step(56, 1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440))
}

// grid rules the hours through the whole chart.
func (c *clockwork) grid() {
	for _, v := range c.hours() {
		x := c.time.at(v)
		c.stroke("grid", "", open(XY{x, c.top}, XY{x, c.bottom}), pen{c.theme.Rule, 0.8, []float64{1.5, 4}})
	}
}

func (c *clockwork) axis(y float64) {
	c.stroke("axis", "", open(XY{c.left(), y}, XY{c.right(), y}), pen{c.theme.Ink, 2, nil})
	for _, v := range c.hours() {
		x := c.time.at(v)
		c.stroke("tick", "", open(XY{x, y}, XY{x, y + 6}), pen{c.theme.Ink, 1.4, nil})
		c.onPattern("axis", "", Text{String: clock(v), X: x, Y: y + 20, Align: Middle})
	}
}

// clock prints minutes since midnight as a time of day.
func clock(minutes float64) string {
	return unit.Clock(math.Mod(math.Mod(math.Round(minutes), 1440)+1440, 1440)).String()
}

// now marks a time through the whole chart.
func (c *clockwork) now(m *Moment) {
	if m == nil {
		return
	}
	x := c.time.within(float64(m.At))
	text := Text{String: clock(float64(m.At)) + " " + m.Text, Y: c.top - 5, Bold: true}
	text.X = max(margin, min(x+4, c.Width-margin-c.ruler.width(text.String, plain, true)))
	c.say(text.String)
	c.stroke("now", "", open(XY{x, c.top - line}, XY{x, c.bottom}), pen{c.theme.Ink, 2, []float64{10, 3, 2, 3}})
	c.onPattern("now", "", text)
}
