package chart

import (
	"fmt"
	"math"
)

// lociPens draw the locus of black bodies and that of daylight.
func lociPens(t Theme) [2]pen {
	return [2]pen{{t.Ink, 2.2, nil}, {t.Muted, 1.6, []float64{6, 4}}}
}

// tickDuv is how far a mired tick reaches to each side of the locus, in Duv: the words green and pink begin about there.
const tickDuv = 0.004

func (d *diagram) draw() {
	d.rule()
	for n, locus := range [][]locusPoint{planckian(), daylight()} {
		points := make([]XY, len(locus))
		for i, p := range locus {
			points[i] = d.at(p.at)
		}
		d.stroke([]string{"planckian", "daylight"}[n], "", clip(points, d.area), lociPens(d.theme)[n])
	}
	d.circle()
	for n, w := range d.named()[:len(d.labels)] {
		d.labels[n].from = d.at(w.At)
		if n == len(d.whites) {
			d.labels[n].from.X += d.match.Radius * d.u.unit()
		}
	}
	d.sketch.labels(d.labels, column{d.left, d.area.top, d.area.bottom})
	d.mireds()
	for _, t := range d.corners() {
		d.onPattern("direction", t.String, t)
	}
	for n, w := range d.whites {
		d.sign("point", w.Name, d.at(w.At), signOf(n))
	}
}

// taken returns the areas that a tick's number must not cover: signs and words.
func (d *diagram) taken() []box {
	var taken []box
	for _, w := range d.whites {
		at := d.at(w.At)
		taken = append(taken, box{at.X, at.Y, at.X, at.Y}.grown(8))
	}
	for _, t := range d.corners() {
		taken = append(taken, d.textBox(t))
	}
	return taken
}

// rule draws the edges with their numbers, in thousandths so that no decimal sign is needed.
func (d *diagram) rule() {
	a := d.area
	d.stroke("axis", "", a.path(), pen{d.theme.Ink, 1.4, nil})
	d.text("axis", "", Text{String: "1000 v′", X: margin, Y: a.top - 8, Colour: d.theme.Muted})
	unit := "1000 u′"
	d.text("axis", "", Text{String: unit, X: a.right, Y: a.bottom + 20, Align: Right, Colour: d.theme.Muted})
	end := a.right - d.ruler.width(unit, plain, d.theme.Bold) - 20
	for _, t := range d.u.ticks(d.u.step(48, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2)) {
		x := d.u.at(t)
		d.stroke("tick", "", open(XY{x, a.bottom}, XY{x, a.bottom + 5}), pen{d.theme.Ink, 1.2, nil})
		if x <= end {
			d.text("axis", "", Text{String: fmt.Sprintf("%.0f", 1000*t), X: x, Y: a.bottom + 20, Align: Middle})
		}
	}
	for _, t := range d.v.ticks(d.v.step(30, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2)) {
		y := d.v.at(t)
		d.stroke("tick", "", open(XY{a.left - 5, y}, XY{a.left, y}), pen{d.theme.Ink, 1.2, nil})
		d.text("axis", "", Text{String: fmt.Sprintf("%.0f", 1000*t), X: a.left - 8, Y: y + 5, Align: Right})
	}
}

// corners returns what the corners mean: in this diagram black bodies run from cool below at the left to warm above at
// the right, with green to the left of them and pink to the right.
func (d *diagram) corners() []Text {
	a := d.area.grown(-8)
	return []Text{
		{String: "green", X: a.left, Y: a.top + 11, Bold: true},
		{String: "warm", X: a.right, Y: a.top + 11, Align: Right, Bold: true},
		{String: "cool", X: a.left, Y: a.bottom, Bold: true},
		{String: "pink", X: a.right, Y: a.bottom, Align: Right, Bold: true},
	}
}

// mireds draws the ticks across the locus, each with its number on the pink side where nothing else stands.
func (d *diagram) mireds() {
	locus, taken := planckian(), d.taken()
	step := d.miredStep()
	for n, p := range locus {
		at, way := d.at(p.at), across(locus, n)
		if math.Mod(p.mired, step) != 0 || !d.area.contains(at) {
			continue
		}
		to := func(duv float64) XY {
			return XY{at.X + duv*way.U*d.u.unit(), at.Y - duv*way.V*d.v.unit()}
		}
		d.stroke("mired", "", clip([]XY{to(tickDuv), to(-tickDuv)}, d.area), pen{d.theme.Ink, 1.2, nil})
		end := to(-tickDuv)
		length := math.Hypot(end.X-at.X, end.Y-at.Y)
		t := Text{String: fmt.Sprintf("%.0f", p.mired), Align: Middle,
			X: end.X + (end.X-at.X)/length*16, Y: end.Y + (end.Y-at.Y)/length*12 + 5}
		room := d.textBox(t)
		free := d.area.contains(XY{room.left, room.top}) && d.area.contains(XY{room.right, room.bottom})
		for _, b := range taken {
			free = free && !room.overlaps(b)
		}
		if free {
			d.onPattern("mired", t.String, t)
			taken = append(taken, room)
		}
	}
}

// miredStep returns the least step whose ticks in the window stand 30 apart.
func (d *diagram) miredStep() float64 {
	steps := []float64{5, 10, 20, 50, 100}
	for _, step := range steps {
		last, near := XY{math.Inf(-1), 0}, false
		for _, p := range planckian() {
			at := d.at(p.at)
			if math.Mod(p.mired, step) != 0 || !d.area.contains(at) {
				continue
			}
			near = near || math.Hypot(at.X-last.X, at.Y-last.Y) < 30
			last = at
		}
		if !near {
			return step
		}
	}
	return steps[len(steps)-1]
}

// circle draws what a match allows.
func (d *diagram) circle() {
	if d.match == nil {
		return
	}
	const corners = 72
	centre, r := d.at(d.match.At), d.match.Radius*d.u.unit()
	points := make([]XY, 0, corners+1)
	for i := range corners + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		points = append(points, XY{centre.X + r*cos, centre.Y + r*sin})
	}
	d.stroke("tolerance", d.match.Name, clip(points, d.area), pen{d.theme.Ink, 1.8, []float64{4, 3}})
	d.stroke("tolerance", d.match.Name, open(XY{centre.X - 4, centre.Y}, XY{centre.X + 4, centre.Y}), pen{d.theme.Ink, 1.2, nil})
	d.stroke("tolerance", d.match.Name, open(XY{centre.X, centre.Y - 4}, XY{centre.X, centre.Y + 4}), pen{d.theme.Ink, 1.2, nil})
}
