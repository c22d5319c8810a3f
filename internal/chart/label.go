package chart

// label is a text of one or more lines in the column beside a chart, tied to what it names by a leader.
type label struct {
	class, name string
	from        XY // where the leader begins; the label wants to stand beside it
	loose       bool
	bold, rest  []string
}

func (l label) room() float64 { return float64(len(l.bold)+len(l.rest))*line + 4 }

// column is where labels stand.
type column struct{ left, top, bottom float64 }

// lead is how far a leader runs to its label.
const lead = 16

// newLabel breaks a name and a text to a width.
func (k *sketch) newLabel(class, name, text string, width float64) label {
	return label{class: class, name: name,
		bold: k.ruler.wrap(name, width, plain, true), rest: k.ruler.wrap(text, width, plain, k.theme.Bold)}
}

// columnWidth returns the room for labels: what the widest needs, at most a share of the drawing's width.
func (k *sketch) columnWidth(share float64, names, texts []string) float64 {
	widest := 0.0
	for _, name := range names {
		widest = max(widest, k.ruler.width(name, plain, true))
	}
	for _, text := range texts {
		widest = max(widest, k.ruler.width(text, plain, k.theme.Bold))
	}
	return min(widest+2, k.Width*share)
}

// labelRoom returns the height that labels need.
func labelRoom(labels []label) float64 {
	total := 0.0
	for _, l := range labels {
		total += l.room()
	}
	return total
}

// labels writes labels into a column, each as near to its place as its neighbours let it.
func (k *sketch) labels(all []label, in column) {
	wishes := make([]wish, len(all))
	for i, l := range all {
		wishes[i] = wish{l.from.Y, l.room()}
	}
	for i, middle := range spread(wishes, in.top, in.bottom) {
		l := all[i]
		top := middle - l.room()/2
		if !l.loose {
			k.stroke("leader", l.name, open(l.from, XY{in.left - lead, l.from.Y}, XY{in.left - 3, middle}), pen{k.theme.Rule, 1, nil})
		}
		y := top + 2
		for n, text := range append(l.bold[:len(l.bold):len(l.bold)], l.rest...) {
			y += line
			k.onPattern(l.class, l.name, Text{String: text, X: in.left, Y: y - 4, Bold: n < len(l.bold)})
		}
	}
}

// narrow is the width below which labels stand in a key above a chart and not beside it: a phone held upright.
const narrow = 520.0

// keyRow is a sign and the words for it.
type keyRow struct {
	name  string
	sign  sign
	lines []string
}

// keyIndent is the room of a sign before its words.
const keyIndent = 20.0

func (k *sketch) newKey(name, text string, s sign) keyRow {
	return keyRow{name, s, k.ruler.wrap(joined(name, text), k.Width-2*margin-keyIndent, plain, true)}
}

func keyRoom(rows []keyRow) float64 {
	total := 0.0
	for _, r := range rows {
		total += line * float64(len(r.lines))
	}
	return total
}

// key writes rows below the base line y and returns the last base line.
func (k *sketch) key(rows []keyRow, y float64) float64 {
	for _, r := range rows {
		k.sign("label", r.name, XY{margin + 7, y + line - 5}, r.sign)
		for _, text := range r.lines {
			y += line
			k.onPattern("label", r.name, Text{String: text, X: margin + keyIndent, Y: y})
		}
	}
	return y
}
