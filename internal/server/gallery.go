package server

import (
	"context"
	"fmt"
	"sync"

	"gloam/internal/fault"
	"gloam/internal/picture"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// NoPictureEvent says why a revision has no picture.
type NoPictureEvent struct {
	Revision int        `json:"revision"`
	Faults   fault.List `json:"faults"`
}

const noPictureKind = "no-picture"

// pictureSamples is paths a pixel of a final picture.
const pictureSamples = 64

// gallery draws the pictures of one set-up at one width, at its own hour or another.
type gallery struct {
	folder      *folder
	id          string // tells its layers from those of any other
	file, setup string
	width       int
	readings    *board
	session     pipeline.PictureSession

	mu     sync.Mutex
	at     string // "": its own hour
	last   *hung
	recent []*hung // for those who still ask about one when the next is there; the last is last
}

// mostRecent is how many pictures are kept for that: most of their layers are the same.
const mostRecent = 2

// hung is a picture that can be asked about.
type hung struct {
	*pipeline.Picture
	name     string
	number   int
	versions []string // by layer
	count    int      // of versions so far
	seen     func() *picture.Composite
}

// run draws one revision: a draft, and once its readings are final, ever better pictures; the readings are what a hand at a
// dial waits for first.
func (g *gallery) run(ctx context.Context, state desk.State, b *board, shown func()) {
	at := g.hour()
	view, err := g.view(state.Text, at)
	if err != nil {
		if at != "" { // what is wrong with the plan the readings tell
			b.post(noPictureKind, NoPictureEvent{state.Revision, fault.Of(err, fault.Call)})
		}
		return
	}
	if g.last == nil && !g.settled(ctx, state.Revision) {
		return
	}
	o := pipeline.PictureOptions{Options: pipeline.Defaults(), Width: g.width, Samples: pictureSamples}
	drawn, err := g.session.Draft(ctx, view, o)
	if err != nil {
		if ctx.Err() == nil {
			b.post(noPictureKind, NoPictureEvent{state.Revision, fault.Of(err, fault.Unfinished)})
		}
		return
	}
	post := func(p *pipeline.Picture) { b.post(pictureKind, g.hang(p, view, at, state.Revision)) }
	post(drawn)
	shown()
	if g.settled(ctx, state.Revision) {
		g.session.Sharpen(ctx, o, post) // the error is that something newer is to be drawn
	}
}

func (g *gallery) hour() string {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.at
}

// turn changes the hour of what is drawn next.
func (g *gallery) turn(at string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.at = at
}

// view reads the set-up at an hour.
func (g *gallery) view(text, at string) (view *plan.View, err error) {
	p, faults := g.folder.read(g.file, text)
	if p == nil {
		return nil, faults.Err()
	}
	name := g.setup
	if name == "" {
		name = p.Setups()[0]
	}
	view, faults = p.Setup(name)
	if err := faults.Err(); err != nil || at == "" {
		return view, err
	}
	var clock unit.Clock
	if err := clock.Parse(at); err != nil {
		return nil, fault.Fault{Kind: fault.Call, Path: "at", Text: err.Error(), Read: at, Allowed: clock.Forms()}
	}
	return view.At(clock)
}

// settled waits for the final readings of a revision; false where there will be none.
func (g *gallery) settled(ctx context.Context, revision int) bool {
	for {
		said, news := g.readings.get(faultsKind)
		if e, ok := said.(FaultsEvent); ok && e.Revision >= revision {
			return e.Revision == revision && len(e.Faults) == 0
		}
		select {
		case <-ctx.Done():
			return false
		case <-news:
		}
	}
}

// hang keeps a picture for those who ask about it, and says what it is.
func (g *gallery) hang(p *pipeline.Picture, view *plan.View, at string, revision int) PictureEvent {
	g.mu.Lock()
	defer g.mu.Unlock()
	h := &hung{Picture: p, number: 1, seen: sync.OnceValue(p.Seen)}
	if g.last != nil {
		h.number, h.count = g.last.number+1, g.last.count
	}
	h.name = fmt.Sprintf("%d-%d", revision, h.number)
	for i := range p.Image.Layers {
		version := g.last.versionOf(&p.Image.Layers[i])
		if version == "" {
			h.count++
			version = fmt.Sprintf("%s-%d", g.id, h.count)
		}
		h.versions = append(h.versions, version)
	}
	g.last = h
	g.recent = append(g.recent[max(0, len(g.recent)+1-mostRecent):len(g.recent):len(g.recent)], h)
	e := PictureEvent{Revision: revision, At: at, Picture: h.name, Width: p.Image.Width, Height: p.Image.Height, Samples: p.Image.Samples,
		Final: p.Final, Layers: []LayerEvent{}, Dials: dialsOf(p, view), Key: keyOf(), Lines: linesOf(p.Image.Width, p.Image.Height), InShot: p.InShot}
	h.layers(&e)
	return e
}

// versionOf returns the version of a layer with the same pixels, none if there is no such.
func (h *hung) versionOf(l *transport.ImageLayer) string {
	if h != nil {
		for i := range h.Image.Layers {
			if &h.Image.Layers[i].Pixels[0] == &l.Pixels[0] {
				return h.versions[i]
			}
		}
	}
	return ""
}

// find returns a recent picture by its name, or the last.
func (g *gallery) find(name string) (*hung, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for _, h := range g.recent {
		if name == h.name || name == "" && h == g.last {
			return h, nil
		}
	}
	return nil, notThere("there is no such picture any more", name)
}
