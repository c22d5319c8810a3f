package transport

import (
	"context"

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
