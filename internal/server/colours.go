package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/chart"
	"gloam/internal/colour"
	"gloam/internal/document"
	"gloam/internal/pipeline"
	"gloam/internal/server/desk"
)

// ColoursQuery names the set-up whose colours are asked for; somebody must have it open.
type ColoursQuery struct {
	PlanQuery
	Setup string `query:"setup"`
	Width int    `query:"width" minimum:"320" maximum:"2000" default:"760" doc:"of the charts"`
}

// Colours are a set-up's lights against the balance and in the chromaticity diagram, as gloam levels draws them.
type Colours struct {
	Lights       []string     `json:"lights" doc:"white ones, by name: sources, then points"`
	Mireds       ThemedCharts `json:"mireds"`
	Chromaticity ThemedCharts `json:"chromaticity"`
}

type coloursReply struct{ Body Colours }

type matchQuery struct {
	PlanQuery
	Setup string `query:"setup"`
	Lamp  string `query:"lamp" required:"true"`
	To    string `query:"to" required:"true" doc:"one of the lights"`
}

// Matched is how a lamp is set to match a light, in words and as an edit.
type Matched struct {
	Settings []MatchSetting `json:"settings"`
	Warning  string         `json:"warning"`
}

// MatchSetting is one setting: to the eye's match or to the camera's.
type MatchSetting struct {
	By     string      `json:"by"`
	Kelvin string      `json:"kelvin"`
	Eye    string      `json:"eye" doc:"how it then stands to the light, to the eye"`
	Camera string      `json:"camera" doc:"and in camera"`
	Change desk.Change `json:"change"`
}

type matchReply struct{ Body Matched }

func (s *Server) coloursAPI(api huma.API) {
	huma.Register(api, operation(api, "colours", http.MethodGet, "/api/colours", "The lights of a set-up: mired from balance, chromaticity"),
		func(_ context.Context, in *ColoursQuery) (*coloursReply, error) {
			r, _, err := s.read(in.Plan, in.Setup)
			if err != nil {
				return nil, err
			}
			out := Colours{Lights: []string{}}
			for _, w := range pipeline.Whites(&r.Levels) {
				if w.CCT != nil {
					out.Lights = append(out.Lights, w.Name)
				}
			}
			frame := chart.Frame{ID: "mireds", Title: "Mired from balance", Width: float64(in.Width), Height: 520}
			if err := out.Mireds.draw(frame, func(f chart.Frame) chart.Drawing { return pipeline.Mireds(r, f) }); err != nil {
				return nil, problem(err)
			}
			frame.ID, frame.Title = "chromaticity", "Chromaticity"
			if err := out.Chromaticity.draw(frame, func(f chart.Frame) chart.Drawing { return pipeline.Chromaticity(r, f) }); err != nil {
				return nil, problem(err)
			}
			return &coloursReply{out}, nil
		})
	huma.Register(api, operation(api, "match", http.MethodGet, "/api/match", "What a lamp is to be set to, to match another light of the set-up"),
		func(_ context.Context, in *matchQuery) (*matchReply, error) {
			r, file, err := s.read(in.Plan, in.Setup)
			if err != nil {
				return nil, err
			}
			m, err := pipeline.MatchLamp(r, in.Lamp, in.To)
			if err != nil {
				return nil, problem(err)
			}
			d, _, err := s.folder.desk(in.Plan)
			if err != nil {
				return nil, err
			}
			state, _ := d.State()
			p, faults := s.folder.read(file, state.Text)
			if p == nil {
				return nil, problem(faults.Err())
			}
			return &matchReply{matched(m, p.Written(r.Setup.Name, document.Path("lamps").Join(in.Lamp).Join("colour")))}, nil
		})
}

// read returns what was read last of a set-up that somebody looks at, and its plan's file.
func (s *Server) read(plan, setup string) (*pipeline.Result, string, error) {
	_, file, err := s.folder.desk(plan)
	if err != nil {
		return nil, "", err
	}
	if l := s.looked(loopKey{file: file, setup: setup}); l != nil {
		if r := l.work.(*sheet).result(); r != nil {
			return r, file, nil
		}
	}
	return nil, "", notThere("the set-up has not been read yet", setup)
}

// draw draws a chart in each theme.
func (c *ThemedCharts) draw(f chart.Frame, chartOf func(chart.Frame) chart.Drawing) error {
	for _, t := range []struct {
		theme chart.Theme
		to    *string
	}{{chart.Paper, &c.Day}, {chart.Night, &c.Night}, {chart.Rain, &c.Rain}} {
		f.Theme = t.theme
		drawn := chartOf(f)
		var b strings.Builder
		if err := drawn.SVG(&b); err != nil {
			return err
		}
		*t.to = b.String()
	}
	return nil
}

func matched(m *colour.MatchReport, path document.Path) Matched {
	out := Matched{Settings: []MatchSetting{}}
	apart := func(d colour.Difference, match bool) string {
		text := d.Mired.Shift() + ", Duv " + colour.DuvText(d.Duv)
		if match {
			return text + ": a match"
		}
		return text + ": no match"
	}
	for _, s := range []struct {
		by string
		*colour.SettingReport
	}{{"by eye", m.ByEye}, {"by camera", m.ByCamera}} {
		if s.SettingReport != nil {
			kelvin := fmt.Sprintf("%.0f K", float64(s.Kelvin))
			out.Settings = append(out.Settings, MatchSetting{s.by, kelvin, apart(s.Eye, s.EyeMatch), apart(s.Camera, s.CameraMatch), desk.Change{Path: path, Value: &kelvin}})
		}
	}
	if m.Disagree {
		out.Warning = "eye and camera disagree: set it by the camera, and trust no eye on the set"
	}
	return out
}
