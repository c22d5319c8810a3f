package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/pipeline"
)

// Question is the two-minute question in a person's words: the options of gloam quick, by name and as typed.
type Question map[string]string

// QuickReply is its answer: in numbers, and in the lines that the terminal prints.
type QuickReply struct {
	pipeline.QuickAnswer
	Lines []string `json:"lines"`
}

func (s *Server) quickAPI(api huma.API) {
	type call struct {
		Body Question `doc:"options of gloam quick, without dashes: {\"lamp\": \"250kcd\", \"distance\": \"5m\"}"`
	}
	type reply struct{ Body *QuickReply }
	huma.Register(api, operation(api, "quick", http.MethodPost, "/api/quick", "The two-minute question: a lamp, a distance, an ambient reading"),
		func(ctx context.Context, in *call) (*reply, error) {
			answer, err := s.config.Quick(ctx, in.Body)
			if err != nil {
				return nil, problem(err)
			}
			return &reply{answer}, nil
		})
}
