package transport

import (
	"context"
	"math"
	"sync/atomic"

	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// A round of a picture shares so many light paths of each lamp as an eighth of its pixels, within bounds. Pixels share them, so
// that what they miss shows as a tint over all and not as grain.
const (
	fewestLightPaths = 512
	mostLightPaths   = 4096
)

func (q *ImageRequest) lightPaths() int {
	return min(max(q.Width*q.Height/8, fewestLightPaths), mostLightPaths)
}

// round brings all rows from as many samples to as many, of what is late or of all. It reports whether a late lamp is or was
// seen.
func (f *Film) round(ctx context.Context, from, to int) (seen bool, err error) {
	w := f.world
	c, err := f.light(ctx, w.skips(f.late), from)
	if err != nil {
		return false, err
	}
	wanted := f.late
	if wanted == nil {
		wanted = f.caught
	}
	var any atomic.Bool
	catching := w.skips(wanted)
	err = parallel(ctx, len(f.rows), func(y int) {
		t := &tracer{world: w, pass: w.all(), cache: c, tally: newTally(w.scene), before: f.before}
		row := &f.rows[y]
		if f.late != nil || row.samples >= to {
			t.late, t.skips = wanted, catching
		}
		if !any.Load() && t.exposeRow(f, y, to) {
			any.Store(true)
		}
	})
	return any.Load(), err
}

// light sends a round's light paths from all lamps but those to skip.
func (f *Film) light(ctx context.Context, skips []bool, round int) (*cache, error) {
	w := f.world
	c := &cache{vertices: make([][]lightVertex, len(w.lamps)), paths: f.request.lightPaths()}
	return c, parallel(ctx, len(w.lamps), func(l int) {
		if skips != nil && skips[l] {
			return
		}
		t := &tracer{world: w, pass: w.all(), cache: c}
		stream := numeric.Hash(numeric.HashText(f.request.Seed, w.lamps[l].Name), uint32(round)+lightStream)
		for i := range c.paths {
			t.shine(l, numeric.Path(stream, uint32(i)))
		}
	})
}

// skips returns for each lamp and skylight whether it need not be looked at when only some emitters are wanted; nil where
// all are.
func (w *world) skips(wanted []bool) []bool {
	if wanted == nil {
		return nil
	}
	skips := make([]bool, len(w.lamps))
	for l := range w.lamps {
		if d := w.lamps[l].dome; d != nil {
			skips[l] = !d.holds(wanted)
		} else {
			skips[l] = !wanted[w.lamps[l].number]
		}
	}
	return skips
}

// holds reports whether one of the dome's emitters is wanted.
func (d *dome) holds(wanted []bool) bool {
	for _, e := range d.whole {
		if wanted[e] {
			return true
		}
	}
	for _, parts := range d.patched {
		for _, p := range parts {
			if wanted[p.emitter] {
				return true
			}
		}
	}
	return false
}

// exposeRow brings a row to as many samples. It reports whether a late lamp is or was seen. A pixel belongs to one worker,
// so that the order of work leaves no trace.
func (t *tracer) exposeRow(f *Film, y, to int) (seen bool) {
	row := &f.rows[y]
	from := row.samples
	if t.late != nil {
		from = row.behind
	} else if from >= to {
		return false
	}
	for x := range f.request.Width {
		for i := from; i < to; i++ {
			if t.expose(f, x, y, i); t.disturbed {
				return true
			}
		}
	}
	row.samples, row.behind = max(row.samples, to), to
	return false
}

// expose traces one sample of one pixel and adds it to the film.
func (t *tracer) expose(f *Film, x, y, sample int) {
	q, row := &f.request, &f.rows[y]
	points := numeric.Path(numeric.Hash(q.Seed, uint32(y*q.Width+x)), uint32(sample))
	a, b := points.Next()
	u, v := points.Next()
	origin, direction := lensRay(q.View, (float64(x)+a)/float64(q.Width), (float64(y)+b)/float64(q.Height), u, v)
	for _, l := range t.tally.lit {
		if l != nil {
			*l = lit{}
		}
	}
	t.seen = seen{depth: math.Inf(1)}
	t.trace(&scene.Receiver{Kind: scene.Spot, Position: origin, Normal: direction}, points)
	openings := len(t.scene.Openings) + 1
	for c, l := range t.tally.lit {
		if l == nil || l.response == (spectrum.Band{}) || t.late != nil && !t.late[c/openings] {
			continue
		}
		row.columns[c].add(x, q.Width, &l.response)
	}
	if t.late == nil && !math.IsInf(t.seen.depth, 1) {
		row.notice(x, &t.seen)
	}
}

// add adds a sample's light.
func (c *filmColumn) add(x, width int, response *spectrum.Band) {
	if c.sum == nil {
		c.sum, c.square = make([][spectrum.Bands]float32, width), make([]float32, width)
	}
	for k, value := range response {
		c.sum[x][k] += float32(value)
	}
	m := float32(mean(response))
	c.square[x] += m * m
}

// notice adds the surface that a sample saw.
func (r *filmRow) notice(x int, s *seen) {
	r.met[x]++
	r.depth[x] += float32(s.depth)
	for k := range s.albedo {
		r.albedo[x][k] += float32(s.albedo[k])
	}
	n := &r.normal[x]
	*n = [3]float32{n[0] + float32(s.normal.X), n[1] + float32(s.normal.Y), n[2] + float32(s.normal.Z)}
}
