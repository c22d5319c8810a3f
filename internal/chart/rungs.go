package chart

import (
	"math"
	"strconv"
	"strings"
)

// mark is one thing that stands on rungs.
type mark struct {
	name, text      string
	value, interval float64
	target          *[2]float64
	outcome         Outcome
	stem            *pen // of a line from 0 to the mark
}

// known reports whether a mark has a place: infinite values stand at the ends.
func (m mark) known() bool { return !math.IsNaN(m.value) }

// reach returns the values from which to which a mark and its bar go.
func (m mark) reach() (low, high float64) {
	if !(m.interval > 0) {
		return m.value, m.value
	}
	return m.value - m.interval, m.value + m.interval
}

// rungs is a ladder of any unit: an axis through 0 with marks beside it.
type rungs struct {
	scale, unit string
	head, foot  string    // what stands above and below
	zero        string    // what 0 means
	steps       []float64 // of the ticks, rising
	parts       int       // into which the least step is cut
	least       float64   // how far the axis goes both ways at least
	limit       float64   // and at most
	marks       []mark
	clip, noise *float64
}

// ladderGap stands between the axis and the first lane, and laneRoom is what a mark and its bracket take.
const (
	ladderGap = 11.0
	laneRoom  = 24.0
)

// leastHeight is the least height of an axis: its widest ticks stay apart.
const leastHeight = 160.0

// rungsLayout is where the parts of a ladder stand.
type rungsLayout struct {
	scale Scale
	area  box // from the axis to the right edge
	lane  []int
	room  float64 // of a lane
}

// at returns where a mark stands.
func (l rungsLayout) at(n int, value float64) XY {
	return XY{l.area.left + ladderGap + float64(l.lane[n])*l.room, l.scale.within(value)}
}

func (r rungs) draw(f Frame) Drawing {
	k := newSketch(f)
	marks, unknown := r.sorted(k)
	values := r.values(marks)
	lane, count := lanes(r.stretches(marks, values, max(k.Height-k.top, 240)))
	axis := margin + 14 + k.ruler.width(signed(-r.limit), plain, true)
	room := min(laneRoom, (k.Width-axis)*0.4/float64(max(count, 1)))
	left := axis + ladderGap + float64(max(count, 1))*room + lead
	labels := r.labels(k, marks, k.Width-margin-left)
	zones, zoneValues := r.zoneLabels(k, k.Width-margin-left)
	below := k.ruler.wrap(strings.Join(unknown, "; "), k.Width-2*margin, plain, k.theme.Bold)

	top := k.top + line + 8
	under := line*float64(len(below)+1) + margin
	height := max(k.Height-top-under, labelRoom(labels)+labelRoom(zones), leastHeight)
	k.Height = top + height + under
	l := rungsLayout{newScale(r.scale, r.unit, true, [2]float64{top + height, top}, values),
		box{axis, top, k.Width - margin, top + height}, lane, room}
	k.Scales = append(k.Scales, l.scale)

	r.zones(k, l)
	r.axis(k, l)
	for n, m := range marks {
		r.body(k, l, n, m)
		labels[n].from = l.at(n, m.value)
	}
	for n, v := range zoneValues {
		zones[n].from.Y = l.scale.within(v)
	}
	k.labels(append(labels, zones...), column{left, top - 4, top + height + 4})
	for n, m := range marks {
		r.sign(k, l, n, m)
	}
	k.text("axis", "", Text{String: r.head, X: margin, Y: top - 14, Colour: k.theme.Muted})
	k.text("axis", "", Text{String: r.foot, X: margin, Y: top + height + line, Colour: k.theme.Muted})
	for n, text := range below {
		k.text("unknown", "", Text{String: text, X: margin, Y: top + height + line*float64(n+2)})
	}
	return k.done()
}

// sorted tells marks from those without a value and says them all.
func (r rungs) sorted(k *sketch) (marks []mark, unknown []string) {
	for _, m := range r.marks {
		k.say(m.name, m.text)
		if m.known() {
			marks = append(marks, m)
		} else {
			unknown = append(unknown, joined(m.name, m.text, "no value"))
		}
	}
	return marks, unknown
}

// values returns the range of the axis: whole steps that hold every mark, target and limit.
func (r rungs) values(marks []mark) [2]float64 {
	s := span{-r.least, r.least, true}
	step := r.steps[0]
	hold := func(low, high float64) {
		s.hold(bounded(low-step/4, r.limit), bounded(high+step/4, r.limit))
	}
	for _, m := range marks {
		if !math.IsInf(m.value, 0) {
			hold(m.reach())
		}
		if m.target != nil {
			hold(m.target[0], m.target[1])
		}
	}
	if r.clip != nil {
		hold(*r.clip, *r.clip+step)
	}
	if r.noise != nil {
		hold(*r.noise-step, *r.noise)
	}
	return [2]float64{math.Floor(s.low/step) * step, math.Ceil(s.high/step) * step}
}

// stretches returns what each mark takes of the axis, with room for its sign.
func (r rungs) stretches(marks []mark, values [2]float64, height float64) [][2]float64 {
	half := 8 * (values[1] - values[0]) / height
	var all [][2]float64
	for _, m := range marks {
		v := min(max(m.value, values[0]), values[1])
		s := span{v - half, v + half, true}
		s.hold(m.reach())
		if m.stem != nil {
			s.hold(0)
		}
		if m.target != nil {
			s.hold(m.target[0]-half/4, m.target[1]+half/4)
		}
		all = append(all, [2]float64{s.low, s.high})
	}
	return all
}

func (r rungs) labels(k *sketch, marks []mark, width float64) []label {
	var all []label
	for _, m := range marks {
		all = append(all, k.newLabel("label", m.name, m.text, width))
	}
	return all
}

// zoneLabels names 0, clip and noise; values are where they stand.
func (r rungs) zoneLabels(k *sketch, width float64) (all []label, values []float64) {
	add := func(text string, value float64) {
		l := k.newLabel("zone", "", text, width)
		l.loose = true
		all, values = append(all, l), append(values, value)
	}
	add(r.zero, 0)
	if r.clip != nil {
		add("clips", *r.clip+r.steps[0]/2)
	}
	if r.noise != nil {
		add("noise", *r.noise-r.steps[0]/2)
	}
	return all, values
}

// signed returns a number as it is with its sign: +2, 0, −50.
func signed(v float64) string {
	if v == 0 {
		return "0"
	}
	text := strconv.FormatFloat(math.Abs(v), 'f', -1, 64)
	if v < 0 {
		return "−" + text
	}
	return "+" + text
}
