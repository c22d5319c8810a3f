package server

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/server/desk"
)

// StreamQuery names what a page looks at.
type StreamQuery struct {
	PlanQuery
	Setup   string `query:"setup" doc:"set-up by name; the first if not given"`
	Picture int    `query:"picture" minimum:"0" maximum:"960" doc:"width of the picture streamed with it, in pixels; 0 for none"`
}

// AliveEvent is sent when there is nothing to say, so that both ends know that the other is there.
type AliveEvent struct{}

const aliveEvery = 15 * time.Second

type explainQuery struct {
	PlanQuery
	Setup string `query:"setup"`
	Point string `query:"point" required:"true"`
}

type explainReply struct{ Body meter.Explanation }

func (s *Server) streamAPI(api huma.API) {
	sse.Register(api, operation(api, "stream", http.MethodGet, "/api/stream", "A plan's set-up as it stands, and all that changes"),
		map[string]any{planKind: PlanEvent{}, faultsKind: FaultsEvent{}, drawingKind: Drawing{}, levelsKind: LevelsEvent{},
			progressKind: ProgressEvent{}, pictureKind: PictureEvent{}, noPictureKind: NoPictureEvent{}, aliveKind: AliveEvent{}}, s.stream)
	huma.Register(api, operation(api, "explain", http.MethodGet, "/api/explain", "The number of a point, opened: formulas, inputs, sources, doubts"),
		func(_ context.Context, in *explainQuery) (*explainReply, error) {
			_, file, err := s.folder.desk(in.Plan)
			if err != nil {
				return nil, err
			}
			if l := s.looked(loopKey{file: file, setup: in.Setup}); l != nil {
				if r := l.work.(*sheet).result(); r != nil {
					if e, ok := meter.Explain(r.Setup, r.Layers, in.Point); ok {
						return &explainReply{e}, nil
					}
				}
			}
			return nil, notThere("no such point has been read", in.Point)
		})
}

// looked returns a loop that somebody looks at, or nil.
func (s *Server) looked(key loopKey) *loop {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.loops[key]
}

// sheetOf joins the loop that reads a set-up.
func (s *Server) sheetOf(d *desk.Desk, file, setup string) (*loop, func()) {
	return s.join(loopKey{file: file, setup: setup}, d, func() worker {
		return &sheet{folder: s.folder, file: file, setup: setup}
	})
}

func (s *Server) stream(ctx context.Context, in *StreamQuery, send sse.Sender) {
	d, file, err := s.folder.desk(in.Plan)
	if err != nil {
		send.Data(faultsOf(0, err.(*Problem).Faults))
		return
	}
	read, leave := s.sheetOf(d, file, in.Setup)
	defer leave()
	if read == nil {
		send.Data(faultsOf(0, fault.List{{Kind: fault.Unfinished, Text: "too many set-ups are open", Hint: "close some of the windows"}}))
		return
	}
	drawn := &loop{board: newBoard()} // nobody posts there
	if in.Picture > 0 {
		pictures, close := s.galleryOf(d, loopKey{file: file, setup: in.Setup, width: in.Picture}, read.board)
		defer close()
		if pictures != nil {
			drawn = pictures
		}
	}
	alive := time.NewTicker(aliveEvery)
	defer alive.Stop()
	for readSeen, drawnSeen := 0, 0; ; {
		events, n, news := read.board.since(readSeen)
		pictures, m, newer := drawn.board.since(drawnSeen)
		readSeen, drawnSeen = n, m
		for _, e := range append(events, pictures...) {
			if send.Data(e) != nil {
				return
			}
		}
		select {
		case <-ctx.Done():
			return
		case <-news:
		case <-newer:
		case <-alive.C:
			if send.Data(AliveEvent{}) != nil {
				return
			}
		}
	}
}
