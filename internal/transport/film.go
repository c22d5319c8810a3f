package transport

import (
	"context"
	"math"
	"sync/atomic"

	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// Film is a picture under way: it gathers samples step by step, and what an edit leaves alone it keeps. Sample i of a pixel
// walks the same way whatever shines, so that what is kept has the digits that a picture traced anew would give it. It
// serves one call at a time.
type Film struct {
	world   *world
	request ImageRequest
	rows    []filmRow
	samples int    // paths a pixel that all but what is late has
	late    []bool // by emitter: those that changed since, nil for none
	behind  int    // paths a pixel of theirs
	caught  []bool // those that caught up, until the rows that an unfinished round took further have them too
	before  []lamp // where those lamps stood when what is kept was traced
}

// filmRow is one row's sums. Rows are whole: a worker that is stopped ends its row first.
type filmRow struct {
	columns         []filmColumn // by scene column; without pixels until light is found
	albedo          [][spectrum.Bands]float32
	normal          [][3]float32
	depth           []float32 // m
	met             []float32 // samples that met a surface
	samples, behind int
}

// filmColumn is the sums of one column's light.
type filmColumn struct {
	sum    [][spectrum.Bands]float32
	square []float32 // of the mean over bands
}

// NewFilm returns a film without a sample. Of the request it takes no notice of Samples and Shown. What stands as it does in the
// scene of another film (nil: none) is not built anew.
func NewFilm(s *scene.Scene, q ImageRequest, like *Film) *Film {
	f := &Film{request: q}
	switch {
	case like == nil:
		f.world = newWorld(s, nil)
	case like.world.scene == s:
		f.world = like.world
	default:
		f.world = newWorld(s, like.world)
	}
	f.clear()
	return f
}

// Glance returns the surfaces of a picture in the film's scene, without a layer: the first matt surface on one ray a pixel. The
// only error is the context's.
func (f *Film) Glance(ctx context.Context, width, height int) (*Image, error) {
	q := f.request
	q.Width, q.Height = width, height
	seen := &Film{world: f.world, request: q}
	seen.clear()
	seen.samples = 1
	err := parallel(ctx, height, func(y int) {
		t := &tracer{world: f.world, pass: f.world.all(), tally: newTally(f.world.scene), glances: true}
		for x := range width {
			t.expose(seen, x, y, 0)
		}
	})
	if err != nil {
		return nil, err
	}
	img := seen.Develop()
	img.Layers = nil
	return img, nil
}

// clear throws all samples away.
func (f *Film) clear() {
	q := &f.request
	f.rows = make([]filmRow, q.Height)
	for y := range f.rows {
		f.rows[y] = filmRow{columns: make([]filmColumn, f.world.scene.Columns()), albedo: make([][spectrum.Bands]float32, q.Width),
			normal: make([][3]float32, q.Width), depth: make([]float32, q.Width), met: make([]float32, q.Width)}
	}
	f.samples, f.behind, f.late, f.caught, f.before = 0, 0, nil, nil, nil
}

// Samples returns the paths a pixel of what has fewest.
func (f *Film) Samples() int {
	if f.late != nil {
		return f.behind
	}
	return f.samples
}

// Late reports whether an emitter that changed has fewer samples than the rest.
func (f *Film) Late(emitter int) bool { return f.late != nil && f.late[emitter] }

// Move goes over to a scene that differs from the film's in the given emitters alone, each of its old kind and name. Their
// light is thrown away and caught up with by coming steps; the rest is kept.
func (f *Film) Move(s *scene.Scene, emitters []int) {
	if len(s.Emitters) != len(f.world.scene.Emitters) || s.Columns() != f.world.scene.Columns() {
		panic("transport: film moved to a scene of other emitters")
	}
	if len(emitters) == 0 {
		return
	}
	old, lampsOnly := f.world, true
	if f.late == nil {
		f.late, f.caught = f.caught, nil
	}
	if f.late == nil {
		f.late = make([]bool, len(s.Emitters))
	}
	for _, e := range emitters {
		lampsOnly = lampsOnly && s.Emitters[e].Kind == scene.Lamp
		for l := range old.lamps[:old.near] {
			if old.lamps[l].number == e && !f.late[e] {
				f.before = append(f.before, old.lamps[l])
			}
		}
		f.late[e] = true
	}
	if lampsOnly {
		f.world = old.moved(s, emitters)
	} else {
		f.world = newWorld(s, old)
	}
	f.behind = 0
	for y := range f.rows {
		f.rows[y].behind = 0
		for e, late := range f.late {
			for _, c := range s.ColumnsOf(e) {
				if late {
					f.rows[y].columns[c] = filmColumn{}
				}
			}
		}
	}
}

// Step doubles the samples of what has fewest, to no more than given. Where a late lamp is seen in the picture, or was,
// nothing could be kept: the film begins anew, and says so. The only error is the context's; what was done before it stays.
func (f *Film) Step(ctx context.Context, most int) (anew bool, err error) {
	from := f.Samples()
	to := min(max(1, 2*from), most)
	if f.late != nil {
		to = min(to, f.samples)
	}
	if to > from {
		seen, err := f.round(ctx, from, to)
		if err != nil {
			return false, err
		}
		if seen {
			f.clear()
			_, err := f.Step(ctx, most)
			return true, err
		}
	}
	if f.late == nil {
		f.samples, f.caught, f.before = to, nil, nil
	} else if f.behind = to; f.behind == f.samples {
		f.caughtUp()
	}
	return false, nil
}

// caughtUp ends catching up, but for rows that an unfinished round took further.
func (f *Film) caughtUp() {
	for y := range f.rows {
		if f.rows[y].samples > f.samples {
			f.late, f.caught = nil, f.late
			return
		}
	}
	f.late, f.before = nil, nil
}

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
