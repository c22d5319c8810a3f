package pipeline

import (
	"context"
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/plan"
)

// edited reads the luthier's plan with one text in place of another, and returns the set-up at dusk.
func edited(t testing.TB, old, fresh string) *plan.View {
	t.Helper()
	const path = "../../examples/luthier/plan.yaml"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if old != "" && !strings.Contains(string(text), old) {
		t.Fatalf("%q is not in the plan", old)
	}
	p, faults := plan.Read(path, []byte(strings.Replace(string(text), old, fresh, 1)), plan.Beside(path))
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	view, faults := p.Setup("dusk")
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return view
}

// Every edit shows a draft near what follows, and ends with the digits that a run from nothing has.
func TestSessionEndsWhereRunDoes(t *testing.T) {
	s := &Session{}
	for _, row := range []struct{ name, old, fresh string }{
		{"opened", "", ""},
		{"nothing", "", ""},
		{"a dial", "dim: 88 %", "dim: 40 %"},
		{"a lamp", "at: 1 m from key frame bearing 45", "at: 1.2 m from key frame bearing 60"},
		{"a frame", "kind: full grid, size: 1.2 x 1.2 m", "kind: full grid, size: 1 x 1 m"},
	} {
		t.Run(row.name, func(t *testing.T) {
			view := edited(t, row.old, row.fresh)
			var shown []*Result
			if err := s.Update(context.Background(), view, Defaults(), func(r *Result) { shown = append(shown, r) }); err != nil {
				t.Fatal(err)
			}
			want, err := Run(context.Background(), view, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if len(shown) != 2 || !reflect.DeepEqual(shown[1].Levels, want.Levels) {
				t.Errorf("shown %d times; the last differs from a run", len(shown))
			}
			for i, p := range shown[0].Levels.Points {
				if off := *p.OverKey - *want.Levels.Points[i].OverKey; off < -0.2 || off > 0.2 {
					t.Errorf("%s is first shown %+.2f stop off", p.Name, off)
				}
			}
		})
	}
}

// A changed dial is shown from the layers that are there.
func TestSessionDialCostsNoRays(t *testing.T) {
	s := &Session{}
	update := func(view *plan.View) (shown []*Result) {
		if err := s.Update(context.Background(), view, Defaults(), func(r *Result) { shown = append(shown, r) }); err != nil {
			t.Fatal(err)
		}
		return shown
	}
	before := update(edited(t, "", ""))
	after := update(edited(t, "dim: 88 %", "dim: 40 %"))
	if before[1].Layers != after[0].Layers {
		t.Error("traced anew for a dial")
	}
}

// A cancelled update leaves the session as it was.
func TestSessionCancelled(t *testing.T) {
	s := &Session{}
	var first meter.Levels
	if err := s.Update(context.Background(), edited(t, "", ""), Defaults(), func(r *Result) { first = r.Levels }); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	err := s.Update(ctx, edited(t, "kind: full grid, size: 1.2 x 1.2 m", "kind: full grid, size: 1 x 1 m"), Defaults(), func(*Result) { cancel() })
	var f fault.Fault
	if !errors.As(err, &f) || f.Kind != fault.Unfinished {
		t.Errorf("got %v", err)
	}
	if !reflect.DeepEqual(s.last.Levels, first) {
		t.Error("the session took what was not finished")
	}
}
