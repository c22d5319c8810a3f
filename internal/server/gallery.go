package server

import (
	"context"
	"fmt"
	"math"
	"sync"

	"gloam/internal/picture"
	"gloam/internal/pipeline"
	"gloam/internal/server/desk"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// PictureEvent is what the camera sees, layer by layer: a page adds the layers up under their weights. A layer's
// response in a band, times the weight of that band, is its part of X, Y or Z in cd/m².
type PictureEvent struct {
	Revision int          `json:"revision"`
	Picture  string       `json:"picture" doc:"names it in the calls that fetch its layers"`
	Width    int          `json:"width"`
	Height   int          `json:"height"`
	Samples  int          `json:"samples" doc:"paths a pixel; more come until the last"`
	Final    bool         `json:"final"`
	Bands    int          `json:"bands"`
	Layers   []LayerEvent `json:"layers"`
}

// LayerEvent is one layer: what to multiply its halves by to get responses, and its weights for X, Y, Z by band.
type LayerEvent struct {
	Name     string           `json:"name"`
	Source   string           `json:"source"`
	Scale    float64          `json:"scale"`
	Weights  [3]spectrum.Band `json:"weights" doc:"to the eye: levels and stops, Y in cd/m²"`
	Recorded [3]spectrum.Band `json:"recorded" doc:"to the camera under its balance: what is shown"`
}

// rounds are the pictures sent one after the other: a small one at once, then ever more paths a pixel.
var rounds = []struct{ divide, samples int }{{4, 4}, {1, 4}, {1, 16}, {1, 64}}

// gallery draws the pictures of one set-up at one width.
type gallery struct {
	folder      *folder
	file, setup string
	width       int
	readings    *board

	mu   sync.Mutex
	name string
	last *pipeline.Picture
}

// run draws one revision, once its readings are final: they are what a hand at a dial waits for.
func (g *gallery) run(ctx context.Context, state desk.State, b *board) {
	if !g.settled(ctx, state.Revision) {
		return
	}
	p, _ := g.folder.read(g.file, state.Text)
	if p == nil {
		return
	}
	name := g.setup
	if name == "" {
		name = p.Setups()[0]
	}
	view, faults := p.Setup(name)
	if faults.Err() != nil {
		return
	}
	for i, r := range rounds {
		drawn, err := pipeline.Draw(ctx, view, pipeline.PictureOptions{Options: pipeline.Defaults(), Width: max(1, g.width/r.divide), Samples: r.samples})
		if err != nil {
			return // without a camera there is no picture; what else is wrong the readings tell
		}
		b.post(pictureKind, g.hang(drawn, state.Revision, r.samples, i == len(rounds)-1))
	}
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

// hang keeps a picture for those who fetch its layers, and says what it is.
func (g *gallery) hang(p *pipeline.Picture, revision, samples int, final bool) PictureEvent {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.name, g.last = fmt.Sprintf("%d-%d-%d", revision, p.Image.Width, samples), p
	e := PictureEvent{revision, g.name, p.Image.Width, p.Image.Height, samples, final, spectrum.Bands, []LayerEvent{}}
	for i := range p.Image.Layers {
		l := &p.Image.Layers[i]
		e.Layers = append(e.Layers, LayerEvent{l.Name, sourceOf(p, l.Column), scaleOf(l),
			of(&p.Weights, l.Column), of(&p.Recorded, l.Column)})
	}
	return e
}

// of returns the weights of one column.
func of(w *picture.Weights, column int) [3]spectrum.Band {
	return [3]spectrum.Band{w.X[column], w.Y[column], w.Z[column]}
}

func sourceOf(p *pipeline.Picture, column int) string {
	for i := range p.Setup.Scene.Emitters {
		for _, c := range p.Setup.Scene.ColumnsOf(i) {
			if c == column {
				return p.Setup.Scene.Emitters[i].Source
			}
		}
	}
	panic("server: a layer of no emitter")
}

// brightest is what a layer's brightest pixel becomes as a half: 28 stops above the least.
const brightest = 1 << 14

func scaleOf(l *transport.ImageLayer) float64 {
	most := float32(0)
	for i := range l.Pixels {
		for _, x := range l.Pixels[i] {
			most = max(most, x)
		}
	}
	if !(most > 0) || math.IsInf(float64(most), 0) {
		return 1
	}
	return float64(most) / brightest
}

// halves returns a layer as textures of four halves a pixel, little-endian, rows from the top: bands 1 to 4, then 5 to 8.
func halves(l *transport.ImageLayer) []byte {
	const texture = 4
	scale := float32(1 / scaleOf(l))
	out := make([]byte, 0, len(l.Pixels)*spectrum.Bands*2)
	for first := 0; first < spectrum.Bands; first += texture {
		for i := range l.Pixels {
			for _, x := range l.Pixels[i][first : first+texture] {
				h := halfOf(x * scale)
				out = append(out, byte(h), byte(h>>8))
			}
		}
	}
	return out
}

// find returns the picture of a name.
func (g *gallery) find(name string) (*pipeline.Picture, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.last == nil || name != "" && name != g.name {
		return nil, notThere("there is no such picture any more", name)
	}
	return g.last, nil
}
