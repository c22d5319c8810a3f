package transport

import (
	"context"
	"slices"

	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// kept is what Trace leaves for Moved: where the paths of the lamps' pass have been.
type kept struct {
	world *world
	seed  uint32
	walks [][Batches][]visits // by receiver
}

// world returns the world whose paths were kept, if they were.
func (l *Layers) world() *world {
	if l == nil || l.kept == nil {
		return nil
	}
	return l.kept.world
}

// keep notes a walk for later.
func (k *kept) keep(receiver, batch int, v *visits) {
	to := &k.walks[receiver][batch]
	*to = append(*to, visits{v.points, slices.Clone(v.stops), slices.Clone(v.flights)})
}

// Moved returns the layers of the scene s, which is the one that was traced with some of its lamps moved, aimed anew or
// refocused, and nothing else: the given emitters, lamps before and after. The layers must have been traced with
// Request.Keep. Kept walks are looked at anew, as many as the request's goals ask for and there are; where they do not get there, the layers say so
// by their standard errors. An eye that saw one of the lamps, or sees it now, is traced afresh. A lamp that stands as it did
// has the digits it had. The only error is the context's.
func (l *Layers) Moved(ctx context.Context, s *scene.Scene, emitters []int, q Request) (*Layers, error) {
	if l.kept == nil {
		panic("transport: no paths were kept")
	}
	m := move{old: l.kept.world, kept: l.kept, emitters: emitters, request: &q, layers: &Layers{Points: slices.Clone(l.Points)}}
	m.world = m.old.moved(s, emitters)
	for i := range s.Receivers {
		if m.afresh(i) {
			if err := m.retrace(ctx, i); err != nil {
				return nil, err
			}
		} else {
			m.who = append(m.who, i)
		}
	}
	if err := m.rounds(ctx); err != nil {
		return nil, err
	}
	m.layers.kept = &kept{m.world, l.kept.seed, l.kept.walks}
	return m.layers, nil
}

// moved returns the world with some lamps as they are in another scene.
func (w *world) moved(s *scene.Scene, emitters []int) *world {
	to := *w
	to.scene, to.lamps = s, slices.Clone(w.lamps)
	for i := range to.lamps[:to.near] {
		if n := to.lamps[i].number; slices.Contains(emitters, n) {
			to.lamps[i] = newLamp(n, &s.Emitters[n])
		}
	}
	return &to
}

// move is one call of Moved under way.
type move struct {
	*world
	old      *world
	kept     *kept
	emitters []int
	request  *Request
	layers   *Layers
	who      []int // receivers that want more
}

// afresh reports whether an eye sees or saw one of the lamps, so that its path would end elsewhere.
func (m *move) afresh(receiver int) bool {
	for _, batch := range m.kept.walks[receiver] {
		for i := range batch {
			for _, f := range batch[i].flights {
				if f.seen && (m.sees(m.world, &f) || m.sees(m.old, &f)) {
					return true
				}
			}
		}
	}
	return false
}

func (m *move) sees(w *world, f *flight) bool {
	for i := range w.lamps[:w.near] {
		if slices.Contains(m.emitters, w.lamps[i].number) {
			if s, ok := w.lamps[i].meet(f.origin, f.direction); ok && s.distance > f.near && s.distance <= f.far {
				return true
			}
		}
	}
	return false
}

// retrace replaces a point by one traced from the start.
func (m *move) retrace(ctx context.Context, receiver int) error {
	alone := *m.scene
	alone.Receivers = m.scene.Receivers[receiver : receiver+1]
	q := *m.request
	q.Seed, q.Keep, q.Progress = m.kept.seed, 0, nil
	l, err := Trace(ctx, &alone, q)
	if err == nil {
		m.layers.Points[receiver] = l.Points[0]
	}
	return err
}

// rounds looks at the kept walks in the steps in which they were traced, so that light paths are shared as they were.
func (m *move) rounds(ctx context.Context) error {
	tallies := make([][Batches]*tally, len(m.scene.Receivers))
	for _, i := range m.who {
		for b := range tallies[i] {
			tallies[i][b] = newTally(m.scene)
		}
	}
	for from, to := 0, firstPaths; len(m.who) > 0; from, to = to, 2*to {
		m.who = slices.DeleteFunc(m.who, func(i int) bool { return len(m.kept.walks[i][0]) < to })
		for ; from < to; from += mostLight {
			if err := m.stretch(ctx, tallies, from, min(to, from+mostLight)); err != nil {
				return err
			}
		}
		m.who = slices.DeleteFunc(m.who, func(i int) bool { return m.sum(i, to, &tallies[i]) })
	}
	return ctx.Err()
}

// stretch is what run.stretch is to Trace.
func (m *move) stretch(ctx context.Context, tallies [][Batches]*tally, from, to int) error {
	var lamps []int
	for i := range m.lamps[:m.near] {
		if slices.Contains(m.emitters, m.lamps[i].number) {
			lamps = append(lamps, i)
		}
	}
	p := pass{last: m.near, close: true}
	caches, err := m.lightPaths(ctx, &p, lamps, m.kept.seed, from, to)
	if err != nil {
		return err
	}
	return parallel(ctx, len(m.who)*Batches, func(job int) {
		i, b := m.who[job/Batches], job%Batches
		t := &tracer{world: m.world, pass: p, tally: tallies[i][b], cache: caches[b]}
		for n := from; n < to; n++ {
			for _, l := range lamps {
				t.gather(l, &m.kept.walks[i][b][n])
			}
		}
	})
}

// sum makes a receiver's point of what was found and reports whether that is sure enough.
func (m *move) sum(receiver, paths int, tallies *[Batches]*tally) (sure bool) {
	p := m.layers.Points[receiver].clone()
	var moved []int
	for _, e := range m.emitters {
		moved = append(moved, m.scene.ColumnsOf(e)...)
		clear(p.Via[e])
	}
	for _, c := range moved {
		p.Response[c], p.Direct[c] = spectrum.Band{}, spectrum.Band{}
		for b := range p.batches {
			p.batches[b][c] = spectrum.Band{}
		}
	}
	for b, t := range tallies {
		for _, c := range moved {
			p.book(b, c, t, paths)
		}
		for _, e := range m.emitters {
			p.bookVia(e, t, paths, len(m.scene.Cloths))
		}
	}
	m.layers.Points[receiver] = p
	return m.sure(receiver, &p)
}

// sure reports whether the total and the moved lamps' parts of it are inside the request's goals.
func (m *move) sure(receiver int, p *Point) bool {
	q := m.request
	level, stderr := p.Level(q.Weights)
	floor := q.floorAt(&m.scene.Receivers[receiver])
	if level > 0 && StopError(level+floor, stderr) > q.Goal {
		return false
	}
	for _, e := range m.emitters {
		if !q.partIsSure(p, level, floor, m.scene.ColumnsOf(e)) {
			return false
		}
	}
	return true
}

// clone returns a point that shares nothing with p.
func (p *Point) clone() Point {
	c := *p
	c.Response, c.Direct = slices.Clone(p.Response), slices.Clone(p.Direct)
	c.Via = make([][]float64, len(p.Via))
	for e := range c.Via {
		c.Via[e] = slices.Clone(p.Via[e])
	}
	for b := range c.batches {
		c.batches[b] = slices.Clone(p.batches[b])
	}
	return c
}

// book adds what a batch found in a column to the means.
func (p *Point) book(batch, column int, t *tally, paths int) {
	found := t.lit[column]
	if found == nil {
		return
	}
	each := 1 / float64(paths)
	for k, x := range found.response {
		p.batches[batch][column][k] += x * each
		p.Response[column][k] += x * each / Batches
		p.Direct[column][k] += found.direct[k] * each / Batches
	}
}

// bookVia adds what a batch found of an emitter over each cloth.
func (p *Point) bookVia(emitter int, t *tally, paths, cloths int) {
	each := 1 / float64(paths)
	for i := range cloths {
		p.Via[emitter][i] += t.via[emitter*cloths+i] * each / Batches
	}
}
