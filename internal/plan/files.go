package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
)

// largestFile bounds a file beside a plan, in bytes.
const largestFile = 256 << 20

// Beside returns the function that opens files in the folder of the plan at path and below it, and no others. Its
// errors are faults without a place.
func Beside(path string) func(name string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		root, err := os.OpenRoot(filepath.Dir(path))
		if err != nil {
			return nil, fault.Fault{Text: "the plan's folder cannot be opened"}
		}
		defer root.Close()
		return readIn(root, name)
	}
}

func readIn(root *os.Root, name string) ([]byte, error) {
	info, err := root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fault.Fault{Text: "there is no such file beside the plan"}
	case err != nil:
		return nil, fault.Fault{Text: "this file cannot be read: only files in the plan's own folder are"}
	case !info.Mode().IsRegular():
		return nil, fault.Fault{Text: "this is not an ordinary file"}
	case info.Size() > largestFile:
		return nil, fault.Fault{Text: "the file is too big", Allowed: fmt.Sprintf("up to %d MiB", largestFile>>20)}
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, fault.Fault{Text: "this file cannot be read: " + reason(err)}
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, largestFile))
	if err != nil {
		return nil, fault.Fault{Kind: fault.Unfinished, Text: "this file could not be read to its end: " + reason(err)}
	}
	return text, nil
}

// files opens each file that a plan names once, and judges it once.
type files struct {
	open   func(name string) ([]byte, error)
	read   map[string][]byte
	failed map[string]error
	judged map[string]error // by what it is read as and its name
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
	if err != nil {
		f.failed[name] = err
		return nil, err
	}
	f.read[name] = text
	return text, nil
}

// mesh returns what is wrong with an OBJ file, notes too.
func (f *files) mesh(name string) error {
	return f.judge("mesh", name, func(text []byte) fault.List {
		_, dropped, err := geometry.ReadOBJ(name, bytes.NewReader(text))
		if err == nil && dropped > 0 {
			return fault.List{{Kind: fault.Note, Text: fmt.Sprintf("%d triangles have no area and are left out", dropped)}}
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
