package server

import (
	"encoding/json"
	"strings"
	"testing"
)

// A call that is not of the form described is refused with faults, as every other refusal is.
func TestRefusalsOfTheLibraryAreFaults(t *testing.T) {
	c := running(t, withPlan(t, small))
	for name, call := range map[string]struct{ path, text string }{
		"no plan named":    {"/api/plan", "plan"},
		"too wide":         {"/api/clock?plan=table.yaml&width=9999", "width"},
		"no lamp to match": {"/api/match?plan=table.yaml", "lamp"},
	} {
		t.Run(name, func(t *testing.T) {
			status, text := c.ask("GET", call.path, nil, nil)
			var p Problem
			if err := json.Unmarshal([]byte(text), &p); err != nil {
				t.Fatalf("%v: %s", err, text)
			}
			if status != 422 || len(p.Faults) == 0 || !strings.Contains(p.Faults[0].Path+p.Faults[0].Text, call.text) {
				t.Errorf("%d %s", status, text)
			}
		})
	}
}
