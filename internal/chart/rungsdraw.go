package chart

// zones hatches what clips, dots what is noise, and rules a line through 0.
func (r rungs) zones(k *sketch, l rungsLayout) {
	if r.clip != nil {
		b := l.area
		b.bottom = l.scale.within(*r.clip)
		k.hatch("clip", "", b, 9, pen{k.theme.Muted, 1, nil})
		k.stroke("clip", "", open(XY{b.left, b.bottom}, XY{b.right, b.bottom}), pen{k.theme.Muted, 1, nil})
	}
	if r.noise != nil {
		b := l.area
		b.top = l.scale.within(*r.noise)
		k.dots("noise", "", b, k.theme.Muted)
	}
	y := l.scale.at(0)
	k.stroke("zero", "", open(XY{l.area.left - 9, y}, XY{l.area.right, y}), pen{k.theme.Ink, 2.4, nil})
}

// axis draws the axis with its ticks; the least step is cut into parts where they can be told apart.
func (r rungs) axis(k *sketch, l rungsLayout) {
	x := l.area.left
	k.stroke("axis", "", open(XY{x, l.area.top}, XY{x, l.area.bottom}), pen{k.theme.Ink, 2, nil})
	step := l.scale.step(18, r.steps...)
	if part := r.steps[0] / float64(r.parts); step == r.steps[0] && part*l.scale.unit() >= 6 {
		for _, v := range l.scale.ticks(part) {
			k.stroke("tick", "", open(XY{x - 4, l.scale.at(v)}, XY{x, l.scale.at(v)}), pen{k.theme.Muted, 0.8, nil})
		}
	}
	for _, v := range l.scale.ticks(step) {
		y := l.scale.at(v)
		k.stroke("tick", "", open(XY{x - 9, y}, XY{x, y}), pen{k.theme.Ink, 1.4, nil})
		k.text("axis", "", Text{String: signed(v), X: x - 13, Y: y + 5, Bold: v == 0, Align: Right})
	}
}

// body draws what stands behind a mark's sign: stem, interval and target.
func (r rungs) body(k *sketch, l rungsLayout, n int, m mark) {
	at := l.at(n, m.value)
	if m.stem != nil {
		k.stroke("stem", m.name, open(XY{at.X, l.scale.at(0)}, at), *m.stem)
	}
	if low, high := m.reach(); low < high {
		from, to := l.scale.within(high), l.scale.within(low)
		k.outline("interval", m.name, box{at.X - 3, from, at.X + 3, to}.path(), k.theme.Ground, pen{k.theme.Muted, 1.2, nil})
	}
	if m.target != nil {
		k.bracket(m.name, at.X+min(13, l.room-6), l.scale.within(m.target[1]), l.scale.within(m.target[0]))
	}
}

// sign draws a mark's sign, or an arrow at the end of the axis for a value beyond it.
func (r rungs) sign(k *sketch, l rungsLayout, n int, m mark) {
	at, tip := l.at(n, m.value), 0.0
	switch {
	case m.value > l.scale.Values[1]:
		tip = -7
	case m.value < l.scale.Values[0]:
		tip = 7
	default:
		k.outcome(m.name, at, m.outcome)
		return
	}
	k.fill("beyond", m.name, closed(XY{at.X - 6, at.Y - tip}, XY{at.X + 6, at.Y - tip}, XY{at.X, at.Y + tip}), k.theme.Ink)
}
