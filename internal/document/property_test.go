package document

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// author writes a document as a person might - blocks, braces, comments, empty lines, quotes, lines of text - and notes
// what each value is, so that the reader is checked against the writer and not against itself.
type author struct {
	t      *rapid.T
	out    strings.Builder
	values []value
	slots  []value // a path where a name or item may be added, with the text "" where it will be in braces
}

func (a *author) pick(label string, from ...string) string {
	return rapid.SampledFrom(from).Draw(a.t, label)
}

func (a *author) names(label string) []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom([]string{
		"key", "fill", "key side", "B12-D60", "from left", "a.b", "é½", "0.5", "012", "null", "yes", "it's", "x: y", "#1", "a, b", "[c]", "", "-", "18:35",
	}), 1, 4, rapid.ID).Draw(a.t, label)
}

var sampleTexts = []string{
	"88 %", "60 %", `12'6"`, "+2/3", "1/2 CTO", "18:35", "2027-03-03", "012", "1e3", "yes", "3,8 m", "-3.0 stops", "a#b", "26° – ½", "it's",
	"", " ", "null", "~", "a: b", "a #b", "- a", "[x]", "{y}", "&a", "*a", "!b", "%c", "@d", "`e", "> 3", "| x", "\"q\"", "'q'", "back\\slash", "tab\there", "two\nlines\n", "x\n\n y", "\u00a0", "\u2028", "\U0001f4a1",
}

func (a *author) scalar(flow bool) string {
	text := rapid.OneOf(rapid.SampledFrom(sampleTexts), rapid.StringN(0, 12, -1)).Draw(a.t, "text")
	style := map[string]byte{"plain": 0, "single": '\'', "double": '"'}[a.pick("style", "plain", "single", "double")]
	a.out.WriteString(encode(text, flow, style))
	return text
}

// line ends a line of a block, perhaps with a comment and lines that hold no value.
func (a *author) line() {
	a.out.WriteString(a.pick("line's end", "\n", "\n", "  # why\n", " # a: b\n", "\n\n", "\n# left\n", "\n      # right\n", "   \n"))
}

func (a *author) block(path Path, indent string, depth int) {
	for _, name := range a.names("names") {
		at := path.Join(name)
		a.out.WriteString(indent + encode(name, false, 0) + ":")
		a.content(at, indent, depth)
	}
}

// content writes what stands behind a colon.
func (a *author) content(at Path, indent string, depth int) {
	kinds := []string{"scalar", "scalar", "nothing", "lines", "flow"}
	if depth > 0 {
		kinds = append(kinds, "block", "list")
	}
	switch a.pick("kind", kinds...) {
	case "scalar":
		a.out.WriteString(a.pick("gap", " ", "  ", "\t"))
		a.values = append(a.values, value{at, a.scalar(false)})
		a.line()
	case "nothing":
		a.values = append(a.values, value{at, ""})
		a.line()
	case "lines":
		head := a.pick("head", "|", "|-")
		a.out.WriteString(" " + head + "\n" + indent + "  one\n" + indent + "   two # no comment\n")
		text := "one\n two # no comment\n"
		a.values = append(a.values, value{at, strings.TrimRight(text, map[bool]string{true: "\n"}[head == "|-"])})
	case "flow":
		a.out.WriteString(" ")
		a.flow(at, depth)
		a.line()
	case "block":
		a.line()
		a.block(at, indent+a.pick("step", " ", "  ", "    "), depth-1)
		a.slots = append(a.slots, value{at, "block"})
	case "list":
		a.line()
		n := rapid.IntRange(1, 3).Draw(a.t, "items")
		for i := range n {
			a.out.WriteString(indent + "- ")
			a.values = append(a.values, value{at.Item(i), a.scalar(false)})
			a.line()
		}
	}
}

// flow writes braces.
func (a *author) flow(path Path, depth int) {
	gap := a.pick("inside", "", " ")
	a.out.WriteString("{" + gap)
	for i, name := range a.names("names") {
		if i > 0 {
			a.out.WriteString("," + a.pick("behind a comma", " ", "  "))
		}
		a.out.WriteString(encode(name, true, 0) + ": ")
		if depth > 0 && rapid.Bool().Draw(a.t, "deeper?") {
			a.flow(path.Join(name), depth-1)
		} else {
			a.values = append(a.values, value{path.Join(name), a.scalar(true)})
		}
	}
	a.out.WriteString(gap + "}")
	a.slots = append(a.slots, value{path, ""})
}

func writeDocument(t *rapid.T) (*Source, []value, []value) {
	a := author{t: t}
	a.out.WriteString(a.pick("first line", "", "# A plan.\n\n", "---\n"))
	a.block("", "", 2)
	text := a.out.String()
	if rapid.Bool().Draw(t, "carriage returns?") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if rapid.Bool().Draw(t, "byte order mark?") {
		text = "\ufeff" + text
	}
	s, err := Parse("f", []byte(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return s, a.values, append(a.slots, value{"", "block"})
}

func TestReaderAgreesWithWriter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, want, _ := writeDocument(t)
		if got := flat(s); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("got  %q\nwant %q in\n%s", got, want, s.raw)
		}
	})
}

// After an edit the value is there, the others are as before, and the bytes before and behind it too.
func TestEditChangesOneValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, values, _ := writeDocument(t)
		v := rapid.SampledFrom(values).Draw(t, "value")
		text := rapid.OneOf(rapid.SampledFrom(sampleTexts), rapid.String()).Draw(t, "new text")
		out, err := s.Edit(v.path, text)
		if err != nil {
			t.Fatalf("%v in\n%s", err, s.raw)
		}
		checkEdited(t, values, out, v.path, text)
		trail, _ := s.follow(must(v.path.steps()))
		n := trail[len(trail)-1].value
		checkKept(t, s.raw, out, s.rawOffset(n.end(s.text))-s.rawOffset(n.span.start))
	})
}

func TestEditAddsOneValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, values, slots := writeDocument(t)
		path := rapid.SampledFrom(slots).Draw(t, "under").path.Join("new: #")
		if rapid.Bool().Draw(t, "names between?") {
			path = path.Join("between").Join("last")
		}
		text := rapid.SampledFrom(sampleTexts).Draw(t, "new text")
		out, err := s.Edit(path, text)
		if err != nil {
			t.Fatalf("%v in\n%s", err, s.raw)
		}
		checkEdited(t, values, out, path, text)
		checkKept(t, s.raw, out, 0)
	})
}

func TestRemoveTakesOneValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, values, _ := writeDocument(t)
		v := rapid.SampledFrom(values).Draw(t, "value")
		out, err := s.Remove(v.path)
		if err != nil {
			t.Fatalf("%v in\n%s", err, s.raw)
		}
		after, err := Parse("f", out)
		if err != nil {
			t.Fatalf("%v in\n%s", err, out)
		}
		if strings.HasSuffix(string(v.path), "]") {
			return // the items behind it have other paths now; proved has seen them
		}
		var want []value
		alone := true
		for _, w := range values {
			if w.path != v.path {
				want = append(want, w)
				alone = alone && w.path.parent() != v.path.parent() && !strings.HasPrefix(string(w.path), string(v.path.parent())+".")
			}
		}
		if alone {
			return // what held it is empty now
		}
		if got := flat(after); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("got  %q\nwant %q in\n%s", got, want, out)
		}
		checkKept(t, out, s.raw, 0)
	})
}

// checkKept checks that after has every byte of before, in order, but for replaced of them.
func checkKept(t *rapid.T, before, after []byte, replaced int) {
	head := 0
	for head < min(len(before), len(after)) && before[head] == after[head] {
		head++
	}
	tail := 0
	for tail < min(len(before), len(after))-head && before[len(before)-1-tail] == after[len(after)-1-tail] {
		tail++
	}
	if head+tail < len(before)-replaced {
		t.Fatalf("bytes before or behind the change are lost:\n%q\nbecame\n%q", before, after)
	}
}

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}
