package server

import (
	"encoding/json"
	"net/http"
	"testing"

	"gloam/examples"
)

// A search that is stopped by its name ends with the best it has found; one that is done can't be stopped.
func TestASearchIsStopped(t *testing.T) {
	text, err := examples.Plans.ReadFile("luthier/plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c := running(t, withPlan(t, string(text)))
	const stop = "/api/ways/stop?search=mine"
	if status, _ := c.ask("POST", stop, nil, nil); status != http.StatusNotFound {
		t.Errorf("before it began it is stopped with %d", status)
	}
	events := c.hear("/api/ways?plan=table.yaml&setup=dusk&search=mine&cloth=true&window=true")
	stopped := false
	for e := range events {
		switch e.kind {
		case progressKind:
			var p SearchEvent
			if err := json.Unmarshal(e.data, &p); err != nil {
				t.Fatal(err)
			}
			if p.Best != "" && !stopped {
				if status, text := c.ask("POST", stop, nil, nil); status >= 300 {
					t.Fatalf("%d %s", status, text)
				}
				stopped = true
			}
		case waysKind:
			var w WaysEvent
			if err := json.Unmarshal(e.data, &w); err != nil {
				t.Fatal(err)
			}
			if w.Outcome != "stopped" || len(w.Ways) == 0 {
				t.Errorf("it ends %s with %d ways", w.Outcome, len(w.Ways))
			}
			if status, _ := c.ask("POST", stop, nil, nil); status != http.StatusNotFound {
				t.Errorf("once done it is stopped with %d", status)
			}
			return
		case faultsKind:
			t.Fatalf("%s", e.data)
		}
	}
	t.Error("it ended without a word")
}
