package server

import (
	"context"
	"io/fs"
	"net/http"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/document"
)

// Example is a plan that comes with the program.
type Example struct {
	Example string `json:"example" doc:"its name"`
	Title   string `json:"title"`
	Note    string `json:"note" doc:"what it is about"`
}

type plansReply struct {
	Body struct {
		Folder   string     `json:"folder"`
		Plans    []PlanFile `json:"plans"`
		Examples []Example  `json:"examples"`
	}
}

type newPlan struct {
	Body struct {
		Title   string `json:"title,omitempty" maxLength:"200" doc:"of an empty plan"`
		Example string `json:"example,omitempty" maxLength:"64" doc:"or an example to copy"`
	}
}

type newPlanReply struct {
	Body struct {
		Plan string `json:"plan"`
	}
}

func (s *Server) plansAPI(api huma.API) {
	huma.Register(api, operation(api, "list-plans", http.MethodGet, "/api/plans", "The plans of the folder and the examples"),
		func(context.Context, *struct{}) (*plansReply, error) {
			r := &plansReply{}
			r.Body.Folder, r.Body.Plans, r.Body.Examples = s.folder.path, s.folder.plans(), s.examples()
			return r, nil
		})
	huma.Register(api, operation(api, "new-plan", http.MethodPost, "/api/plans", "Make a plan: empty, or a copy of an example"),
		func(_ context.Context, in *newPlan) (*newPlanReply, error) {
			stem, text := stemOf(in.Body.Title), blank(in.Body.Title)
			if in.Body.Example != "" {
				var err error
				if text, err = s.example(in.Body.Example); err != nil {
					return nil, err
				}
				stem = in.Body.Example
			}
			name, err := s.folder.create(stem, text)
			if err != nil {
				return nil, problem(err)
			}
			r := &newPlanReply{}
			r.Body.Plan = name
			return r, nil
		})
}

// operation is what all operations have alike: an error is a Problem.
func operation(api huma.API, id, method, path, summary string) huma.Operation {
	schema := api.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[Problem](), true, "Problem")
	return huma.Operation{OperationID: id, Method: method, Path: path, Summary: summary, MaxBodyBytes: mostBody,
		Responses: map[string]*huma.Response{"default": {Description: "what is wrong",
			Content: map[string]*huma.MediaType{"application/problem+json": {Schema: schema}}}}}
}

// example returns the text of an example.
func (s *Server) example(name string) ([]byte, error) {
	text, err := fs.ReadFile(s.config.Examples, name+"/plan.yaml")
	if err != nil || strings.Contains(name, "/") {
		return nil, notThere("there is no such example", name)
	}
	return text, nil
}

func (s *Server) examples() []Example {
	all := []Example{}
	files, err := fs.Glob(s.config.Examples, "*/plan.yaml")
	if err != nil {
		panic("server: bad pattern")
	}
	for _, file := range files {
		name := strings.TrimSuffix(file, "/plan.yaml")
		text, err := s.example(name)
		if err != nil {
			continue
		}
		e := Example{Example: name}
		e.Title, e.Note = introduced(string(text))
		all = append(all, e)
	}
	return all
}

// introduced returns a plan's title and the comment it begins with.
func introduced(text string) (title, note string) {
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		if after, found := strings.CutPrefix(line, "title:"); found {
			return strings.TrimSpace(after), note
		}
		if after, found := strings.CutPrefix(line, "#"); found {
			note = strings.TrimSpace(note + " " + strings.TrimSpace(after))
		}
	}
	return "", note
}

// emptyText is what a new plan begins with: an empty sheet, and what the key needs.
const emptyText = `gloam: 1
title: New plan

camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`

// blank is the text of an empty plan.
func blank(title string) []byte {
	source, err := document.Parse("", []byte(emptyText))
	if err != nil {
		panic("server: the empty plan is not well formed")
	}
	if text, err := source.Edit("title", title); err == nil && strings.TrimSpace(title) != "" {
		return text
	}
	return []byte(emptyText)
}
