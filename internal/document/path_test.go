package document

import (
	"testing"

	"pgregory.net/rapid"
)

// A path made of any names and items comes apart into the same.
func TestPathRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var path Path
		var want []step
		for range rapid.IntRange(0, 5).Draw(t, "length") {
			if len(want) > 0 && rapid.Bool().Draw(t, "item?") {
				i := rapid.IntRange(0, 1<<30).Draw(t, "item")
				path, want = path.Item(i), append(want, step{item: i})
			} else {
				name := rapid.String().Draw(t, "name")
				path, want = path.Join(name), append(want, step{name: name, item: -1})
			}
			want[len(want)-1].end = len(path)
		}
		got, err := path.steps()
		if err != nil || len(got) != len(want) {
			t.Fatalf("%q is %v, %v, want %v", path, got, err, want)
		}
		for i := range got {
			if got[i] != want[i] {
				t.Fatalf("step %d of %q is %+v, want %+v", i, path, got[i], want[i])
			}
		}
		if n := len(want); n > 1 && path.parent() != path[:want[n-2].end] || n < 2 && path.parent() != "" {
			t.Fatalf("the parent of %q is %q", path, path.parent())
		}
	})
}

func TestPathsThatAreNotWellFormed(t *testing.T) {
	for _, path := range []Path{".", "a.", "a..b", "a[", "a[1", "a[x]", "a[-1]", `"a`, `a."b`, `"a"b`, "a[1]b", "[99999999999]"} {
		if steps, err := path.steps(); err == nil {
			t.Errorf("%q is read as %v", path, steps)
		}
		if path.parent() != "" {
			t.Errorf("%q has the parent %q", path, path.parent())
		}
	}
}
