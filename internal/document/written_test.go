package document

import (
	"fmt"
	"testing"
)

func TestLeavesAndNames(t *testing.T) {
	s := mustParse(t, "a: &x {b: 1, \"c.d\": [2, {e: 3}]}\nf: *x\ng:\nh: 4\n")
	for path, want := range map[Path]string{
		"":     `[{a.b 1} {a."c.d"[0] 2} {a."c.d"[1].e 3} {f.b 1} {f."c.d"[0] 2} {f."c.d"[1].e 3} {h 4}] [a f g h]`,
		"f":    `[{f.b 1} {f."c.d"[0] 2} {f."c.d"[1].e 3}] [b c.d]`,
		"h":    "[{h 4}] []",
		"g":    "[] []",
		"i":    "[] []",
		"a..b": "[] []",
	} {
		if got := fmt.Sprint(s.Leaves(path), s.Names(path)); got != want {
			t.Errorf("%q: %s, want %s", path, got, want)
		}
	}
}
