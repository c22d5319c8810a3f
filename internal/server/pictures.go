package server

import (
	"bytes"
	"context"
	"image"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/picture"
	"gloam/internal/pipeline"
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
	Name string `query:"name" doc:"of the picture; the latest if not given"`
}

type layerQuery struct {
	PictureQuery
	Layer int `query:"layer" minimum:"0" doc:"counted from 0"`
}

type stopsQuery struct {
	PictureQuery
	Stops bool `query:"stops" doc:"a map of stops over grey instead of the picture"`
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
}

func (s *Server) pictureAPI(api huma.API) {
	huma.Register(api, operation(api, "layer", http.MethodGet, "/api/picture/layer",
		"A layer's bands as two textures of four halves a pixel, little-endian, rows from the top"),
		func(_ context.Context, in *layerQuery) (*bytesReply, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			if in.Layer >= len(p.Image.Layers) {
				return nil, notThere("the picture has no such layer", "")
			}
			return &bytesReply{"application/octet-stream", halves(&p.Image.Layers[in.Layer])}, nil
		})
	huma.Register(api, operation(api, "screen", http.MethodGet, "/api/picture/screen", "The picture as a screen shows it, or its map of stops, as PNG"),
		func(_ context.Context, in *stopsQuery) (*bytesReply, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			var b bytes.Buffer
			if in.Stops {
				err = picture.WritePNG(&b, picture.Stops(p.Composite, p.Setup.Camera, noiseFloor, clip), 8)
			} else {
				err = picture.WritePNG(&b, screen(p), 8)
			}
			return &bytesReply{"image/png", b.Bytes()}, err
		})
	huma.Register(api, operation(api, "probe", http.MethodGet, "/api/picture/probe", "One pixel, as a spot meter would read it: the engine's value"),
		func(_ context.Context, in *probeQuery) (*struct{ Body Probed }, error) {
			p, err := s.picture(&in.PictureQuery)
			if err != nil {
				return nil, err
			}
			if in.X >= p.Composite.Width || in.Y >= p.Composite.Height {
				return nil, notThere("the pixel lies outside the picture", "")
			}
			r := p.Composite.Probe(in.X, in.Y, p.Setup.Camera)
			reply := &struct{ Body Probed }{Probed{Luminance: r.Luminance, Equivalent: r.Reflectance}}
			if r.Luminance > 0 {
				reply.Body.OverGrey = &r.OverGrey
			}
			return reply, nil
		})
}

// screen returns the picture as gloam picture writes it.
func screen(p *pipeline.Picture) image.Image {
	camera := picture.Camera{Camera: p.Setup.Camera, Balance: p.Setup.Balance, Tint: p.Setup.Tint}
	return picture.Display(picture.Compose(p.Image, p.Recorded), camera)
}

// picture returns a picture that somebody looks at.
func (s *Server) picture(in *PictureQuery) (*pipeline.Picture, error) {
	_, file, err := s.folder.desk(in.Plan)
	if err != nil {
		return nil, err
	}
	l := s.looked(loopKey{file, in.Setup, in.Picture})
	if l == nil || in.Picture == 0 {
		return nil, notThere("nobody looks at this picture", in.Plan)
	}
	return l.work.(*gallery).find(in.Name)
}
