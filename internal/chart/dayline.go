package chart

import "sort"

// levelAt returns level and interval of a line at a time, straight between its samples; ok is false in a gap and beyond its
// ends.
func levelAt(samples []Sample, minutes float64) (level, interval float64, ok bool) {
	n := sort.Search(len(samples), func(i int) bool { return float64(samples[i].At) >= minutes })
	if n == len(samples) {
		return 0, 0, false
	}
	b := samples[n]
	a := b
	if float64(b.At) > minutes {
		if n == 0 {
			return 0, 0, false
		}
		a = samples[n-1]
	}
	t := 0.0
	if b.At > a.At {
		t = (minutes - float64(a.At)) / float64(b.At-a.At)
	}
	level = float64(a.Level) + t*float64(b.Level-a.Level)
	interval = float64(a.Interval) + t*float64(b.Interval-a.Interval)
	return level, interval, finite(level)
}

// minutes returns the time at a place.
func (c *clockwork) minutes(x float64) float64 {
	return c.time.Values[0] + (x-c.left())/c.time.unit()
}

// hair is the distance of the lines that fill an interval: hatching prints where a tint would not.
const hair = 7.0

// band draws the interval of a line as upright hairs, which begin at an offset.
func (p *panel) band(l Line, s Scale, area box, offset float64) {
	var hairs Path
	for x := area.left + 2 + offset; x < area.right; x += hair {
		level, half, ok := levelAt(l.Samples, p.minutes(x))
		if from, to := s.within(level+half), s.within(level-half); ok && to-from > 0.5 {
			hairs = append(hairs, open(XY{x, from}, XY{x, to})...)
		}
	}
	p.stroke("interval", l.Name, hairs, pen{p.theme.Muted, 0.8, nil})
}

// line draws a line with its dash; it breaks at gaps.
func (p *panel) line(l Line, n int, s Scale, area box) {
	p.stroke("line", l.Name, p.path(l, s, area), pen{p.theme.Ink, 2, signOf(n).dash})
}

// path returns the parts of a line that lie in the panel.
func (p *panel) path(l Line, s Scale, area box) Path {
	points := make([]XY, 0, len(l.Samples))
	for _, at := range l.Samples {
		points = append(points, XY{p.time.at(float64(at.At)), s.at(float64(at.Level))})
	}
	return clip(points, area)
}

// end returns where a line is last seen, for its label: at its last sample, or where it leaves the panel. ok is false for a
// line without a sample, which has the lower left corner.
func (p *panel) end(l Line, s Scale, area box) (end XY, ok bool) {
	if path := p.path(l, s, area); len(path) > 0 {
		return path[len(path)-1].To, true
	}
	at, ok := last(l.Samples)
	if !ok {
		return XY{area.left, area.bottom}, false
	}
	return XY{p.time.within(float64(at.At)), s.within(float64(at.Level))}, true
}

// apart is the distance of a line's signs.
const apart = 130.0

// signs draws a line's sign along it and at its end.
func (p *panel) signs(l Line, n int, s Scale, area box) {
	end, ok := p.end(l, s, area)
	if !ok {
		return
	}
	for x := area.left + 30 + apart*float64(n%4)/4; x < end.X-apart/4; x += apart {
		level, _, ok := levelAt(l.Samples, p.minutes(x))
		if at := (XY{x, s.at(level)}); ok && area.contains(at) {
			p.sign("line", l.Name, at, signOf(n))
		}
	}
	p.sign("line", l.Name, end, signOf(n))
}
