package server

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/server/desk"
)

// PlanQuery names a plan in a call.
type PlanQuery struct {
	Plan string `query:"plan" required:"true" doc:"path of the plan in the folder"`
}

type editCall struct {
	PlanQuery
	Body desk.Edit
}

type travelCall struct {
	PlanQuery
	Body struct {
		By string `json:"by" maxLength:"64" doc:"who: one open page"`
	}
}

type stateReply struct{ Body desk.State }

func (s *Server) editAPI(api huma.API) {
	huma.Register(api, operation(api, "get-plan", http.MethodGet, "/api/plan", "A plan as it stands"),
		func(_ context.Context, in *PlanQuery) (*stateReply, error) {
			d, _, err := s.folder.desk(in.Plan)
			if err != nil {
				return nil, err
			}
			state, _ := d.State()
			return &stateReply{state}, nil
		})
	huma.Register(api, operation(api, "edit-plan", http.MethodPost, "/api/plan/edits", "Edit a plan; what is answered is on the disk"),
		func(_ context.Context, in *editCall) (*stateReply, error) {
			return s.change(in.Plan, func(d *desk.Desk) (desk.State, error) { return d.Edit(in.Body) })
		})
	huma.Register(api, operation(api, "undo", http.MethodPost, "/api/plan/undo", "Take back the last step, whoever made it"),
		func(_ context.Context, in *travelCall) (*stateReply, error) {
			return s.change(in.Plan, func(d *desk.Desk) (desk.State, error) { return d.Undo(in.Body.By) })
		})
	huma.Register(api, operation(api, "redo", http.MethodPost, "/api/plan/redo", "Make the last step taken back again"),
		func(_ context.Context, in *travelCall) (*stateReply, error) {
			return s.change(in.Plan, func(d *desk.Desk) (desk.State, error) { return d.Redo(in.Body.By) })
		})
}

func (s *Server) change(name string, do func(*desk.Desk) (desk.State, error)) (*stateReply, error) {
	d, _, err := s.folder.desk(name)
	if err != nil {
		return nil, err
	}
	state, err := do(d)
	if err != nil {
		return nil, problem(err)
	}
	return &stateReply{state}, nil
}
