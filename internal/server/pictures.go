package server

import (
	"bytes"
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"gloam/internal/picture"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// Where a camera drowns and clips on the map, in stops over grey, until the plan can say (common practice, no source).
const (
	noiseFloor unit.Stop = -6
	clip       unit.Stop = 6
)

// PictureQuery names a picture that a page looks at.
type PictureQuery struct {
	StreamQuery
	At   string `query:"at" maxLength:"16" doc:"another time of day, on the plan's clock; for daylight by the model"`
	Name string `query:"name" doc:"of the picture; the latest if not given"`
}

type layerQuery struct {
	PictureQuery
	Version string `query:"version" doc:"of the layer"`
}

type stopsQuery struct {
	PictureQuery
	Stops bool `query:"stops" doc:"a map of stops over grey instead of the picture"`
}

type fileQuery struct {
	PictureQuery
	Stops bool   `query:"stops" doc:"the map of stops"`
	Kind  string `query:"kind" enum:"png,exr"`
}

type streamQuery struct {
	PictureQuery
	Instead string `query:"instead" maxLength:"16" doc:"an hour that is no longer looked at: what does not change with the hour is kept from its picture"`
}

type probeQuery struct {
	PictureQuery
	X int `query:"x" minimum:"0"`
	Y int `query:"y" minimum:"0" doc:"from the top"`
}

type bytesReply struct {
	Type string `header:"Content-Type"`
	Body []byte
}

// Probed is what a spot meter would say of one pixel; dark has no stops.
type Probed struct {
	Luminance  unit.Nit      `json:"luminance_cd_m2"`
	OverGrey   *unit.Stop    `json:"over_grey_stops"`
	Equivalent unit.Fraction `json:"reflectance_at_key"`
	Printed    string        `json:"printed" doc:"as it is read out"`
}

// Tables is how a page shows what it has composed; it is the same for all pictures.
type Tables struct {
	Luminance [3]float64 `json:"luminance" doc:"shares of linear sRGB in the luminance: what lies outside the gamut is mixed with grey of its own"`
	Most      float64    `json:"most" doc:"the greatest component at the end of shown"`
	Shown     []float32  `json:"shown" doc:"what it becomes, for 0 to most in even steps; the others follow in proportion"`
	Encoded   []float32  `json:"encoded" doc:"for 0 to 1 in even steps: what the screen is given, by component"`
}

// NumberDrawn is a number on the map of stops, in pixels of the picture.
type NumberDrawn struct {
	X     int    `json:"x"`
	Y     int    `json:"y"`
	Text  string `json:"text"`
	White bool   `json:"white"`
}

func (s *Server) pictureAPI(api huma.API) {
	s.pictureFilesAPI(api)
	sse.Register(api, operation(api, "picture-stream", http.MethodGet, "/api/picture/stream", "The picture at another time of day, as it sharpens"),
		map[string]any{pictureKind: PictureEvent{}, noPictureKind: NoPictureEvent{}}, s.pictureStream)
	huma.Register(api, operation(api, "tables", http.MethodGet, "/api/picture/tables", "How a composed picture is shown"),
		func(context.Context, *struct{}) (*struct{ Body Tables }, error) {
			t := picture.ScreenTones()
			return &struct{ Body Tables }{Tables{t.Luminance, t.Most, t.Shown, t.Encoded}}, nil
		})
	huma.Register(api, operation(api, "numbers", http.MethodGet, "/api/picture/numbers", "The numbers that the map of stops bears"),
		func(_ context.Context, in *PictureQuery) (*struct{ Body []NumberDrawn }, error) {
			p, err := s.picture(in)
			if err != nil {
				return nil, err
			}
			reply := &struct{ Body []NumberDrawn }{[]NumberDrawn{}}
			for _, n := range picture.Numbers(p.seen(), p.Setup.Camera, noiseFloor, clip) {
				reply.Body = append(reply.Body, NumberDrawn{n.X, n.Y, n.Text, n.White})
			}
			return reply, nil
		})
	huma.Register(api, operation(api, "probe", http.MethodGet, "/api/picture/probe", "One pixel, as a spot meter would read it: the engine's value"),
		func(_ context.Context, in *probeQuery) (*struct{ Body Probed }, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			if in.X >= p.Image.Width || in.Y >= p.Image.Height {
				return nil, notThere("the pixel lies outside the picture", "")
			}
			r := p.seen().Probe(in.X, in.Y, p.Setup.Camera)
			probed := Probed{Luminance: r.Luminance, Equivalent: r.Reflectance, Printed: "dark"}
			if r.Luminance > 0 {
				probed.OverGrey = &r.OverGrey
				probed.Printed = r.String()
			}
			return &struct{ Body Probed }{probed}, nil
		})
}

// pictureFilesAPI hands out pixels.
func (s *Server) pictureFilesAPI(api huma.API) {
	huma.Register(api, operation(api, "layer", http.MethodGet, "/api/picture/layer",
		"A layer's bands as two textures of four halves a pixel, little-endian, rows from the top"),
		func(_ context.Context, in *layerQuery) (*bytesReply, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			for i, v := range p.versions {
				if v == in.Version {
					return &bytesReply{"application/octet-stream", halves(&p.Image.Layers[i])}, nil
				}
			}
			return nil, notThere("the picture has no such layer any more", "")
		})
	huma.Register(api, operation(api, "screen", http.MethodGet, "/api/picture/screen", "The picture as a screen shows it, or its map of stops, as PNG"),
		func(_ context.Context, in *stopsQuery) (*bytesReply, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			var b bytes.Buffer
			if in.Stops {
				err = picture.WritePNG(&b, picture.Stops(p.seen(), p.Setup.Camera, noiseFloor, clip), 8)
			} else {
				err = picture.WritePNG(&b, picture.Display(p.Recording(), p.Camera()), 8)
			}
			return &bytesReply{"image/png", b.Bytes()}, err
		})
	huma.Register(api, operation(api, "picture-file", http.MethodGet, "/api/picture/file", "The picture as gloam picture writes it"),
		func(_ context.Context, in *fileQuery) (*bytesReply, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			var b bytes.Buffer
			if in.Kind == "exr" {
				err = p.WriteEXR(&b)
				return &bytesReply{"image/x-exr", b.Bytes()}, err
			}
			err = p.WritePNG(&b, in.Stops, noiseFloor, clip)
			return &bytesReply{"image/png", b.Bytes()}, err
		})
}

// pictureStream sends the pictures of another hour.
func (s *Server) pictureStream(ctx context.Context, in *streamQuery, send sse.Sender) {
	d, file, err := s.folder.desk(in.Plan)
	if err != nil || in.Picture == 0 {
		return
	}
	read, leave := s.sheetOf(d, file, in.Setup)
	defer leave()
	if read == nil {
		return
	}
	key := loopKey{file: file, setup: in.Setup, width: in.Picture, at: in.At}
	if in.Instead != "" && in.At != "" {
		before := key
		before.at = in.Instead
		s.turn(before, key)
	}
	drawn, close := s.galleryOf(d, key, read.board)
	defer close()
	if drawn == nil {
		return
	}
	for seen := 0; ; {
		events, n, news := drawn.board.since(seen)
		seen = n
		for _, e := range events {
			if send.Data(e) != nil {
				return
			}
		}
		select {
		case <-ctx.Done():
			return
		case <-news:
		}
	}
}

// galleryOf joins the loop that draws a set-up's pictures.
func (s *Server) galleryOf(d *desk.Desk, key loopKey, readings *board) (*loop, func()) {
	return s.join(key, d, func() worker {
		return &gallery{folder: s.folder, id: newToken()[:8], file: key.file, setup: key.setup, at: key.at, width: key.width, readings: readings}
	})
}

// picture returns a picture that somebody looks at.
func (s *Server) picture(in *PictureQuery) (*hung, error) {
	_, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return nil, err
	}
	l := s.looked(loopKey{file: file, setup: in.Setup, width: in.Picture, at: in.At})
	if l == nil || in.Picture == 0 {
		return nil, notThere("nobody looks at this picture", in.Plan)
	}
	return l.work.(*gallery).find(in.Name)
}
