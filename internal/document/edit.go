package document

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"gloam/internal/fault"
)

// change puts text in the place of a span.
type change struct {
	span
	text string
}

// Edit returns the text with value at path; all else stays byte for byte, comments and blank lines too. A name that is
// not written is added at the end of its fields, with the names and lists between; item n of a list of n is added to it. The
// value is put in quotes where YAML needs them. A value that others share by an alias, or one that holds fields or a
// list, is not changed: the error is a fault.Fault.
func (s *Source) Edit(path Path, value string) ([]byte, error) {
	if !utf8.ValidString(value) {
		return nil, s.refuse(path, 0, "the new value is not UTF-8 text")
	}
	steps, trail, rest, err := s.way(path)
	if err != nil {
		return nil, err
	}
	last := trail[len(trail)-1]
	flow := slices.ContainsFunc(trail, func(e entry) bool { return e.value.flow })
	var changes []change
	switch {
	case len(rest) > 0:
		changes = s.insert(last, rest, value, flow)
	case last.value.kind != mapping && last.value.kind != list:
		changes = s.set(last.value, value, flow)
	}
	if changes == nil {
		return nil, s.refuse(path, last.lead, "one value cannot stand here: "+kindName(last.value)+" is written")
	}
	return s.proved(path, changes, steps, &value)
}

// Remove returns the text without the field, entry or item at path. Comments on its lines and, deeper than it, below it
// go with it; the others stay.
func (s *Source) Remove(path Path) ([]byte, error) {
	steps, trail, rest, err := s.way(path)
	if err != nil {
		return nil, err
	}
	last := trail[len(trail)-1]
	if len(rest) > 0 {
		return nil, s.refuse(path, last.lead, "it is not written")
	}
	holder := trail[len(trail)-2].value
	i := holder.index(steps[len(steps)-1])
	if holder.flow {
		return s.proved(path, s.cutFlow(holder, i), steps, nil)
	}
	return s.proved(path, s.cutBlock(holder, i), steps, nil)
}

// way takes path apart and follows it. An alias on the way is a fault: what lies behind it belongs to others too.
func (s *Source) way(path Path) (steps []step, trail []entry, rest []step, err error) {
	steps, err = path.steps()
	if err != nil {
		return nil, nil, nil, s.refuse(path, 0, err.Error())
	}
	if len(steps) == 0 {
		return nil, nil, nil, s.refuse(path, 0, "the path is empty")
	}
	trail, rest = s.follow(steps)
	for i, e := range trail {
		if e.value.kind == alias && (i < len(trail)-1 || len(rest) > 0) {
			return nil, nil, nil, s.refuse(path, e.lead, "it stands behind an alias: write the fields out first")
		}
	}
	return steps, trail, rest, nil
}

func (s *Source) refuse(path Path, offset int, text string) error {
	return fault.Fault{Place: s.place(offset), Path: string(path), Text: text}
}

func kindName(n *node) string {
	switch n.kind {
	case mapping:
		return "a set of fields"
	case list:
		return "a list"
	}
	return "a single value"
}

// set returns the changes that put value in the place of a single value, an alias or nothing.
func (s *Source) set(n *node, value string, flow bool) []change {
	if n.kind == null && n.span.start == n.span.end {
		return []change{{n.span, " " + encode(value, flow, 0)}}
	}
	if n.lines.start >= n.lines.end { // one line; a header without lines is one too
		return []change{{n.span, encode(value, flow, n.style)}}
	}
	old := span{n.lines.start, n.end(s.text)}
	if lines, header, ok := asLines(value, s.text[old.start:old.end]); ok {
		return []change{{n.span, header}, {old, lines}}
	}
	if old.end > old.start {
		old.start-- // with the newline before them
	}
	return []change{{n.span, encode(value, flow, 0)}, {old, ""}}
}

// asLines returns value as the lines of a literal scalar, indented as the old ones, and its header.
func asLines(value, old string) (lines, header string, ok bool) {
	indent := old[:len(old)-len(strings.TrimLeft(old, " "))]
	header = "|-"
	if body, ended := strings.CutSuffix(value, "\n"); ended {
		value, header = body, "|"
	}
	odd := strings.ContainsFunc(strings.ReplaceAll(value, "\n", ""), func(r rune) bool { return !plainRune(r) })
	if odd || indent == "" || value == "" || strings.Trim(value, " \n") != value {
		return "", "", false
	}
	return indent + strings.ReplaceAll(value, "\n", "\n"+indent), header, true
}

// insert returns the changes that add what rest names to the holder, or nil when it cannot hold that.
func (s *Source) insert(holder entry, rest []step, value string, flow bool) []change {
	n := holder.value
	asItem := rest[0].item >= 0
	fits := n.kind == null || n.kind == mapping && !asItem || n.kind == list && asItem
	if !fits || asItem && rest[0].item != len(n.entries) || slices.ContainsFunc(rest[1:], func(s step) bool { return s.item > 0 }) {
		return nil
	}
	switch {
	case n.flow && len(n.entries) == 0:
		return []change{{span{n.span.start + 1, n.span.start + 1}, flowEntry(rest, value)}}
	case n.flow:
		end := n.entries[len(n.entries)-1].value.end(s.text)
		return []change{{span{end, end}, ", " + flowEntry(rest, value)}}
	case flow && n.kind == null:
		marks := map[bool]string{true: "[]", false: "{}"}[asItem]
		return []change{{n.span, " " + marks[:1] + flowEntry(rest, value) + marks[1:]}}
	case flow:
		return nil
	case n == s.root && n.kind == null:
		text := blockEntry(rest, value, "") + "\n"
		if s.text != "" && !strings.HasSuffix(s.text, "\n") {
			text = "\n" + text
		}
		return []change{{span{len(s.text), len(s.text)}, text}}
	}
	indent, at := s.indent(holder.lead)+"  ", lineEnd(s.text, n.span.end)
	if len(n.entries) > 0 {
		indent, at = s.indent(n.entries[0].lead), lineEnd(s.text, n.span.end)
	}
	changes := []change{{span{at, at}, "\n" + indent + blockEntry(rest, value, indent)}}
	if n.kind == null && n.span.end > n.span.start {
		changes = append(changes, change{n.span, ""})
	}
	return changes
}

// indent returns blanks up to the column of offset.
func (s *Source) indent(offset int) string {
	return strings.Repeat(" ", utf8.RuneCountInString(s.text[lineStart(s.text, offset):offset]))
}

func blockEntry(steps []step, value, indent string) string {
	lead, deeper := "-", " "
	if steps[0].item < 0 {
		lead, deeper = encode(steps[0].name, false, 0)+":", "\n"+indent+"  "
	}
	if len(steps) == 1 {
		return lead + " " + encode(value, false, 0)
	}
	return lead + deeper + blockEntry(steps[1:], value, indent+"  ")
}

func flowEntry(steps []step, value string) string {
	lead := ""
	if steps[0].item < 0 {
		lead = encode(steps[0].name, true, 0) + ": "
	}
	if len(steps) == 1 {
		return lead + encode(value, true, 0)
	}
	if steps[1].item >= 0 {
		return lead + "[" + flowEntry(steps[1:], value) + "]"
	}
	return lead + "{" + flowEntry(steps[1:], value) + "}"
}

// apply returns the raw text with the changes made.
func (s *Source) apply(changes []change) []byte {
	slices.SortStableFunc(changes, func(a, b change) int { return cmp.Compare(a.start, b.start) })
	newline := "\n"
	if len(s.cuts) > 0 {
		newline = "\r\n"
	}
	var out []byte
	done := 0
	for _, c := range changes {
		out = append(out, s.raw[done:s.rawOffset(c.start)]...)
		out = append(out, strings.ReplaceAll(c.text, "\n", newline)...)
		done = s.rawOffset(c.end)
	}
	return append(out, s.raw[done:]...)
}
