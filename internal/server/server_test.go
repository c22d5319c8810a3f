package server

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gloam/examples"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
)

// levels is what the terminal prints for a plan.
func levels(t *testing.T, text string) meter.Levels {
	t.Helper()
	p, faults := plan.Read("table.yaml", []byte(text), func(string) ([]byte, error) { return nil, fs.ErrNotExist })
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	view, faults := p.Setup(p.Setups()[0])
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	r, err := pipeline.Run(context.Background(), view, pipeline.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return r.Levels
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Two windows see the same, and what the terminal prints of the file saved, to the digit.
func TestTheStreamEndsWhereTheTerminalDoes(t *testing.T) {
	folder := withPlan(t, small)
	c := running(t, folder)
	one, two := c.listen("plan=table.yaml"), c.listen("plan=table.yaml")
	final := func(revision int) func(*LevelsEvent) bool {
		return func(e *LevelsEvent) bool { return e.Final && e.Revision == revision }
	}
	await(t, one, levelsKind, final(1))
	var state desk.State
	c.must("POST", "/api/plan/edits?plan=table.yaml", edit(1, "lamps.key.dim", "30 %"), &state)
	first, second := await(t, one, levelsKind, final(2)), await(t, two, levelsKind, final(2))
	saved, err := os.ReadFile(filepath.Join(folder, "table.yaml"))
	if err != nil || string(saved) != state.Text || !strings.Contains(state.Text, "dim: 30 %") {
		t.Fatalf("%v; saved\n%s", err, saved)
	}
	if want := asJSON(t, levels(t, string(saved))); asJSON(t, first.Levels) != want || asJSON(t, second.Levels) != want {
		t.Errorf("the windows see\n%s\n%s\nthe terminal\n%s", asJSON(t, first.Levels), asJSON(t, second.Levels), want)
	}
	if off := float64(*first.Levels.Points[0].OverKey) - math.Log2(0.5); math.IsNaN(off) {
		t.Error("no level")
	}
}

// However fast edits come, what is shown last belongs to the last of them, and revisions never go back.
func TestStaleReadingsNeverComeLast(t *testing.T) {
	c := running(t, withPlan(t, small))
	events := c.listen("plan=table.yaml")
	const edits = 25
	for i := range edits {
		var state desk.State
		c.must("POST", "/api/plan/edits?plan=table.yaml", edit(1+i, "lamps.key.dim", fmt.Sprintf("%d %%", 20+i)), &state)
	}
	last := 0
	await(t, events, levelsKind, func(e *LevelsEvent) bool {
		if e.Revision < last {
			t.Errorf("revision %d came after %d", e.Revision, last)
		}
		last = e.Revision
		return e.Final && e.Revision == edits+1
	})
}

func TestFaultsComeWithTheirPlaceAndLeaveTheReadings(t *testing.T) {
	c := running(t, withPlan(t, small))
	events := c.listen("plan=table.yaml")
	await(t, events, faultsKind, func(e *FaultsEvent) bool { return e.Revision == 1 && len(e.Faults) == 0 })
	var state desk.State
	c.must("POST", "/api/plan/edits?plan=table.yaml", edit(1, "lamps.key.kit", "B12-D27"), &state)
	e := await(t, events, faultsKind, func(e *FaultsEvent) bool { return e.Revision == 2 })
	if len(e.Faults) != 1 || e.Faults[0].Path != "lamps.key.kit" || e.Faults[0].Place.Line != 5 || e.Faults[0].Hint == "" {
		t.Errorf("faults %+v", e.Faults)
	}
	c.must("POST", "/api/plan/undo?plan=table.yaml", map[string]string{"by": "test"}, &state)
	await(t, events, levelsKind, func(e *LevelsEvent) bool { return e.Revision == 3 && e.Final })
	if state.Text != small {
		t.Errorf("undone, the plan is\n%s", state.Text)
	}
}

func TestAChangeOfTheFileIsSeen(t *testing.T) {
	folder := withPlan(t, small)
	c := running(t, folder)
	events := c.listen("plan=table.yaml")
	await(t, events, planKind, func(e *PlanEvent) bool { return e.Revision == 1 })
	byHand := strings.Replace(small, "60 %", "50 %", 1)
	if err := plan.Save(filepath.Join(folder, "table.yaml"), []byte(byHand)); err != nil {
		t.Fatal(err)
	}
	if e := await(t, events, planKind, func(e *PlanEvent) bool { return e.Revision > 1 }); e.Text != byHand || !e.CanUndo {
		t.Errorf("seen is\n%s", e.Text)
	}
}

// A server killed in the midst of a drag has on the disk all that it acknowledged, and undo still leads back.
func TestNothingAcknowledgedIsLostWhenKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("starts programs")
	}
	folder := withPlan(t, small)
	next := 1
	for round := range 3 {
		program := exec.Command(os.Args[0])
		program.Env = append(os.Environ(), served+"="+folder)
		out, err := program.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := program.Start(); err != nil {
			t.Fatal(err)
		}
		address, err := bufio.NewReader(out).ReadString('\n')
		if err != nil {
			t.Fatal(err)
		}
		c := to(t, strings.TrimSpace(address))
		acknowledged := make(chan string, 1000)
		go func() { // a hand that goes on moving
			defer close(acknowledged)
			base := next
			for i := 0; ; i++ {
				at := fmt.Sprintf("0 3 %d.%03d", 2+round, i)
				status, text := c.ask("POST", "/api/plan/edits?plan=table.yaml", edit(base, "lamps.key.at", at), nil)
				if status != 200 {
					return
				}
				var state desk.State
				if json.Unmarshal([]byte(text), &state) != nil {
					return
				}
				base = state.Revision
				acknowledged <- at
			}
		}()
		last := ""
		for i := 0; i < 20+7*round; i++ {
			last = <-acknowledged
		}
		program.Process.Kill()
		program.Wait()
		for at := range acknowledged {
			last = at
		}
		saved, err := os.ReadFile(filepath.Join(folder, "table.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		// The edit under way when it died may be there or not.
		var second, third int
		fmt.Sscanf(last, "0 3 %d.%03d", &second, &third)
		following := fmt.Sprintf("0 3 %d.%03d", second, third+1)
		if text := string(saved); !strings.Contains(text, "at: "+last+",") && !strings.Contains(text, "at: "+following+",") {
			t.Fatalf("acknowledged was %s, saved is\n%s", last, saved)
		}
		d, err := desk.Open(filepath.Join(folder, "table.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		state, _ := d.State()
		next = state.Revision
	}
	d, err := desk.Open(filepath.Join(folder, "table.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for {
		state, _ := d.State()
		if !state.CanUndo {
			if state.Text != small {
				t.Errorf("all undone, the plan is\n%s", state.Text)
			}
			return
		}
		if _, err := d.Undo("test"); err != nil {
			t.Fatal(err)
		}
	}
}

func TestANewPlan(t *testing.T) {
	folder := t.TempDir()
	c := running(t, folder)
	var made struct{ Plan string }
	for _, want := range []string{"luthier.yaml", "luthier-2.yaml"} {
		c.must("POST", "/api/plans", map[string]string{"example": "luthier"}, &made)
		text, err := os.ReadFile(filepath.Join(folder, made.Plan))
		if example, _ := examples.Plans.ReadFile("luthier/plan.yaml"); made.Plan != want || err != nil || string(text) != string(example) {
			t.Errorf("made %s: %v", made.Plan, err)
		}
	}
	for title, want := range map[string]string{"A Kitchen: night!": "a-kitchen-night.yaml", "": "plan.yaml", "../../x": "x.yaml"} {
		c.must("POST", "/api/plans", map[string]string{"title": title}, &made)
		if made.Plan != want {
			t.Errorf("%q made %s, want %s", title, made.Plan, want)
		}
		events := c.listen("plan=" + made.Plan)
		if e := await(t, events, faultsKind, func(*FaultsEvent) bool { return true }); len(e.Faults) != 1 || e.Faults[0].Text != "there is no source of light" {
			t.Errorf("the faults of an empty plan: %+v", e.Faults)
		}
	}
	if status, _ := c.ask("POST", "/api/plans", map[string]string{"example": "../luthier"}, nil); status != 404 {
		t.Errorf("an example outside: status %d", status)
	}
}

func TestProblemsHoldFaults(t *testing.T) {
	c := running(t, withPlan(t, small))
	cases := []struct {
		name, path string
		body       any
		status     int
		has        string
	}{
		{"the question lacks its lamp", "/api/quick", map[string]string{"distance": "5m"}, 400, `"hint":"give one"`},
		{"a value where fields are", "/api/plan/edits?plan=table.yaml", edit(1, "lamps", "x"), 422, `"place":{"file":"table.yaml","line":4`},
		{"an unknown revision", "/api/plan/edits?plan=table.yaml", edit(9, "title", "x"), 400, `"hint":"look at the plan again"`},
		{"nothing to undo", "/api/plan/undo?plan=table.yaml", map[string]string{"by": "a"}, 400, "nothing to undo"},
		{"an unknown field", "/api/plans", map[string]string{"name": "x"}, 422, "unexpected property"},
		{"no JSON", "/api/plans", "{", 400, "detail"},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			if status, text := c.ask("POST", k.path, k.body, nil); status != k.status || !strings.Contains(text, k.has) {
				t.Errorf("%d %s", status, text)
			}
		})
	}
	if status, text := c.ask("POST", "/api/quick", map[string]string{"lamp": "250kcd"}, nil); status != 200 || !strings.Contains(text, "lamp 250kcd") {
		t.Errorf("%d %s", status, text)
	}
}

func TestHalvesAreTheNearest(t *testing.T) {
	for h := range uint16(0x7c00) {
		if got := halfOf(float32(floatOf(h))); got != h {
			t.Fatalf("%g becomes %#x, want %#x", floatOf(h), got, h)
		}
		if h == 0 {
			continue
		}
		middle := float32(floatOf(h-1)+floatOf(h)) / 2
		if got := halfOf(middle); got != h-1 && got != h || got&1 != 0 {
			t.Fatalf("%g, halfway below %#x, becomes %#x", middle, h, got)
		}
	}
	for x, want := range map[float32]uint16{-1: 0, 70000: 0x7bff, float32(math.Inf(1)): 0x7bff, float32(math.NaN()): 0} {
		if got := halfOf(x); got != want {
			t.Errorf("%g becomes %#x, want %#x", x, got, want)
		}
	}
}

func TestHull(t *testing.T) {
	got := hull([]Spot{{0, 0}, {1, 0}, {0.5, 0.5}, {1, 1}, {0, 1}, {0.5, 0}, {0, 0}})
	if fmt.Sprint(got) != "[[0 0] [1 0] [1 1] [0 1]]" {
		t.Errorf("hull %v", got)
	}
	if got := hull([]Spot{{1, 1}, {0, 0}}); len(got) != 2 {
		t.Errorf("of two: %v", got)
	}
}

// The description names every operation, says what an error is like and sends nobody elsewhere.
func TestTheDescription(t *testing.T) {
	c := running(t, t.TempDir())
	var d struct {
		OpenAPI string
		Paths   map[string]map[string]struct {
			OperationID string
			Responses   map[string]struct{ Content map[string]any }
		}
		Components struct{ Schemas map[string]any }
	}
	c.must("GET", "/api/openapi.json", nil, &d)
	found := map[string]bool{}
	for path, methods := range d.Paths {
		for _, o := range methods {
			found[o.OperationID] = true
			if o.Responses["default"].Content["application/problem+json"] == nil {
				t.Errorf("%s says nothing of its errors: %v", path, o.Responses)
			}
		}
	}
	for _, id := range []string{"list-plans", "new-plan", "get-plan", "edit-plan", "undo", "redo", "stream", "explain", "layer", "screen", "probe", "quick", "clock"} {
		if !found[id] {
			t.Errorf("the description lacks %s", id)
		}
	}
	if !strings.HasPrefix(d.OpenAPI, "3.1") || d.Components.Schemas["Levels"] == nil || d.Components.Schemas["Drawing"] == nil {
		t.Errorf("OpenAPI %s with %d schemas", d.OpenAPI, len(d.Components.Schemas))
	}
	for _, path := range []string{"/docs", "/schemas/Levels.json"} {
		if status, _ := c.ask("GET", path, nil, nil); status != 404 {
			t.Errorf("%s: status %d", path, status)
		}
	}
}
