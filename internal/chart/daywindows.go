package chart

// windowRow is a window being drawn: its name and target above its bars, their times below.
type windowRow struct {
	Window
	head  []string
	times [][]timed // in lines
}

// timed is a text and the place of the time it tells.
type timed struct {
	Text
	at float64
}

// barRoom is the height of the line that bars stand on, and barHalf half of a bar's.
const (
	barRoom = 26.0
	barHalf = 6.0
	rowGap  = 10.0
)

func (r windowRow) room() float64 {
	return line*float64(len(r.head)+len(r.times)) + barRoom + rowGap
}

func roomOf(rows []windowRow) float64 {
	total := 0.0
	for _, r := range rows {
		total += r.room()
	}
	return total
}

// windowRows lays out the windows before their height is known.
func (c *clockwork) windowRows(windows []Window) []windowRow {
	var rows []windowRow
	for _, w := range windows {
		head := w.Name + "  " + w.Text
		r := windowRow{Window: w, head: c.ruler.wrap(head, c.Width-2*margin, plain, true)}
		r.times = c.timeLines(w)
		said := []string{w.Text}
		for _, texts := range r.times {
			for _, t := range texts {
				said = append(said, t.String)
			}
		}
		c.say(w.Name, said...)
		rows = append(rows, r)
	}
	return rows
}

// timeLines returns what is written below a window's bars, in as many lines as it takes.
func (c *clockwork) timeLines(w Window) [][]timed {
	if len(w.Spans) == 0 {
		return [][]timed{{{Text{String: "never holds", X: c.left()}, c.left()}}}
	}
	var all []timed
	add := func(text string, minutes float64) {
		x := c.time.within(minutes)
		all = append(all, timed{Text{String: text, X: x, Align: Middle}, x})
	}
	for _, s := range w.Spans {
		word := "opens "
		if s.Maybe {
			word = "maybe from "
		}
		add(word+clock(float64(s.Opens)), float64(s.Opens))
		add("best "+clock(float64(s.Best)), float64(s.Best))
		add("closes "+clock(float64(s.Closes)), float64(s.Closes))
	}
	room := c.Width - 2*margin
	var lines [][]timed
	used := room
	for _, t := range all {
		width := c.timeWidth(t.Text)
		if used+width > room {
			lines, used = append(lines, nil), 0
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], t)
		used += width
	}
	for _, texts := range lines {
		c.spreadTimes(texts)
	}
	return lines
}

func (c *clockwork) timeWidth(t Text) float64 { return c.ruler.width(t.String, plain, true) + 10 }

// spreadTimes moves the texts of a line apart.
func (c *clockwork) spreadTimes(texts []timed) {
	wishes := make([]wish, len(texts))
	for i, t := range texts {
		wishes[i] = wish{t.at, c.timeWidth(t.Text)}
	}
	for i, x := range spread(wishes, margin, c.Width-margin) {
		texts[i].X = x
	}
}

// windows draws the rows below y.
func (c *clockwork) windows(rows []windowRow, y float64) {
	for _, r := range rows {
		for _, text := range r.head {
			y += line
			c.onPattern("window", r.Name, Text{String: text, X: margin, Y: y - 4, Bold: true})
		}
		middle := y + barRoom/2 - 1
		c.stroke("window", r.Name, open(XY{c.left(), middle}, XY{c.right(), middle}), pen{c.theme.Muted, 1, nil})
		for _, s := range r.Spans {
			c.bar(r.Name, s, middle)
		}
		y += barRoom
		for n, texts := range r.times {
			y += line
			for _, t := range texts {
				if n == 0 && t.Align == Middle {
					c.stroke("leader", r.Name, open(XY{t.at, middle + barHalf}, XY{t.X, y - line + 1}), pen{c.theme.Muted, 0.8, nil})
				}
				t.Y = y - 4
				c.onPattern("window", r.Name, t.Text)
			}
		}
		y += rowGap
	}
}

// bar draws a span that lies at least in part on the axis: full where the target holds, hatched where it may; a wedge
// of the ground cuts it where it is best.
func (c *clockwork) bar(name string, s Span, y float64) {
	from, to := c.time.within(float64(s.Opens)), c.time.within(float64(s.Closes))
	if float64(s.Closes) < c.time.Values[0] || float64(s.Opens) > c.time.Values[1] || to < from {
		return
	}
	b := box{from, y - barHalf, max(to, from+2), y + barHalf}
	fill := c.theme.Ink
	if s.Maybe {
		fill = c.theme.Ground
	}
	c.outline("span", name, b.path(), fill, pen{c.theme.Ink, 1.4, nil})
	if s.Maybe {
		c.hatch("span", name, b, 6, pen{c.theme.Ink, 1.4, nil})
	}
	x := c.time.within(float64(s.Best))
	c.outline("best", name, closed(XY{x - 5, y - barHalf - 4}, XY{x + 5, y - barHalf - 4}, XY{x, y + barHalf}), c.theme.Ground, pen{c.theme.Ink, 1.4, nil})
}
