package document

// proved makes the changes and reads the new text: it must hold value at steps, or nothing for nil, and all else as
// before. A change that would touch another value, such as one that an alias repeats, is a fault.
func (s *Source) proved(path Path, changes []change, steps []step, value *string) ([]byte, error) {
	text := s.apply(changes)
	after, err := Parse(s.file, text)
	if err != nil || !agrees(s.root, after.root, steps, value) {
		return nil, s.refuse(path, changes[0].start, "this cannot change alone: edit the text by hand")
	}
	return text, nil
}

// agrees reports whether after is before with value put at steps, or removed for nil.
func agrees(before, after *node, steps []step, value *string) bool {
	b, a := before.real(), after.real()
	if len(steps) == 0 {
		return a.kind == scalar && a.text == *value
	}
	if b.kind == scalar || a.kind == scalar || b.kind != a.kind && b.kind != null && a.kind != null {
		return false
	}
	i := b.index(steps[0])
	if value == nil && len(steps) == 1 {
		return len(a.entries) == len(b.entries)-1 && same(b.entries[:i], a.entries[:i]) && same(b.entries[i+1:], a.entries[i:])
	}
	if i < 0 {
		i = len(b.entries)
		added := entry{name: steps[0].name, value: &node{}}
		b = &node{entries: append(b.entries[:i:i], added)}
	}
	return len(a.entries) == len(b.entries) && a.entries[i].name == b.entries[i].name &&
		same(b.entries[:i], a.entries[:i]) && same(b.entries[i+1:], a.entries[i+1:]) &&
		agrees(b.entries[i].value, a.entries[i].value, steps[1:], value)
}

// same reports whether two rows of entries have the same names and values; nothing is the same as an empty value.
func same(before, after []entry) bool {
	if len(before) != len(after) {
		return false
	}
	for i := range before {
		b, a := before[i].value.real(), after[i].value.real()
		alike := b.kind == a.kind || b.kind != scalar && a.kind != scalar && len(b.entries)+len(a.entries) == 0
		if before[i].name != after[i].name || !alike || b.text != a.text || !same(b.entries, a.entries) {
			return false
		}
	}
	return true
}
