package document

// Leaf is a single value and where it is written.
type Leaf struct {
	Path  Path
	Value string
}

// Leaves returns the single values written at path and below it, in the order of the text; an alias counts as what it stands
// for. It is empty where nothing is written.
func (s *Source) Leaves(path Path) []Leaf {
	n := s.find(path)
	if n == nil {
		return nil
	}
	return n.leaves(path, nil)
}

// Names returns the names written at path, in the order of the text; none where no fields are.
func (s *Source) Names(path Path) (names []string) {
	if n := s.find(path); n != nil && n.kind == mapping {
		for _, e := range n.entries {
			names = append(names, e.name)
		}
	}
	return names
}

// find returns what is written at path, or nil.
func (s *Source) find(path Path) *node {
	steps, err := path.steps()
	if err != nil {
		return nil
	}
	trail, rest := s.follow(steps)
	if len(rest) > 0 {
		return nil
	}
	return trail[len(trail)-1].value.real()
}

func (n *node) leaves(path Path, found []Leaf) []Leaf {
	if n.kind == scalar {
		return append(found, Leaf{path, n.text})
	}
	for i, e := range n.entries {
		below := path.Item(i)
		if n.kind == mapping {
			below = path.Join(e.name)
		}
		found = e.value.real().leaves(below, found)
	}
	return found
}
