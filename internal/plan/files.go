package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
)

// Bounds of the files beside a plan, in bytes.
const (
	largestFile = 256 << 20
	largestAll  = 512 << 20
)

// Beside returns the function that opens files in the folder of the plan at path and below it, and no others, so that a
// plan that came by mail reads nothing else of this machine.
func Beside(path string) func(name string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		root, err := os.OpenRoot(filepath.Dir(path))
		if err != nil {
			return nil, err
		}
		defer root.Close()
		info, err := root.Stat(name)
		switch {
		case err != nil:
			return nil, err
		case !info.Mode().IsRegular():
			return nil, fault.Fault{Text: "this is not an ordinary file"}
		case info.Size() > largestFile:
			return nil, fault.Fault{Text: "the file is too big", Allowed: fmt.Sprintf("up to %d MiB", largestFile>>20)}
		}
		return root.ReadFile(name)
	}
}

// unopened returns why a file could not be opened, in plain words.
func unopened(err error) error {
	var f fault.Fault
	switch {
	case errors.As(err, &f):
		return f
	case errors.Is(err, fs.ErrNotExist):
		return fault.Fault{Text: "there is no such file beside the plan"}
	}
	return fault.Fault{Text: "this file cannot be read: " + reason(err), Hint: "only files in the plan's own folder are read"}
}

// files opens each file that a plan names once, and judges it once.
type files struct {
	open   func(name string) ([]byte, error)
	read   map[string][]byte
	failed map[string]error
	judged map[string]error // by what it is read as and its name
	size   int              // of all that was read
}

// get returns a file's bytes.
func (f *files) get(name string) ([]byte, error) {
	if err, met := f.failed[name]; met {
		return nil, err
	}
	if text, met := f.read[name]; met {
		return text, nil
	}
	if f.read == nil {
		f.read, f.failed, f.judged = map[string][]byte{}, map[string]error{}, map[string]error{}
	}
	text, err := f.open(name)
	if err == nil {
		f.size += len(text)
	}
	switch {
	case err != nil:
		err = unopened(err)
	case f.size > largestAll:
		err = fault.Fault{Text: "the files of this plan are too big together", Allowed: fmt.Sprintf("up to %d MiB", largestAll>>20)}
	default:
		f.read[name] = text
		return text, nil
	}
	f.failed[name] = err
	return nil, err
}

// mesh returns what is wrong with an OBJ file, notes too.
func (f *files) mesh(name string) error {
	return f.judge("mesh", name, func(text []byte) fault.List {
		_, dropped, err := geometry.ReadOBJ(name, bytes.NewReader(text))
		if err == nil && dropped > 0 {
			return fault.List{{Kind: fault.Note, Text: fmt.Sprintf("triangles without area, left out: %d", dropped)}}
		}
		return fault.Of(err, fault.Input)
	})
}

// photometry returns what is wrong with a photometric file, notes too.
func (f *files) photometry(name string) error {
	return f.judge("photometry", name, func(text []byte) fault.List {
		file, err := photometry.ReadFile(name, bytes.NewReader(text))
		if err != nil {
			return fault.Of(err, fault.Input)
		}
		return file.Notes
	})
}

func (f *files) judge(as, name string, read func(text []byte) fault.List) error {
	text, err := f.get(name)
	if err != nil {
		return err
	}
	key := as + " " + name
	if told, met := f.judged[key]; met {
		return told
	}
	if list := read(text); len(list) > 0 {
		err = list
	}
	f.judged[key] = err
	return err
}
