package daylight

import "testing"

// Whatever is read is a kind or refused, and what a kind prints reads as itself.
func FuzzKind(f *testing.F) {
	for _, text := range []string{"clear", "Partly-Cloudy", " heavy  overcast ", "", "overcast,", "\xff", "-"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		before := Broken
		k := before
		if err := k.Parse(text); err != nil {
			if k != before {
				t.Fatalf("%q is refused and leaves %v", text, k)
			}
			return
		}
		var again Kind
		if err := again.Parse(k.String()); err != nil || again != k {
			t.Fatalf("%q reads as %v, which reads as %v, %v", text, k, again, err)
		}
	})
}
