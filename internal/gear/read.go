package gear

import (
	"bytes"
	"fmt"
	"reflect"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/photometry"
)

// Read reads a user's own kit. The file name serves the faults alone; open returns the bytes of a photometric file that
// the kit names, by its name beside the kit file. Lamps may be like one of this kit or of the built-in one. The list
// holds every fault with its place, and notes on figures that do not agree with each other; with any fault that is no note
// the kit is nil.
func Read(file string, text []byte, open func(name string) ([]byte, error)) (*Kit, fault.List) {
	return read(file, text, open, BuiltIn())
}

func read(file string, text []byte, open func(string) ([]byte, error), base *Kit) (*Kit, fault.List) {
	source, err := document.Parse(file, text)
	if err != nil {
		return nil, fault.Of(err, fault.Input)
	}
	var kit kitText
	r := reader{kit: &kit, open: open, base: base, bad: map[document.Path]bool{}}
	r.places, r.faults = source.Decode(&kit)
	for _, f := range r.faults {
		r.spoil(document.Path(f.Path))
	}
	k := &Kit{lamps: r.lamps(), cloths: r.cloths()}
	r.faults.Sort()
	if r.faults.Err() != nil {
		return nil, r.faults
	}
	k.fill()
	return k, r.faults
}

// reader holds what one reading of a kit gathers.
type reader struct {
	kit    *kitText
	open   func(string) ([]byte, error)
	opened int  // photometric files
	base   *Kit // whose lamps others may be like
	places document.Places
	faults fault.List
	bad    map[document.Path]bool // at or under which a fault that is no note stands
}

// tell adds a fault at path.
func (r *reader) tell(path document.Path, f fault.Fault) {
	f.Place, f.Path = r.places.At(path), string(path)
	r.faults = append(r.faults, f)
	if f.Kind != fault.Note {
		r.spoil(path)
	}
}

// tellAll adds the faults of a called package, which knows no places.
func (r *reader) tellAll(path document.Path, err error) {
	for _, f := range fault.Of(err, fault.Input) {
		r.tell(path, f)
	}
}

// note adds a note at path.
func (r *reader) note(path document.Path, text string, values ...any) {
	r.tell(path, fault.Fault{Kind: fault.Note, Text: fmt.Sprintf(text, values...)})
}

// spoil marks path and all above it as holding a fault.
func (r *reader) spoil(path document.Path) {
	for end := len(path); end >= 0; end-- {
		if end == len(path) || path[end] == '.' || path[end] == '[' {
			r.bad[path[:end]] = true
		}
	}
}

// clean reports whether no fault stands at path or under it, or at or under a field of it when fields are named.
func (r *reader) clean(path document.Path, fields ...string) bool {
	for _, f := range fields {
		if r.bad[path.Join(f)] {
			return false
		}
	}
	return len(fields) > 0 || !r.bad[path]
}

// broken reports whether nothing of the struct that text points to could be read, which has been told.
func (r *reader) broken(path document.Path, text any) bool {
	return !r.clean(path) && reflect.ValueOf(text).Elem().IsZero()
}

// twice tells a name that another entry has already, told apart as the kit tells names.
func (r *reader) twice(seen map[string]string, name string, path document.Path) {
	if before, ok := seen[fold(name)]; ok {
		r.tell(path, fault.Fault{Text: fmt.Sprintf("the name %q is taken by %q", name, before)})
		return
	}
	seen[fold(name)] = name
}

// photometric reads the photometric file that a lamp names.
func (r *reader) photometric(path document.Path, name string) *photometry.File {
	switch {
	case r.open == nil:
		r.tell(path, fault.Fault{Text: "no file can be opened here", Read: name})
		return nil
	case r.opened == most:
		r.tell(path, fault.Fault{Text: fmt.Sprintf("the kit names more than %d photometric files", most), Read: name})
		return nil
	}
	r.opened++
	data, err := r.open(name)
	if err != nil {
		r.tell(path, fault.Fault{Text: err.Error(), Read: name})
		return nil
	}
	file, err := photometry.ReadFile(name, bytes.NewReader(data))
	if err != nil {
		r.faults = append(r.faults, fault.Of(err, fault.Input)...)
		r.spoil(path)
		return nil
	}
	r.faults = append(r.faults, file.Notes...)
	return file
}
