// Package transport finds what each emitter does at each receiver: the layers.
//
// Light is traced from the receivers by unbiased path tracing in spectral bands; every emitter is looked at from every
// turn of every path, so that all layers come from one set of paths. Surfaces are matt, mirror, clear glass or cloth;
// there is no gloss, no refraction offset, no fluorescence, no wave effect, and emitters cast no shadow of their own.
// Haze fades light and turns it once, on its last way to a receptor or an eye; what it turns elsewhere is lost.
// Light is attributed to the opening it came in by last; light that crossed two gelled openings is cut by the outer
// one alone.
package transport

import (
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gloam/internal/exposure"
	"gloam/internal/numeric"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Request says how sure the layers must be.
type Request struct {
	Seed       uint32
	Weights    []spectrum.Band // by column: the dials under which Goal is wanted
	Goal       unit.Stop       // standard error wanted of each receiver's total under Weights
	Floor      float64         // lx, beside which a total is small enough for its error to be held against this instead
	LayerGoal  unit.Stop       // the same of each source's part, where that is LayerShare of the total or more; 0: not asked
	LayerShare float64
	MostPaths  int // a receiver's paths end here at the latest
	Progress   func(share float64)
	Keep       int     // how many walks of each batch are kept for Layers.Moved
	Like       *Layers // kept before, of a scene much like this one: what still stands there is not built anew

	Plain bool // no light paths: the reference that tests and benchmarks hold the engine against

	plainRays bool // the kernel that any machine can run, to compare with
}

// firstPaths is how many paths a batch starts with: enough for its scatter to be trusted by the stopping rule.
const firstPaths = 8

// Trace returns the layers at every receiver of the scene. Lamps and daylight are traced apart, in batches whose number
// of paths doubles where more is wanted: of each receiver that is not sure enough, the pass whose doubling gains most,
// and those of layers that are not. The digits depend on the scene and the seed, never on the number of cores. The only
// error is the context's.
func Trace(ctx context.Context, s *scene.Scene, q Request) (*Layers, error) {
	w := newWorld(s, q.Like.world())
	if q.plainRays {
		w.blocking.tree, w.passing.tree = w.blocking.tree.Plain(), w.passing.tree.Plain()
	}
	run := &run{world: w, request: &q, passes: w.passes(), layers: &Layers{Points: make([]Point, len(s.Receivers))}}
	if q.Keep > 0 {
		run.layers.kept = &kept{w, q.Seed, make([][Batches][]visits, len(s.Receivers))}
	}
	run.sources = sourcesOf(s)
	for _, p := range run.passes {
		run.states = append(run.states, newStates(s, p))
	}
	for {
		if err := run.round(ctx); err != nil {
			return nil, err
		}
		left := run.plan()
		if q.Progress != nil {
			q.Progress(1 - float64(left)/float64(max(1, len(s.Receivers))))
		}
		if left == 0 {
			return run.layers, nil
		}
	}
}

// run is one call of Trace under way.
type run struct {
	*world
	request *Request
	passes  []pass
	sources []source
	states  [][]state // by pass and receiver
	layers  *Layers
}

// source is the columns of all emitters of one name to the crew, which are of one kind: a lamp, a sky in patches.
type source struct {
	first   *scene.Emitter
	columns []int
}

func sourcesOf(s *scene.Scene) (sources []source) {
	number := map[string]int{}
	for i := range s.Emitters {
		e := &s.Emitters[i]
		n, known := number[e.Source]
		if !known || sources[n].first.Kind != e.Kind || e.Source == "" {
			n = len(sources)
			number[e.Source] = n
			sources = append(sources, source{first: e})
		}
		sources[n].columns = append(sources[n].columns, s.ColumnsOf(i)...)
	}
	return sources
}

// state is what one pass has traced from one receiver.
type state struct {
	tallies [Batches]*tally
	paths   int // of a batch
	wanted  int // of a batch, in the coming round
}

func newStates(s *scene.Scene, p pass) []state {
	states := make([]state, len(s.Receivers))
	for i := range states {
		for b := range states[i].tallies {
			states[i].tallies[b] = newTally(s)
		}
		states[i].wanted = firstPaths
	}
	return states
}

// passes returns what there is to trace: lamps, daylight or both.
func (w *world) passes() (p []pass) {
	if w.near > 0 || len(w.domes)+len(w.suns) == 0 {
		p = append(p, pass{first: 0, last: w.near, close: true})
	}
	if len(w.domes)+len(w.suns) > 0 {
		far := pass{first: w.near, last: len(w.lamps), far: true}
		far.close = len(p) == 0 // ambient from everywhere belongs to some pass
		p = append(p, far)
	}
	return p
}

// all is the pass that traces everything at once.
func (w *world) all() pass { return pass{last: len(w.lamps), close: true, far: true} }

// covering returns the numbers of the pass's lamps and skylights.
func (p *pass) covering() []int {
	all := make([]int, p.last-p.first)
	for i := range all {
		all[i] = p.first + i
	}
	return all
}

// covers reports whether an emitter is traced by the pass.
func (p *pass) covers(e *scene.Emitter) bool {
	if e.Kind == scene.Sky || e.Kind == scene.Sun {
		return p.far
	}
	return p.close
}

// cost is about what a path of the pass costs, for choosing between passes; only the proportion matters.
func (p *pass) cost() float64 { return 1 + 2*float64(p.last-p.first) }

// round traces what is wanted, level by level: receivers that go from as many paths to as many share light paths.
func (r *run) round(ctx context.Context) error {
	for n := range r.passes {
		for from := 0; ; from = max(firstPaths, 2*from) {
			var who []int
			more := false
			for i := range r.states[n] {
				st := &r.states[n][i]
				if st.paths == from && st.wanted > from {
					who = append(who, i)
				}
				more = more || st.paths > from && st.wanted > st.paths
			}
			if err := r.level(ctx, n, who, from); err != nil {
				return err
			}
			if !more {
				break
			}
		}
	}
	return ctx.Err()
}

// level brings some receivers of a pass from as many paths a batch to what they want, which is the same for all of them.
func (r *run) level(ctx context.Context, n int, who []int, from int) error {
	if len(who) == 0 {
		return nil
	}
	to := r.states[n][who[0]].wanted
	for ; from < to; from += mostLight {
		if err := r.stretch(ctx, n, who, from, min(to, from+mostLight)); err != nil {
			return err
		}
	}
	for _, i := range who {
		r.states[n][i].paths = to
	}
	return nil
}

// mostLight is how many light paths of a lamp are kept at once in a batch: about 10 MB a lamp in all.
const mostLight = 512

// stretch is level for a number of paths that memory can hold light paths for.
func (r *run) stretch(ctx context.Context, n int, who []int, from, to int) error {
	p := &r.passes[n]
	var caches [Batches]*cache
	if !r.request.Plain {
		var err error
		if caches, err = r.lightPaths(ctx, p, p.covering(), r.request.Seed, from, to); err != nil {
			return err
		}
	}
	return parallel(ctx, len(who)*Batches, func(job int) {
		i, b := who[job/Batches], job%Batches
		receiver := &r.scene.Receivers[i]
		stream := numeric.Hash(numeric.HashText(r.request.Seed, receiver.Name), uint32(b)+uint32(n)<<8)
		t := &tracer{world: r.world, pass: r.passes[n], tally: r.states[n][i].tallies[b], cache: caches[b]}
		for t.tally.paths < to {
			t.trace(receiver, numeric.Path(stream, uint32(t.tally.paths)))
			if t.close && t.tally.paths <= r.request.Keep {
				r.layers.kept.keep(i, b, &t.visits)
			}
		}
	})
}

// plan sums up every receiver, marks what the next round is to double, and returns how many receivers want more.
func (r *run) plan() (left int) {
	for i := range r.scene.Receivers {
		p := r.summarise(i)
		r.layers.Points[i] = p
		want := r.request.wants(r, i, &p)
		more := false
		for n := range r.passes {
			st := &r.states[n][i]
			if want[n] && 2*st.paths*Batches <= r.request.MostPaths {
				st.wanted = 2 * st.paths
				more = true
			}
		}
		if more {
			left++
		}
	}
	return left
}

// wants returns the passes that a receiver needs more of.
func (q *Request) wants(r *run, receiver int, p *Point) []bool {
	want := make([]bool, len(r.passes))
	level, stderr := p.Level(q.Weights)
	floor := q.floorAt(&r.scene.Receivers[receiver])
	if level > 0 && StopError(level+floor, stderr) > q.Goal {
		want[r.best(receiver, p)] = true
	}
	for _, source := range r.sources {
		if !q.partIsSure(p, level, floor, source.columns) {
			for n := range r.passes {
				want[n] = want[n] || r.passes[n].covers(source.first)
			}
		}
	}
	return want
}

// floorAt is Floor as a receiver reads it: of it a spot sees what a grey card hands on.
func (q *Request) floorAt(r *scene.Receiver) float64 {
	if r.Kind == scene.Spot {
		return q.Floor * float64(exposure.MidGrey) / math.Pi
	}
	return q.Floor
}

// partIsSure reports whether an emitter's part of a level is inside the goal for parts, where there is one for it.
func (q *Request) partIsSure(p *Point, level, floor float64, columns []int) bool {
	if q.LayerGoal == 0 {
		return true
	}
	part, stderr := p.LevelOf(q.Weights, columns...)
	return part <= 0 || part < q.LayerShare*level || StopError(part+floor, stderr) <= q.LayerGoal
}

// best returns the pass whose doubling takes most from the variance of a receiver's total for what it costs, among those
// that may still be doubled.
func (r *run) best(receiver int, p *Point) (best int) {
	most := -1.0
	for n := range r.passes {
		var columns []int
		for e := range r.scene.Emitters {
			if r.passes[n].covers(&r.scene.Emitters[e]) {
				columns = append(columns, r.scene.ColumnsOf(e)...)
			}
		}
		_, stderr := p.LevelOf(r.request.Weights, columns...)
		paths := r.states[n][receiver].paths
		gain := stderr * stderr / (r.passes[n].cost() * float64(paths))
		if gain > most && 2*paths*Batches <= r.request.MostPaths {
			best, most = n, gain
		}
	}
	return best
}

// lightPaths sends as many light paths from each of the given lamps as the round will trace from each receiver, for each batch its
// own, so that batches stay independent.
func (w *world) lightPaths(ctx context.Context, p *pass, lamps []int, seed uint32, from, to int) (caches [Batches]*cache, err error) {
	err = parallel(ctx, Batches, func(b int) {
		c := &cache{vertices: make([][]lightVertex, len(w.lamps)), paths: to - from}
		t := &tracer{world: w, pass: *p, cache: c}
		for _, l := range lamps {
			stream := numeric.Hash(numeric.HashText(seed, w.lamps[l].Name), uint32(b)+lightStream)
			for i := from; i < to; i++ {
				t.shine(l, numeric.Path(stream, uint32(i)))
			}
		}
		caches[b] = c
	})
	return caches, err
}

// lightStream keeps the streams of light paths apart from those of a receiver that bears a lamp's name.
const lightStream = 1 << 16

// parallel does jobs 0 to n−1 on all cores. It returns the context's error once that is cancelled.
func parallel(ctx context.Context, n int, do func(job int)) error {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			for ctx.Err() == nil {
				job := int(next.Add(1)) - 1
				if job >= n {
					return
				}
				do(job)
			}
		})
	}
	group.Wait()
	return ctx.Err()
}

// summarise turns a receiver's sums into means. Each column belongs to one pass.
func (r *run) summarise(receiver int) Point {
	s := r.scene
	p := Point{
		Response: make([]spectrum.Band, s.Columns()),
		Direct:   make([]spectrum.Band, s.Columns()),
		Via:      make([][]float64, len(s.Emitters)),
	}
	for b := range p.batches {
		p.batches[b] = make([]spectrum.Band, s.Columns())
	}
	for e := range p.Via {
		p.Via[e] = make([]float64, len(s.Cloths))
	}
	for n := range r.passes {
		st := &r.states[n][receiver]
		p.Paths += st.paths * Batches
		for b, t := range st.tallies {
			for c := range p.Response {
				p.book(b, c, t, st.paths)
			}
			for e := range p.Via {
				p.bookVia(e, t, st.paths, len(s.Cloths))
			}
		}
	}
	return p
}
