package document

import "gloam/internal/fault"

// Places knows where each value read stands, for faults that only a later check finds.
type Places struct {
	source *Source
	spots  map[Path]spot
}

// spot is where a value stands; from is the path of the fragment that brought it, "" for the document itself.
type spot struct {
	offset int
	from   Path
}

// At returns the place of the value at path, or of the nearest value above it that is written. A single value's place
// is its text, that of fields or a list the name before it.
func (p Places) At(path Path) fault.Place {
	if p.source == nil {
		return fault.Place{}
	}
	return p.source.place(p.nearest(path).offset)
}

// Path returns path as the file has it: with the fragment's path before it if a fragment brought the value.
func (p Places) Path(path Path) Path { return written(p.nearest(path).from, path) }

func (p Places) nearest(path Path) spot {
	for {
		if s, ok := p.spots[path]; ok || path == "" {
			return s
		}
		path = path.parent()
	}
}

// written returns the path in the file of a value that the fragment at from brought to path.
func written(from, path Path) Path {
	switch {
	case from == "":
		return path
	case path == "":
		return from
	}
	return from + "." + path
}
