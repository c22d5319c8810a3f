package document

import (
	"errors"
	"strings"
	"testing"

	"gloam/internal/fault"
)

// hostile are texts that other readers of YAML have stumbled over: bombs, cycles, deep nests, cut-off quotes.
var hostile = []string{
	samplePlanText, sampleFaultyText,
	"a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n", "a: &a [*a]\n", "a: &a\n", "a: *\n", "&a a: *a\n",
	"[[[[[[{{{{{{", "- - - - - -", "? a\n: b\n", "a: |\n  x\n y\n", "a: >2\n", "a: |+\n  x\n\n\n", "a: \"\\", "a: '", "\ufeff\r\n", "\t",
	"a: \"\\ud800\\u0000\"", "%TAG", "!<", "--- |\n x\n...\n---", "{a: [b, {c: d}], e: f}", "a: {b: , c}", "<<: *a", "a: b\r\n\r\nc: d",
	// found by fuzzing
	"|\n\n---", "0<<:", "<<<:", "<<::<<:::", `"\x0\"`, `"\x"0"000`, " 00:\n|\n 0\n01", " |\n0\n...", "- >", " 0\n: : |\n 00", "setups: { dusk: 3 }",
}

// FuzzDecode looks for a text that makes reading panic, lose the thread or tell a fault without its place.
func FuzzDecode(f *testing.F) {
	for _, text := range hostile {
		f.Add([]byte(text))
	}
	for _, c := range formFaults {
		f.Add([]byte(c.text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Parse("f", text)
		if err != nil {
			checkFaults(t, fault.Of(err, fault.Unfinished))
			return
		}
		checkSpans(t, s, s.root)
		var plan samplePlan
		places, faults := s.Decode(&plan)
		checkFaults(t, faults)
		for _, name := range plan.Setups.Names() {
			var overlaid samplePlan
			_, faults := s.DecodeOverlaid([]Path{Path("setups").Join(name)}, []string{"time"}, &overlaid)
			checkFaults(t, faults)
		}
		for path := range places.spots {
			if at := places.At(path); at.Line < 1 || at.Column < 1 {
				t.Errorf("%s is at %v", path, at)
			}
		}
	})
}

func checkFaults(t *testing.T, faults fault.List) {
	t.Helper()
	for _, f := range faults {
		if f.Kind != fault.Input || f.Text == "" || f.Place.File != "f" || f.Place.Line < 1 || f.Place.Column < 1 {
			t.Errorf("bad fault %#v", f)
		}
		if strings.Contains(f.Text, "cannot be followed") || strings.Contains(f.Text, "cannot be read") {
			t.Errorf("the reader lost its way: %v", f)
		}
	}
}

// checkSpans checks that a plain value stands where the tree says, blanks and newlines aside.
func checkSpans(t *testing.T, s *Source, n *node) {
	t.Helper()
	bare := func(text string) string { return strings.Join(strings.Fields(text), "") }
	if n.kind == scalar && n.style == 0 && bare(s.text[n.span.start:n.span.end]) != bare(n.text) {
		t.Errorf("%q is said to stand at %q", n.text, s.text[n.span.start:n.span.end])
	}
	for _, e := range n.entries {
		checkSpans(t, s, e.value)
	}
}

// FuzzEdit looks for a text in which an edit panics or puts out what it should not; Edit proves its own outcome, so
// this checks the proof: the value is there and the other values are what they were.
func FuzzEdit(f *testing.F) {
	for i, text := range hostile {
		f.Add([]byte(text), uint(i), "88 %")
	}
	f.Fuzz(func(t *testing.T, text []byte, pick uint, value string) {
		s, err := Parse("f", text)
		if err != nil {
			return
		}
		before := flat(s)
		path := Path("new").Join(value)
		if len(before) > 0 {
			path = before[pick%uint(len(before))].path
		}
		out, err := s.Edit(path, value)
		if err == nil {
			checkEdited(t, before, out, path, value)
		}
		var one fault.Fault
		if err != nil && !errors.As(err, &one) {
			t.Errorf("Edit gives the error %v", err)
		}
		if _, err := s.Remove(path); err != nil && !errors.As(err, &one) {
			t.Errorf("Remove gives the error %v", err)
		}
	})
}
