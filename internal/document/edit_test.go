package document

import (
	"errors"
	"strings"
	"testing"

	"gloam/internal/fault"
)

// A row's texts show every byte: what stands around the value stays as it was.
func TestEdit(t *testing.T) {
	for _, c := range []struct{ name, before, path, value, after string }{
		// one value for another
		{"plain", "a: 1\nb: 2\n", "a", "3", "a: 3\nb: 2\n"},
		{"before a comment", "a: 1   # why\n", "a", "60 %", "a: 60 %   # why\n"},
		{"in braces", "key: { kit: B12-D60, dim: 88 % }  # c\n", "key.dim", "60 %", "key: { kit: B12-D60, dim: 60 % }  # c\n"},
		{"first in braces", "key: {kit: B12-D60, dim: 88 %}\n", "key.kit", "P20", "key: {kit: P20, dim: 88 %}\n"},
		{"in brackets", "a: [1, 2,  3]\n", "a[1]", "x", "a: [1, x,  3]\n"},
		{"in braces over lines", "a: {\n  b: 1, # one\n  c: 2  # two\n}\n", "a.b", "3", "a: {\n  b: 3, # one\n  c: 2  # two\n}\n"},
		{"deep in blocks", "a:\n  b:\n\n    # c\n    c:   1\n", "a.b.c", "2", "a:\n  b:\n\n    # c\n    c:   2\n"},
		{"in a list", "a:\n  - 1 2\n  - 3 4 # d\n", "a[1]", "5 6", "a:\n  - 1 2\n  - 5 6 # d\n"},
		{"in fields in a list", "a:\n- x: 1\n  y: 2\n", "a[0].y", "3", "a:\n- x: 1\n  y: 3\n"},
		{"list in a list", "a:\n- - 1\n  - 2\n", "a[0][1]", "3", "a:\n- - 1\n  - 3\n"},
		{"double quotes stay", "a: \"1\" # c\n", "a", "x \"y\"", "a: \"x \\\"y\\\"\" # c\n"},
		{"single quotes stay", "a: '1' # c\n", "a", "it's", "a: 'it''s' # c\n"},
		{"quoted name", "\"a b\": 1\n", "a b", "2", "\"a b\": 2\n"},
		{"name with a dot", "a.b: 1\n", `"a.b"`, "2", "a.b: 2\n"},
		{"letters beyond ASCII", "é: ½ # ½\nb: 1\n", "b", "26°", "é: ½ # ½\nb: 26°\n"},
		{"carriage returns", "a: 1\r\nb: 2 # c\r\n", "b", "3", "a: 1\r\nb: 3 # c\r\n"},
		{"byte order mark", "\ufeffa: 1\n", "a", "2", "\ufeffa: 2\n"},
		{"no newline at the end", "a: 1", "a", "2", "a: 2"},
		{"behind a tab", "a:\t1\t# c\n", "a", "2", "a:\t2\t# c\n"},
		{"value on its own line", "a:\n  1\nb: 2\n", "a", "3", "a:\n  3\nb: 2\n"},
		{"value over two lines", "a: 1\n  2 # c\nb: 3\n", "a", "4", "a: 4 # c\nb: 3\n"},
		{"alias", "a: &x 1\nb: *x # c\n", "b", "2", "a: &x 1\nb: 2 # c\n"},
		{"anchor nobody uses", "a: &x 1\nb: 2\n", "a", "3", "a: &x 3\nb: 2\n"},
		{"same value", "a: 1 # c\n", "a", "1", "a: 1 # c\n"},

		// lines of text
		{"lines for lines", "a: |\n    one\n    two\n\nb: 1\n", "a", "three\n four\n", "a: |\n    three\n     four\n\nb: 1\n"},
		{"lines without an end", "a: |  # c\n  one\nb: 1\n", "a", "two\nthree", "a: |-  # c\n  two\n  three\nb: 1\n"},
		{"folded lines become literal", "a: >\n  one\n  two\n", "a", "three\nfour\n", "a: |\n  three\n  four\n"},
		{"kept empty lines", "a: |+\n  one\n\n\nb: 1\n", "a", "two", "a: |-\n  two\nb: 1\n"},
		{"lines that begin with a blank", "a: | # c\n  one\n  two\nb: 1\n", "a", " x\ny", "a: \" x\\ny\" # c\nb: 1\n"},
		{"lines for one value", "a: 1\n", "a", "x\ny\n", "a: \"x\\ny\\n\"\n"},
		{"empty lines for a value", "a: |\nb: 1\n", "a", "x", "a: x\nb: 1\n"},

		// a value where none is
		{"no value", "a:\nb: 1\n", "a", "2", "a: 2\nb: 1\n"},
		{"no value before a comment", "a:   # c\n", "a", "2", "a: 2   # c\n"},
		{"null", "a: ~ # c\n", "a", "2", "a: 2 # c\n"},
		{"no value in braces", "a: {b: , c:}\n", "a.c", "2", "a: {b: , c: 2}\n"},
		{"no value in a list", "a:\n-\n- 1\n", "a[0]", "2", "a:\n- 2\n- 1\n"},

		// a name that is not written
		{"added at the end", "a: 1\nb: 2\n", "c", "3", "a: 1\nb: 2\nc: 3\n"},
		{"added without a newline at the end", "a: 1", "b", "2", "a: 1\nb: 2"},
		{"added with carriage returns", "a:\r\n  b: 1\r\nc: 2\r\n", "a.d", "3", "a:\r\n  b: 1\r\n  d: 3\r\nc: 2\r\n"},
		{"added behind a comment", "a:\n    b: 1 # c\n    # d\n\ne: 2\n", "a.c", "3", "a:\n    b: 1 # c\n    c: 3\n    # d\n\ne: 2\n"},
		{"added in braces", "key: { kit: B12 }  # c\n", "key.dim", "88 %", "key: { kit: B12, dim: 88 % }  # c\n"},
		{"added in empty braces", "a: {}\n", "a.b", "1", "a: {b: 1}\n"},
		{"added in braces over lines", "a: {\n  b: 1, # one\n  c: 2  # two\n}\n", "a.d", "3", "a: {\n  b: 1, # one\n  c: 2, d: 3  # two\n}\n"},
		{"added behind a last comma", "a: {b: 1, }\n", "a.c", "2", "a: {b: 1, c: 2, }\n"},
		{"added behind nothing in braces", "a: {b: }\n", "a.c", "2", "a: {b:, c: 2 }\n"},
		{"added in fields in a list", "a:\n- x: 1\nb: 2\n", "a[0].y", "3", "a:\n- x: 1\n  y: 3\nb: 2\n"},
		{"added behind lines", "a:\n  b: |\n    x\n\nc: 1\n", "a.d", "2", "a:\n  b: |\n    x\n  d: 2\n\nc: 1\n"},
		{"added behind kept empty lines", "a:\n  b: |+\n    x\n\nc: 1\n", "a.d", "2", "a:\n  b: |+\n    x\n\n  d: 2\nc: 1\n"},
		{"added behind a list", "a:\n  - 1\n  - 2 # c\n", "b", "3", "a:\n  - 1\n  - 2 # c\nb: 3\n"},
		{"added where nothing is", "a:  # none yet\nb: 1\n", "a.c", "2", "a:  # none yet\n  c: 2\nb: 1\n"},
		{"added where null is", "a: ~\nb: 1\n", "a.c", "2", "a: \n  c: 2\nb: 1\n"},
		{"added where nothing is in braces", "a: { b: , c: 1 }\n", "a.b.d", "2", "a: { b: {d: 2} , c: 1 }\n"},
		{"added to an empty file", "", "a", "1", "a: 1\n"},
		{"added to comments", "# a\n# b", "a", "1", "# a\n# b\na: 1\n"},
		{"added with names between", "setups:\n  dusk:\n    time: 18:35\n", "setups.dusk.lamps.key.dim", "60 %", "setups:\n  dusk:\n    time: 18:35\n    lamps:\n      key:\n        dim: 60 %\n"},
		{"added with names between, in braces", "setups:\n  dusk: { time: 18:35 }\n", "setups.dusk.lamps.key.dim", "60 %", "setups:\n  dusk: { time: 18:35, lamps: {key: {dim: 60 %}} }\n"},
		{"added under a name that needs quotes", "a: 1\n", `"b: #".c`, "2", "a: 1\n'b: #':\n  c: 2\n"},
		{"added item", "a:\n  - 1\n  - 2\nb: 3\n", "a[2]", "4", "a:\n  - 1\n  - 2\n  - 4\nb: 3\n"},
		{"added item in brackets", "a: [1, 2]\n", "a[2]", "3", "a: [1, 2, 3]\n"},
		{"added item of fields", "a:\n  - x: 1\n", "a[1].x", "2", "a:\n  - x: 1\n  - x: 2\n"},
		{"first item", "a:\n", "a[0]", "1", "a:\n  - 1\n"},
		{"first item of a list between", "a: 1\n", "b.c[0]", "2", "a: 1\nb:\n  c:\n    - 2\n"},
		{"first item of fields of a list between", "a: 1\n", "b[0].c", "2", "a: 1\nb:\n  - c: 2\n"},
		{"first item of a list between, in braces", "a: {b: 1}\n", "a.c[0]", "2 3", "a: {b: 1, c: [2 3]}\n"},
		{"first item in brackets", "a: []\n", "a[0].x", "1", "a: [{x: 1}]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := mustParse(t, c.before)
			got, err := s.Edit(Path(c.path), c.value)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.after {
				t.Errorf("got\n%s\nwant\n%s", got, c.after)
			}
		})
	}
}

// A value that YAML would read as something else is quoted [YAML122, 7.3]; one that it would not stays as it is.
func TestEditQuotes(t *testing.T) {
	for _, c := range []struct{ value, block, braces string }{
		{"60 %", "60 %", "60 %"},
		{`12'6"`, `12'6"`, `12'6"`},
		{"-3.0 stops", "-3.0 stops", "-3.0 stops"},
		{"+2/3", "+2/3", "+2/3"},
		{"2027-03-03", "2027-03-03", "2027-03-03"},
		{"true", "true", "true"},
		{"012", "012", "012"},
		{"1/2 CTO & opal", "1/2 CTO & opal", "1/2 CTO & opal"},
		{"26° – ½", "26° – ½", "26° – ½"},
		{"a#b", "a#b", "a#b"},
		{"18:35", "18:35", "'18:35'"},
		{"3,8 m", "3,8 m", "'3,8 m'"},
		{"a [b] {c}", "a [b] {c}", "'a [b] {c}'"},
		{"", "''", "''"},
		{"null", "'null'", "'null'"},
		{"~", "'~'", "'~'"},
		{" a", "' a'", "' a'"},
		{"a ", "'a '", "'a '"},
		{"a: b", "'a: b'", "'a: b'"},
		{"a:", "'a:'", "'a:'"},
		{"a #b", "'a #b'", "'a #b'"},
		{"- a", "'- a'", "'- a'"},
		{"-", "'-'", "'-'"},
		{"---", "'---'", "'---'"},
		{"...", "'...'", "'...'"},
		{"? a", "'? a'", "'? a'"},
		{"> 3", "'> 3'", "'> 3'"},
		{"%60", "'%60'", "'%60'"},
		{"@a", "'@a'", "'@a'"},
		{"*a", "'*a'", "'*a'"},
		{"&a", "'&a'", "'&a'"},
		{"!a", "'!a'", "'!a'"},
		{"|", "'|'", "'|'"},
		{"#a", "'#a'", "'#a'"},
		{"'a'", "'''a'''", "'''a'''"},
		{`"a"`, `'"a"'`, `'"a"'`},
		{"<<", "'<<'", "'<<'"},
		{"a\nb", `"a\nb"`, `"a\nb"`},
		{"a\tb", `"a\tb"`, `"a\tb"`},
		{"a\u00a0\\\"b", `"a\U000000A0\\\"b"`, `"a\U000000A0\\\"b"`},
	} {
		t.Run(c.value, func(t *testing.T) {
			s := mustParse(t, "a: x\nb: {c: y}\n")
			block, err := s.Edit("a", c.value)
			if want := "a: " + c.block + "\nb: {c: y}\n"; err != nil || string(block) != want {
				t.Errorf("got %s, %v, want %s", block, err, want)
			}
			braces, err := s.Edit("b.c", c.value)
			if want := "a: x\nb: {c: " + c.braces + "}\n"; err != nil || string(braces) != want {
				t.Errorf("got %s, %v, want %s", braces, err, want)
			}
		})
	}
}

func TestRemove(t *testing.T) {
	for _, c := range []struct{ name, before, path, after string }{
		{"field", "a: 1\nb: 2 # c\n# d\ne: 3\n", "b", "a: 1\n# d\ne: 3\n"},
		{"first", "# c\na: 1\nb: 2\n", "a", "# c\nb: 2\n"},
		{"last without a newline", "a: 1\nb: 2", "b", "a: 1\n"},
		{"last of all", "a: 1\n", "a", ""},
		{"fields", "a:\n  b: 1\n  c: 2\nd: 3\n", "a", "d: 3\n"},
		{"last one under a name", "a:\n  b: 1\nc: 2\n", "a.b", "a:\nc: 2\n"},
		{"no value", "a:\nb: 1\n", "a", "b: 1\n"},
		{"lines", "a: |\n  x\n  y\n\nb: 1\n", "a", "\nb: 1\n"},
		{"with carriage returns", "a: 1\r\nb: 2\r\nc: 3\r\n", "b", "a: 1\r\nc: 3\r\n"},
		{"with a comment that is deeper", "a: |\n  x\nb:\n  c: 1\n\n  # its own\n# not its own\nd: 1\n", "b", "a: |\n  x\n# not its own\nd: 1\n"},
		{"item", "a:\n  - 1 # c\n  - 2\n", "a[0]", "a:\n  - 2\n"},
		{"first field of an item", "a:\n  - x: 1 # c\n    y: 2\n", "a[0].x", "a:\n  - y: 2\n"},
		{"last field of an item", "a:\n  - x: 1\n    y: 2\n", "a[0].y", "a:\n  - x: 1\n"},
		{"only field of an item", "a:\n  - x: 1 # c\n  - 2\n", "a[0].x", "a:\n  -  # c\n  - 2\n"},
		{"first field of an item before a comment", "a:\n  - x: 1\n    # c\n    y: 2\n", "a[0].x", "a:\n  - # c\n    y: 2\n"},
		{"first in braces", "a: { b: 1, c: 2 } # d\n", "a.b", "a: { c: 2 } # d\n"},
		{"middle in braces", "a: {b: 1, c: 2, d: 3}\n", "a.c", "a: {b: 1, d: 3}\n"},
		{"last in braces", "a: { b: 1, c: 2 }\n", "a.c", "a: { b: 1 }\n"},
		{"only one in braces", "a: { b: 1 }\n", "a.b", "a: {}\n"},
		{"in braces over lines", "a: {\n  b: 1, # one\n  c: 2  # two\n}\n", "a.c", "a: {\n  b: 1 # one\n    # two\n}\n"},
		{"in brackets", "a: [1, 2, 3]\n", "a[0]", "a: [2, 3]\n"},
		{"alias", "a: &x 1\nb: *x\n", "b", "a: &x 1\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := mustParse(t, c.before).Remove(Path(c.path))
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.after {
				t.Errorf("got\n%s\nwant\n%s", got, c.after)
			}
		})
	}
}

func TestEditRefuses(t *testing.T) {
	const text = "a: &x { b: 1 }\nc: *x\nd: [1, 2]\ne: &y 5\nf: *y\ng:\n"
	for _, c := range []struct{ name, path, value, want string }{
		{"fields", "a", "1", "p:1:1: a: one value cannot stand here: a set of fields is written"},
		{"list", "d", "1", "p:3:1: d: one value cannot stand here: a list is written"},
		{"name under a value", "e.f", "1", "p:4:1: e.f: one value cannot stand here: a single value is written"},
		{"name in a list", "d.f", "1", "p:3:1: d.f: one value cannot stand here: a list is written"},
		{"item among fields", "a[0]", "1", "p:1:1: a[0]: one value cannot stand here: a set of fields is written"},
		{"item far behind the last", "d[5]", "1", "p:3:1: d[5]: one value cannot stand here: a list is written"},
		{"behind an alias", "c.b", "1", "p:2:1: c.b: it stands behind an alias: write the fields out first"},
		{"shared by an alias", "a.b", "2", "p:1:12: a.b: this cannot change alone: edit the text by hand"},
		{"shared value", "e", "2", "p:4:7: e: this cannot change alone: edit the text by hand"},
		{"no path", "", "1", "p:1:1: the path is empty"},
		{"bad path", "a..b", "1", `p:1:1: a..b: the path "a..b" cannot be read at ".b"`},
		{"not UTF-8", "a.b", "\xff", "p:1:1: a.b: the new value is not UTF-8 text"},
		{"name too long", strings.Repeat("x", 201), "1", "p:6:3: " + strings.Repeat("x", 201) + ": this cannot change alone: edit the text by hand"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Parse("p", []byte(text))
			if err != nil {
				t.Fatal(err)
			}
			got, err := s.Edit(Path(c.path), c.value)
			var f fault.Fault
			if got != nil || !errors.As(err, &f) || f.Error() != c.want {
				t.Errorf("got %q, %v\nwant %s", got, err, c.want)
			}
		})
	}
	s := mustParse(t, text)
	for path, want := range map[Path]string{
		"h":   "plan.yaml:1:1: h: it is not written",
		"a":   "plan.yaml:1:1: a: this cannot change alone: edit the text by hand", // c needs its anchor
		"c.b": "plan.yaml:2:1: c.b: it stands behind an alias: write the fields out first",
		"":    "plan.yaml:1:1: the path is empty",
	} {
		if got, err := s.Remove(path); err == nil || err.Error() != want {
			t.Errorf("removing %q gives %q, %v", path, got, err)
		}
	}
}
