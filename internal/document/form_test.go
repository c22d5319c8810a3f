package document

import (
	"fmt"
	"strings"
	"testing"
)

// formFaults are texts that are not read at all, with every line told.
var formFaults = []struct{ name, text, want string }{
	{"tab for indentation", "a:\n\tb: 1\n  \tc: 2\n", "p:2:1: the line is indented with a tab; use blanks\np:3:3: the line is indented with a tab; use blanks"},
	{"not UTF-8", "a: é\nb: \xe9\n", "p:2:4: not UTF-8 text; save the file with the encoding UTF-8"},
	{"zero byte", "a: b\x00\n", "p:1:5: a control character (code 0); is this a plain text file?"},
	{"lone carriage return", "a: 1\rb: 2\n", "p:1:5: a control character (code 13); is this a plain text file?"},
	{"second document", "a: 1\n---\nb: 2\n", "p:2:1: a second document begins here; keep each in a file of its own"},
	{"second document, empty", "a: 1\n---\n", "p:2:1: a second document begins here; keep each in a file of its own"},
	{"text behind the end", "a: 1\n...\nb: 2\n", "p:3:1: a second document begins here; keep each in a file of its own"},
	{"value beside the start", "--- a: 1\n", "p:1:5: a value stands beside ---; begin it on the next line"},

	{"line too far in", "a: 1\n  b: 2\n", "p:2:3: the line is indented too far; put it under the name above, or give that name no value"},
	{"line too far in, below others", "x:\n  a: 1\n    b: 2\n  c: 3\n", "p:3:5: the line is indented too far; put it under the name above, or give that name no value"},
	{"line between two depths", "a:\n    b: 1\n  c: 2\n", "p:3:3: the indentation fits no line above"},
	{"line behind a list", "a:\n  - 1\n b: 2\n", "p:3:2: the indentation fits no line above"},
	{"first line deeper than the others", " a: 1\nb: 2\n", "p:2:1: the indentation fits no line above"},
	{"text less deep than its first line", "a: |\n  x\n y\n", "p:3:2: the indentation fits no line above"},
	{"line without a colon", "a: 1\nb\n", "p:2:1: a line without a colon; write name: value"},
	{"first line without a colon", "a\nb: 1\n", "p:1:1: a line without a colon and a blank after it; write name: value"},
	{"colon without a blank in the first line", "a:1\nb: 2\n", "p:1:1: a line without a colon and a blank after it; write name: value"},
	{"colon without a blank", "a: 1\nb:2\nc: 3\n", "p:2:1: a line without a colon; write name: value"},
	{"colon without a blank in braces", "a: {b:1}\n", "p:1:6: a colon without a blank after it; put a blank after the colon, or the value in quotes"},
	{"time in a list in braces", "{a: [18:35, 19:00]}\n", "p:1:8: a colon without a blank after it; put a blank after the colon, or the value in quotes\np:1:15: a colon without a blank after it; put a blank after the colon, or the value in quotes"},
	{"colon without a name", "a: 1\n: 2\n", "p:2:1: a colon without a name before it"},
	{"list for a name", "[a]: 1\n", "p:1:4: a colon without a name before it"},
	{"two colons in a line", "a: b: c\n", "p:1:4: a second colon in one value; put the value in quotes"},
	{"two colons in braces", "a: {b: c: d}\n", "p:1:8: a second colon in one value; read \"c: d\"; is a comma missing? Else put the value in quotes"},
	{"comma forgotten in braces", "a: {b: 1 c: 2}\n", "p:1:8: a second colon in one value; read \"1 c: 2\"; is a comma missing? Else put the value in quotes"},
	{"comma forgotten between lines in braces", "a: {b: 1\n  c: 2}\n", "p:2:3: a comma or } is missing"},
	{"decimal comma in braces", "a: {b: 3,8 m}\n", "p:1:10: a name without a value; read \"8 m\"; inside { } a comma ends a value; is it a decimal comma? Put the value in quotes"},
	{"two commas in brackets", "a: [1,,2]\n", "p:1:7: a comma with nothing before it"},
	{"two commas in braces", "a: {b: 1,, c: 2}\n", "p:1:10: a comma with nothing before it"},
	{"list beside its name", "a: - 1\n", "p:1:4: a list begins beside its name; begin it on the next line, or put the value in quotes"},
	{"name over two lines in braces", "{a\n b: 1}\n", "p:1:2: a name and its colon on different lines; read \"a b\"; is a comma or a colon missing?"},

	{"brace not closed", "a: {b: 1\n", "p:1:4: a { is not closed"},
	{"bracket not closed", "a: [1, 2\nb: 3\n", "p:2:1: a comma or ] is missing"},
	{"bracket not closed at the end", "a: [1, 2\n", "p:1:4: a [ is not closed"},
	{"bracket not opened", "a: ]\n", "p:1:4: a ] without its ["},
	{"brace closed twice", "a: {b: 1}}\n", "p:1:10: this belongs to nothing; put the whole value in quotes"},
	{"quote not closed", "a: 'b\nc: d\n", "p:1:4: a ' is not closed; a value that begins with ' must end with one"},
	{"double quote not closed", "é: \"b\nc: d\n", `p:1:4: a " is not closed; a value that begins with " must end with one`},
	{"quote behind the inches", "a: \"12'6\"\"\n", `p:1:10: a " is not closed; a value that begins with " must end with one`},
	{"text behind a quote", "a: 'it's'\n", "p:1:8: this belongs to nothing; put the whole value in quotes"},
	{"unknown escape", `a: "x\q"`, `p:1:4: a \ that means nothing inside " "; write \\ for a single \, or use ' '`},
	{"escape without digits", `a: "x\xzz"`, `p:1:4: a \ that means nothing inside " "; write \\ for a single \, or use ' '`},
	{"half a surrogate pair", `a: "\ud800"`, `p:1:4: a \ that means nothing inside " "; write \\ for a single \, or use ' '`},

	{"value with >", "a: >= 3\n", "p:1:4: a value cannot begin with > or |; put it in quotes"},
	{"value with > in braces", "a: {b: > 3}\n", "p:1:8: a value cannot begin with > or |; put it in quotes"},
	{"depth stated for lines", "a: |2\n   x\n", "p:1:4: a number behind > or |; leave it out"},
	{"depth stated for lines, as they stand", "a: |-2\n  x\n", "p:1:4: a number behind > or |; leave it out"},
	{"value with @", "a: @x\n", "p:1:4: a value cannot begin with @; put it in quotes"},
	{"value with a backquote", "a: `x\n", "p:1:4: a value cannot begin with `; put it in quotes"},
	{"value with %", "a: %60\n", "p:1:4: a value cannot begin with %; put it in quotes"},
	{"value with !", "a: !x\n", `p:1:4: a value cannot begin with !; read "!x"; put it in quotes`},
	{"tag", "a: !!str 5\n", `p:1:4: a value cannot begin with !; read "!!str"; put it in quotes`},
	{"directive", "%YAML 1.2\n---\na: 1\n", "p:1:1: a value cannot begin with %; put it in quotes"},
	{"question mark", "a: ? b\n", `p:1:4: a name cannot begin with "? "; put it in quotes`},
	{"merge key", "a: &a { b: 1 }\nc:\n  <<: *a\n", "p:3:3: merge keys (<<) are not read; write the fields out"},

	{"alias without its anchor", "a: &key 1\nb: *kye\n", `p:2:4: no anchor of that name before it; read "*kye"; did you mean "key"?`},
	{"star for a value", "a: *\n", "p:1:4: a value cannot begin with *; put it in quotes"},
	{"ampersand for a value", "a: &\n", "p:1:4: a value cannot begin with &; put it in quotes"},
	{"anchor on a name", "&x a: 1\n", "p:1:1: a name cannot begin with & or *; put it in quotes"},
	{"cycle", "a: &x [1, *x]\n", `p:1:11: the alias stands inside its own anchor, without end; read "*x"`},
	{"cycle through fields", "a: &x\n  b: { c: *x }\n", `p:2:11: the alias stands inside its own anchor, without end; read "*x"`},
}

func TestParseTellsWhatIsNotReadable(t *testing.T) {
	for _, c := range formFaults {
		t.Run(c.name, func(t *testing.T) {
			for _, text := range []string{c.text, "\ufeff" + strings.ReplaceAll(c.text, "\n", "\r\n")} {
				s, err := Parse("p", []byte(text))
				if got := fmt.Sprint(err); got != c.want {
					t.Errorf("%q\n got %s\nwant %s", text, got, c.want)
				}
				if err == nil {
					t.Errorf("read as %v", flat(s))
				}
			}
		})
	}
}

// A bomb of aliases, one of nested brackets and the like end in one plain fault, soon.
func TestParseIsBounded(t *testing.T) {
	var bomb strings.Builder
	bomb.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x]\n")
	for i := range 9 {
		fmt.Fprintf(&bomb, "a%d: &a%d [%s*a%d]\n", i+1, i+1, strings.Repeat(fmt.Sprintf("*a%d, ", i), 8), i)
	}
	long := strings.Repeat("x", 1<<20)
	deep := func(n int) string { return "a: " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n" }
	var steps, wide strings.Builder
	for i := range 65 {
		fmt.Fprintf(&steps, "%sa:\n", strings.Repeat(" ", i))
	}
	for i := range maxEntries + 1 {
		fmt.Fprintf(&wide, "n%d: 1\n", i)
	}
	for _, c := range []struct{ name, text, want string }{
		{"too big", strings.Repeat("# comment\n", maxBytes/10+1), `p: the file is too big; read "4194310 bytes"; allowed: up to 4 MiB`},
		{"bomb", bomb.String(), "p:6:9: more than 200000 values when the aliases are unfolded"},
		{"bomb of text", "a: &a " + long + "\nb: [*a, *a, *a, *a, *a]\n", "p:2:4: more than 4 MiB when the aliases are unfolded"},
		{"deep in brackets", deep(64), "p:1:67: more than 64 levels of fields inside fields"},
		{"deep by dashes", "a:\n  " + strings.Repeat("- ", 64) + "1\n", "p:2:129: more than 64 levels of fields inside fields"},
		{"deep by indentation", steps.String(), "p:65:66: more than 64 levels of fields inside fields"},
		{"deep by aliases", "a: &a " + strings.Repeat("[", 40) + strings.Repeat("]", 40) + "\nb: " + strings.Repeat("[", 30) + "*a" + strings.Repeat("]", 30) + "\n", "p:2:9: more than 64 levels of fields inside fields"},
		{"many values", "a: [" + strings.Repeat("1,", 200_000) + "]\n", "p:1:400001: more than 200000 values"},
		{"nothing but signs", strings.Repeat("[", maxBytes), "p:1:1: more than 200000 values"},
		{"many names", wide.String(), "p:5001:6: more than 5000 names side by side"},
		{"name too long", strings.Repeat("x", 201) + ": 1\n", `p:1:1: a name longer than 200 bytes; read "` + strings.Repeat("x", 59) + `…"`},
		{"many empty lines", "a: |\n  x\n" + strings.Repeat("\n", 51) + "b: 1\n", "p:53:1: more than 50 empty lines in a row"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("p", []byte(c.text))
			if got := fmt.Sprint(err); got != c.want {
				t.Errorf("got %.300s\nwant %s", got, c.want)
			}
		})
	}
	for _, c := range []struct{ name, text string }{
		{"as deep as allowed", deep(63)},
		{"as many values as allowed", "a: [" + strings.Repeat("1,", 199_997) + "]\n"},
		{"as many names as allowed", strings.Join(strings.SplitAfter(wide.String(), "\n")[:maxEntries], "")},
		{"as many names as allowed, in braces", "{" + strings.Join(strings.Split(wide.String(), "\n")[:maxEntries], ", ") + "}"},
		{"an alias often", "a: &a { b: [1, 2] }\nc: [" + strings.Repeat("*a, ", 40_000) + "]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Parse("p", []byte(c.text)); err != nil {
				t.Error(err)
			}
		})
	}
}
