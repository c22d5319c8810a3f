package pipeline

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gloam/internal/document"
	"gloam/internal/plan"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

var update = flag.Bool("update", false, "write the real plans' numbers into expected.yaml; read the difference")

const (
	shown = 0.05 // stop: the standard error every point's total must reach
	rough = 0.04 // stop: the standard error asked for where time is short
	guard = 0.03 // stop: how far our own output may move, sampling aside, before somebody has to look
)

// TestExamples holds every example against the sums by hand beside it, and the real plans against what they gave before.
// Run with -v for the table, with -short for the sums alone and less sure.
func TestExamples(t *testing.T) {
	paths, err := filepath.Glob("../../examples/*/plan.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatal("no examples", err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(filepath.Dir(path)), func(t *testing.T) {
			p := readExample(t, path)
			file := filepath.Join(filepath.Dir(path), "expected.yaml")
			e, source := readExpected(t, file)
			black := runAll(t, p, true)
			var real map[string]*Result
			if !testing.Short() {
				real = runAll(t, p, false)
			}
			t.Logf("%-44s %9s %9s %9s %9s  %s", "", "by hand", "fuller", "black", "real", "off in stops, from")
			for i := range e.Checks {
				e.Checks[i].Value.hold(t, e.Checks[i].Name, black, real)
			}
			if *update && real != nil {
				guardAnew(t, file, source, e, real)
			}
		})
	}
}

func readExample(t testing.TB, path string) *plan.Plan {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, faults := plan.Read(path, text, plan.Beside(path))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

// runAll runs every set-up of a plan. With the surroundings as planned every point's total must come out sure enough.
func runAll(t testing.TB, p *plan.Plan, black bool) map[string]*Result {
	t.Helper()
	results := map[string]*Result{}
	for _, name := range p.Setups() {
		o := Defaults()
		o.Black = black
		if testing.Short() {
			o.Goal = rough
		}
		r := runSetup(t, p, name, o)
		results[name] = r
		for i, receiver := range r.Setup.Scene.Receivers {
			level, stderr := r.Layers.Points[i].Level(r.Setup.Scene.Weights(r.Setup.Dials))
			if s := transport.StopError(level, stderr); !black && !(s <= shown) {
				t.Errorf("%s, %s: standard error %.3f stop", name, receiver.Name, float64(s))
			}
		}
	}
	return results
}

func runSetup(t testing.TB, p *plan.Plan, name string, o Options) *Result {
	t.Helper()
	view, faults := p.Setup(name)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	r, err := Run(t.Context(), view, o)
	if err != nil {
		t.Fatal(name, err)
	}
	return r
}

// hold compares one check with what the plan gives and logs its row.
func (c *check) hold(t *testing.T, name string, black, real map[string]*Result) {
	t.Helper()
	given := black
	if c.Given {
		given = real
	}
	var inBlack, inReal number
	var err error
	if inBlack, err = c.from(black); err != nil && !c.Given {
		t.Errorf("%s: %v", name, err)
		return
	}
	if real != nil {
		if inReal, err = c.from(real); err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
	got := inBlack
	if c.Given {
		got = inReal
	}
	off := math.NaN()
	if given != nil {
		off = c.judge(t, name, got)
	}
	t.Logf("%-44s %9.4g %9s %9.4g %9.4g  %+.2f  %s", name, c.Worked, optional(c.Physics), inBlack.value, inReal.value, off, c.From)
	if c.Why != "" {
		t.Logf("%-44s %s", "", c.Why)
	}
	if real != nil && !*update {
		c.guard(t, name, inReal)
	}
}

// judge holds a number against the sum by hand, or against the fuller sum where there is one, and returns how far it is
// from the first.
func (c *check) judge(t *testing.T, name string, got number) float64 {
	t.Helper()
	slack := c.Within + 2*got.stderr
	off := c.off(got.value, c.Worked)
	if c.Physics == nil {
		if !(math.Abs(off) <= slack) {
			t.Errorf("%s: %.4g, by hand %.4g: %+.3f stop off, more than %.3f (%s)", name, got.value, c.Worked, off, slack, c.From)
		}
		return off
	}
	if c.Why == "" {
		t.Errorf("%s: a fuller sum needs its why", name)
	}
	if math.Abs(c.off(*c.Physics, c.Worked)) <= c.Within {
		t.Errorf("%s: the first sum is good enough; the fuller one is in the way", name)
	}
	if fuller := c.off(got.value, *c.Physics); !(math.Abs(fuller) <= slack) {
		t.Errorf("%s: %.4g, by the fuller sum %.4g: %+.3f stop off, more than %.3f (%s)", name, got.value, *c.Physics, fuller, slack, c.Why)
	}
	return off
}

// guard tells when the real plan's number has moved since it was written down.
func (c *check) guard(t *testing.T, name string, got number) {
	t.Helper()
	switch {
	case c.Real == nil:
		t.Errorf("%s: the real plan's number is missing; run with -update", name)
	case !(math.Abs(c.off(got.value, *c.Real)) <= guard+3*math.Sqrt2*got.stderr):
		t.Errorf("%s: the real plan gives %.4g and gave %.4g: if that is right, run with -update", name, got.value, *c.Real)
	}
}

// guardAnew writes the real plan's numbers into the file.
func guardAnew(t *testing.T, file string, source *document.Source, e expected, real map[string]*Result) {
	t.Helper()
	for i := range e.Checks {
		n, err := e.Checks[i].Value.from(real)
		if err != nil {
			t.Fatal(err)
		}
		path := document.Path("checks").Join(e.Checks[i].Name).Join("real")
		text, err := source.Edit(path, strconv.FormatFloat(n.value, 'g', 4, 64))
		if err != nil {
			t.Fatal(err)
		}
		if source, err = document.Parse(file, text); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func optional(x *float64) string {
	if x == nil {
		return ""
	}
	return fmt.Sprintf("%.4g", *x)
}

// BenchmarkExamples reports what each set-up costs until every point's total is sure to 0.05 stop.
func BenchmarkExamples(b *testing.B) {
	paths, _ := filepath.Glob("../../examples/*/plan.yaml")
	for _, path := range paths {
		p := readExample(b, path)
		for _, name := range p.Setups() {
			b.Run(filepath.Base(filepath.Dir(path))+"/"+name, func(b *testing.B) {
				o := Defaults()
				o.Goal = shown
				before := processorSeconds()
				worst := unit.Stop(0)
				for b.Loop() {
					for _, reading := range runSetup(b, p, name, o).Levels.Points {
						worst = max(worst, reading.Stderr)
					}
				}
				b.ReportMetric((processorSeconds()-before)/float64(b.N), "cpu-s/op")
				b.ReportMetric(float64(worst), "stop")
			})
		}
	}
}
