package plan

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"

	"gloam/internal/fault"
)

// Save puts text in the file at path so that at every moment the file holds either all of what it held before or all of
// text: it writes a temporary file in the same folder, syncs it, renames it over path and syncs the folder. A link is
// followed and the file's permissions stay. The error is a fault of kind Unfinished that says which of the two the file
// holds.
func Save(path string, text []byte) error { return save(disk{}, path, text) }

// storage is what Save asks of a file system; tests put one in its place that fails or dies.
type storage interface {
	create(folder string) (temporary, error)
	rename(from, to string) error
	remove(path string) error
	syncFolder(folder string) error
}

type temporary interface {
	io.Writer
	Name() string
	Chmod(fs.FileMode) error
	Sync() error
	Close() error
}

func save(on storage, path string, text []byte) error {
	target, mode, err := saveTarget(path)
	if err != nil {
		return unsaved(path, err)
	}
	folder := filepath.Dir(target)
	temp, err := on.create(folder)
	if err != nil {
		return unsaved(path, err)
	}
	if err := fill(temp, mode, text); err != nil {
		return unsaved(path, errors.Join(err, on.remove(temp.Name())))
	}
	if err := on.rename(temp.Name(), target); err != nil {
		return unsaved(path, errors.Join(err, on.remove(temp.Name())))
	}
	if err := on.syncFolder(folder); err != nil {
		f := unsaved(path, err)
		f.Text = "saved, but a power cut may still undo it: " + reason(err)
		f.Hint = "save once more"
		return f
	}
	return nil
}

// saveTarget returns the file that path names, links followed, and the permissions it is to have.
func saveTarget(path string) (string, fs.FileMode, error) {
	target, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		return path, 0o644, nil
	}
	if err != nil {
		return "", 0, err
	}
	info, err := os.Stat(target)
	if err != nil {
		return "", 0, err
	}
	if !info.Mode().IsRegular() {
		return "", 0, errors.New("it is not an ordinary file")
	}
	return target, info.Mode().Perm(), nil
}

// fill writes, syncs and closes the temporary file.
func fill(temp temporary, mode fs.FileMode, text []byte) error {
	_, err := temp.Write(text)
	if err == nil {
		err = temp.Chmod(mode)
	}
	if err == nil {
		err = temp.Sync()
	}
	return errors.Join(err, temp.Close())
}

func unsaved(path string, err error) fault.Fault {
	return fault.Fault{Kind: fault.Unfinished, Place: fault.Place{File: path},
		Text: "not saved: " + reason(err), Hint: "the file is as it was"}
}

// reason says why in plain words, without the temporary file's name, which means nothing to a person.
func reason(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full"
	case errors.Is(err, fs.ErrPermission):
		return "you may not write there"
	case errors.Is(err, fs.ErrNotExist):
		return "the folder is not there"
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}

// disk is the real storage.
type disk struct{}

func (disk) create(folder string) (temporary, error) { return os.CreateTemp(folder, ".plan-*.tmp") }

func (disk) rename(from, to string) error { return os.Rename(from, to) }

func (disk) remove(path string) error { return os.Remove(path) }

func (disk) syncFolder(folder string) error {
	if runtime.GOOS == "windows" { // cannot sync a folder, and renames durably
		return nil
	}
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
