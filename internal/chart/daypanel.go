package chart

import (
	"fmt"
	"math"
)

// panel holds lines over the day on one scale of stops.
type panel struct {
	*clockwork
	name, head string
	lines      []Line
	low, high  float64
	height     float64
	tick       func(float64) string
	labels     []label  // beside the panel
	keys       []keyRow // or above it
}

// panelHead is the room above a panel and panelGap that below it.
const (
	panelHead = line + 10
	panelGap  = 12.0
)

// levels returns the panel of levels over key. Its scale holds the targets, 5 stops below and 8 above them, as far as the
// lines go there: the night would flatten the day.
func (c *clockwork) levels(lines []Line) *panel {
	p := &panel{clockwork: c, name: "level", head: "stops over key", lines: lines, tick: signed}
	p.fit(span{-1, 1, true}, 5, 8)
	return p
}

// ratio returns the panel of a ratio, nil for none; its scale is ruled in ratios to one.
func (c *clockwork) ratio(l *Line) *panel {
	if l == nil {
		return nil
	}
	p := &panel{clockwork: c, name: "ratio", head: "ratio", lines: []Line{*l}, tick: ratioTick}
	p.fit(span{0, 2, true}, 2, 4)
	p.height = max(72, p.labelRoom())
	return p
}

func ratioTick(v float64) string {
	if v < 0 {
		return fmt.Sprintf("1:%.0f", math.Exp2(-v))
	}
	return fmt.Sprintf("%.0f:1", math.Exp2(v))
}

// farthest is how far over and under the key a panel goes for a target, in stops.
const farthest = 20

// fit sets the range of the scale to what the targets and the lines need and makes the labels.
func (p *panel) fit(s span, below, above float64) {
	for _, l := range p.lines {
		if t := l.Target.plain(); t != nil {
			s.hold(bounded(t[0], farthest), bounded(t[1], farthest))
		}
	}
	wanted := s
	for n, l := range p.lines {
		for _, at := range l.Samples {
			if v := float64(at.Level); finite(v) {
				s.hold(min(max(v, wanted.low-below), wanted.high+above))
			}
		}
		p.say(l.Name, l.Text)
		text := l.Text
		if _, ok := last(l.Samples); !ok {
			text = joined(text, "no value")
		}
		if p.labelWidth > 0 {
			p.labels = append(p.labels, p.newLabel("label", l.Name, text, p.labelWidth))
		} else {
			p.keys = append(p.keys, p.newKey(l.Name, text, signOf(n)))
		}
	}
	p.low, p.high = math.Floor(s.low-0.1), math.Ceil(s.high+0.1)
}

// last returns the last sample that has a level.
func last(samples []Sample) (Sample, bool) {
	for i := len(samples) - 1; i >= 0; i-- {
		if finite(float64(samples[i].Level)) {
			return samples[i], true
		}
	}
	return Sample{}, false
}

func (p *panel) labelRoom() float64 { return labelRoom(p.labels) }

func (p *panel) heading() float64 {
	return panelHead + panelGap + keyRoom(p.keys)
}

// room returns the height of the panel with what stands above and below it.
func (p *panel) room() float64 {
	if p == nil {
		return 0
	}
	return p.heading() + p.height
}

// draw draws the panel below y and returns where it ends.
func (p *panel) draw(y float64) float64 {
	if p == nil {
		return y
	}
	p.onPattern("axis", "", Text{String: p.head, X: margin, Y: y + panelHead - 13, Colour: p.theme.Muted})
	top := p.key(p.keys, y+panelHead-13) + 13
	bottom := top + p.height
	s := newScale(p.name, "stop", true, [2]float64{bottom, top}, [2]float64{p.low, p.high})
	p.Scales = append(p.Scales, s)
	area := box{p.left(), top, p.right(), bottom}
	p.rule(s, area)
	for n, l := range p.lines {
		p.band(l, s, area, 7*float64(n)/float64(len(p.lines)))
	}
	for n, l := range p.lines {
		p.line(l, n, s, area)
	}
	p.targets(s)
	for n := range p.labels {
		end, ok := p.end(p.lines[n], s, area)
		p.labels[n].from, p.labels[n].loose = end, !ok
	}
	p.sketch.labels(p.labels, column{p.labelLeft, top, bottom})
	for n, l := range p.lines {
		p.signs(l, n, s, area)
	}
	return bottom + panelGap
}

// rule draws the stops across the panel.
func (p *panel) rule(s Scale, area box) {
	for _, v := range s.ticks(s.step(18, 1, 2, 5, 10)) {
		y, with := s.at(v), pen{p.theme.Rule, 0.8, nil}
		if v == 0 {
			with = pen{p.theme.Ink, 1.6, nil}
		}
		p.stroke("grid", "", open(XY{area.left, y}, XY{area.right, y}), with)
		p.text("axis", "", Text{String: p.tick(v), X: area.left - 8, Y: y + 5, Bold: v == 0, Align: Right})
	}
	p.stroke("axis", "", open(XY{area.left, area.top}, XY{area.left, area.bottom}), pen{p.theme.Ink, 1.4, nil})
}

// bracketsRoom is the width between the plot and the labels or the edge.
func (p *panel) bracketsRoom() float64 {
	if p.labelWidth > 0 {
		return p.labelLeft - lead - 8 - p.right()
	}
	return p.Width - margin - p.right()
}

// targets draws the brackets of what is wanted beside the panel, each with the sign of its line.
func (p *panel) targets(s Scale) {
	var stretches [][2]float64
	var whose []int
	for n, l := range p.lines {
		if t := l.Target.plain(); t != nil {
			from, to := s.within(t[1]), s.within(t[0])
			stretches, whose = append(stretches, [2]float64{from - 6, to + 6}), append(whose, n)
		}
	}
	lane, count := lanes(stretches)
	room := min(bracketRoom, p.bracketsRoom()/float64(max(count, 1)))
	for i, t := range stretches {
		x := p.right() + 9 + float64(lane[i])*room
		p.bracket(p.lines[whose[i]].Name, x, t[0]+6, t[1]-6)
		p.sign("target", p.lines[whose[i]].Name, XY{x + min(9, room-9), (t[0] + t[1]) / 2}, signOf(whose[i]))
	}
}
