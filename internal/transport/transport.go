// Package transport finds what each emitter does at each receiver: the layers.
//
// Light is traced from the receivers by unbiased path tracing in spectral bands; every emitter is looked at from every
// turn of every path, so that all layers come from one set of paths. Surfaces are matt, mirror, clear glass or cloth;
// there is no gloss, no refraction offset, no fluorescence, no wave effect, and emitters cast no shadow of their own.
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
	LayerGoal  unit.Stop       // the same of each emitter's part, where that is LayerShare of the total or more; 0: not asked
	LayerShare float64
	MostPaths  int // a receiver's paths end here at the latest
	Progress   func(share float64)

	Plain bool // no light paths: the reference that tests and benchmarks hold the engine against
}

// firstPaths is how many paths a batch starts with: enough for its scatter to be trusted by the stopping rule.
const firstPaths = 32

// Trace returns the layers at every receiver of the scene. Batches are traced in rounds that double; a receiver whose
// total is sure enough, or which gets no light, is left alone. The digits depend on the scene and the seed, never on
// the number of cores. The only error is the context's.
func Trace(ctx context.Context, s *scene.Scene, q Request) (*Layers, error) {
	w := newWorld(s)
	state := make([][Batches]*tally, len(s.Receivers))
	wanting := make([]int, len(s.Receivers))
	for i := range state {
		wanting[i] = i
		for b := range state[i] {
			state[i][b] = newTally(s)
		}
	}
	out := &Layers{Points: make([]Point, len(s.Receivers))}
	for from, n := 0, firstPaths; len(wanting) > 0; from, n = n, 2*n {
		var caches [Batches]*cache
		if !q.Plain {
			var err error
			if caches, err = w.lightPaths(ctx, q.Seed, from, n); err != nil {
				return nil, err
			}
		}
		if err := w.round(ctx, q.Seed, wanting, state, caches, n); err != nil {
			return nil, err
		}
		var still []int
		for _, i := range wanting {
			out.Points[i] = summarise(s, &state[i])
			if !q.sure(s, i, &out.Points[i]) && 2*n*Batches <= q.MostPaths {
				still = append(still, i)
			}
		}
		wanting = still
		if q.Progress != nil {
			q.Progress(1 - float64(len(wanting))/float64(len(s.Receivers)))
		}
	}
	return out, nil
}

// sure reports whether all that is wanted of a receiver is as sure as wanted. A point that gets no light is.
func (q *Request) sure(s *scene.Scene, receiver int, p *Point) bool {
	level, stderr := p.Level(q.Weights)
	floor := q.Floor
	if s.Receivers[receiver].Kind == scene.Spot { // what a grey card hands on of it
		floor *= float64(exposure.MidGrey) / math.Pi
	}
	if level > 0 && StopError(level+floor, stderr) > q.Goal {
		return false
	}
	if q.LayerGoal == 0 {
		return true
	}
	for e := range s.Emitters {
		part, stderr := p.LevelOf(q.Weights, s.ColumnsOf(e)...)
		if part > 0 && part >= q.LayerShare*level && StopError(part+floor, stderr) > q.LayerGoal {
			return false
		}
	}
	return true
}

// lightPaths sends as many light paths from every lamp as the round will trace from each receiver, for each batch its
// own, so that batches stay independent.
func (w *world) lightPaths(ctx context.Context, seed uint32, from, to int) (caches [Batches]*cache, err error) {
	err = parallel(ctx, Batches, func(b int) {
		c := &cache{vertices: make([][]lightVertex, len(w.lamps)), paths: to - from}
		t := &tracer{world: w, cache: c}
		for l := range w.lamps {
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

// round brings every batch of the wanted receivers to n paths. Each batch belongs to one worker at a time and draws
// from its own stream, so that the order of work leaves no trace.
func (w *world) round(ctx context.Context, seed uint32, wanted []int, state [][Batches]*tally, caches [Batches]*cache, n int) error {
	return parallel(ctx, len(wanted)*Batches, func(job int) {
		i, b := wanted[job/Batches], job%Batches
		r := &w.scene.Receivers[i]
		stream := numeric.Hash(numeric.HashText(seed, r.Name), uint32(b))
		t := &tracer{world: w, tally: state[i][b], cache: caches[b]}
		for t.tally.paths < n {
			t.trace(r, numeric.Path(stream, uint32(t.tally.paths)))
		}
	})
}

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

// summarise turns sums into means.
func summarise(s *scene.Scene, tallies *[Batches]*tally) Point {
	p := Point{
		Response: make([]spectrum.Band, s.Columns()),
		Direct:   make([]spectrum.Band, s.Columns()),
		Via:      make([][]float64, len(s.Emitters)),
	}
	for e := range p.Via {
		p.Via[e] = make([]float64, len(s.Cloths))
	}
	for b, t := range tallies {
		p.Paths += t.paths
		each := 1 / float64(t.paths)
		p.batches[b] = make([]spectrum.Band, s.Columns())
		for c := range p.Response {
			for k := range p.Response[c] {
				x := t.response[c][k] * each
				p.batches[b][c][k] = x
				p.Response[c][k] += x / Batches
				p.Direct[c][k] += t.direct[c][k] * each / Batches
			}
		}
		for i, x := range t.via {
			p.Via[i/len(s.Cloths)][i%len(s.Cloths)] += x * each / Batches
		}
	}
	return p
}
