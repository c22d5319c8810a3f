package server

import (
	"errors"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/fault"
)

// Problem is an error as RFC 9457 has it, with the faults that a person is to see.
type Problem struct {
	Title  string     `json:"title"`
	Status int        `json:"status"`
	Detail string     `json:"detail"`
	Faults fault.List `json:"faults,omitempty"`
}

// problem puts an error into what is sent.
func problem(err error) error {
	var p *Problem
	if errors.As(err, &p) {
		return p // it was put so already
	}
	list := fault.Of(err, fault.Unfinished)
	status := http.StatusBadRequest
	switch fault.Code(err) {
	case 1:
		status = http.StatusUnprocessableEntity
	case 4:
		status = http.StatusInternalServerError
	}
	return &Problem{http.StatusText(status), status, list.Error(), list}
}

// ofLibrary puts what the library refuses itself, a call that is not of the form described, into the same shape.
func ofLibrary(_ huma.Context, _ string, v any) (any, error) {
	m, ok := v.(*huma.ErrorModel)
	if !ok {
		return v, nil
	}
	p := &Problem{Title: m.Title, Status: m.Status, Detail: m.Detail}
	for _, d := range m.Errors {
		f := fault.Fault{Kind: fault.Call, Path: d.Location, Text: d.Message}
		if d.Value != nil {
			f.Read = fmt.Sprint(d.Value)
		}
		p.Faults = append(p.Faults, f)
	}
	if len(p.Faults) == 0 {
		p.Faults = fault.List{{Kind: fault.Call, Text: m.Detail}}
	}
	return p, nil
}

func notThere(text, read string) error {
	f := fault.Fault{Kind: fault.Call, Text: text, Read: read}
	return &Problem{http.StatusText(http.StatusNotFound), http.StatusNotFound, f.Error(), fault.List{f}}
}

// Error returns what happened.
func (p *Problem) Error() string { return p.Detail }

// GetStatus returns the status of the answer.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType returns the type of the answer.
func (*Problem) ContentType(string) string { return "application/problem+json" }
