package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"gloam/internal/fault"
)

var (
	before = []byte(strings.Repeat("title: what was there before\n", 400))
	after  = []byte(strings.Repeat("title: what is saved now, longer\n", 500))
)

// watched is the real disk with a hook before every call, and writes cut in two so that a hook falls between halves.
type watched struct {
	disk
	hook func() error
}

type watchedFile struct {
	temporary
	hook func() error
}

func (w watched) create(folder string) (temporary, error) {
	if err := w.hook(); err != nil {
		return nil, err
	}
	f, err := w.disk.create(folder)
	return watchedFile{f, w.hook}, err
}

func (w watched) rename(from, to string) error {
	if err := w.hook(); err != nil {
		return err
	}
	return w.disk.rename(from, to)
}

func (w watched) syncFolder(folder string) error {
	return errors.Join(w.hook(), w.disk.syncFolder(folder), w.hook())
}

func (f watchedFile) Write(p []byte) (int, error) {
	half := len(p) / 2
	if err := f.hook(); err != nil {
		return 0, err
	}
	n, err := f.temporary.Write(p[:half])
	if err == nil {
		err = f.hook()
	}
	if err != nil {
		return n, err
	}
	m, err := f.temporary.Write(p[half:])
	return n + m, errors.Join(err, f.hook())
}

func (f watchedFile) Chmod(m fs.FileMode) error { return errors.Join(f.hook(), f.temporary.Chmod(m)) }

func (f watchedFile) Sync() error { return errors.Join(f.hook(), f.temporary.Sync(), f.hook()) }

func (f watchedFile) Close() error { return errors.Join(f.temporary.Close(), f.hook()) }

// killVariable tells a child of TestSaveKilled at which step to die.
const killVariable = "GLOAM_TEST_SAVE_DIES_AT"

// TestSaveKilled runs Save in a child that kills itself at each step in turn: the file must hold all of the old text or
// all of the new, never a mixture, and a later Save must work.
func TestSaveKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.yaml")
	if at := os.Getenv(killVariable); at != "" {
		saveAndDie(os.Getenv(killVariable+"_PATH"), at)
		return
	}
	for at := 1; ; at++ {
		if err := os.WriteFile(path, before, 0o600); err != nil {
			t.Fatal(err)
		}
		child := exec.Command(os.Args[0], "-test.run=^TestSaveKilled$")
		child.Env = append(os.Environ(), killVariable+"="+strconv.Itoa(at), killVariable+"_PATH="+path)
		err := child.Run()
		got, readErr := os.ReadFile(path)
		if readErr != nil {
			t.Fatalf("step %d: %v", at, readErr)
		}
		if !bytes.Equal(got, before) && !bytes.Equal(got, after) {
			t.Fatalf("step %d: the file holds %d bytes, neither the old text nor the new", at, len(got))
		}
		if err == nil { // no step left to die at
			if at < 10 || !bytes.Equal(got, after) {
				t.Fatalf("save ended after %d steps; new text there: %v", at-1, bytes.Equal(got, after))
			}
			break
		}
		if err := Save(path, after); err != nil {
			t.Fatalf("step %d: save after the kill: %v", at, err)
		}
	}
}

func saveAndDie(path, at string) {
	left, err := strconv.Atoi(at)
	if err != nil {
		panic("plan: step is not a number")
	}
	hook := func() error {
		if left--; left == 0 {
			self, _ := os.FindProcess(os.Getpid())
			_ = self.Kill()
			select {} // the signal is on its way
		}
		return nil
	}
	if err := save(watched{hook: hook}, path, after); err != nil {
		panic(err)
	}
}

// full is a disk that takes n bytes more.
type full struct {
	disk
	left *int
}

type fullFile struct {
	temporary
	left *int
}

func (f full) create(folder string) (temporary, error) {
	t, err := f.disk.create(folder)
	return fullFile{t, f.left}, err
}

func (f fullFile) Write(p []byte) (int, error) {
	n := min(len(p), *f.left)
	*f.left -= n
	m, err := f.temporary.Write(p[:n])
	if err == nil && n < len(p) {
		err = &fs.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return m, err
}

func TestSaveFullDisk(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "plan.yaml")
	if err := os.WriteFile(path, before, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 1, 4096, len(before), len(after) - 1} {
		left := room
		err := save(full{left: &left}, path, after)
		wantUnsaved(t, fmt.Sprintf("%d bytes of room", room), path, err)
		wantAlone(t, folder)
	}
	left := len(after)
	if err := save(full{left: &left}, path, after); err != nil {
		t.Error(err)
	}
}

// TestSaveFullTmpfs fills a real file system, where this machine lets us mount one.
func TestSaveFullTmpfs(t *testing.T) {
	folder := t.TempDir()
	if os.Getuid() != 0 || exec.Command("mount", "-t", "tmpfs", "-o", "size=24k", "tmpfs", folder).Run() != nil {
		t.Skip("cannot mount a file system here")
	}
	defer func() {
		if err := exec.Command("umount", folder).Run(); err != nil {
			t.Error(err)
		}
	}()
	path := filepath.Join(folder, "plan.yaml")
	if err := os.WriteFile(path, before, 0o600); err != nil {
		t.Fatal(err)
	}
	wantUnsaved(t, "tmpfs", path, Save(path, after))
	wantAlone(t, folder)
}

func wantUnsaved(t *testing.T, name, path string, err error) {
	t.Helper()
	want := path + ": not saved: the disk is full; the file is as it was"
	if err == nil || err.Error() != want || fault.Code(err) != 4 {
		t.Errorf("%s: error is %v, want %s", name, err, want)
	}
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, before) {
		t.Errorf("%s: the old text is gone (%v)", name, err)
	}
}

// wantAlone fails unless the folder holds the plan only: no temporary file is left.
func wantAlone(t *testing.T, folder string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 1 {
		t.Errorf("the folder holds %v (%v), want the plan only", entries, err)
	}
}

// TestSaveEachCallFails fails every call in turn: an error each time, and old or new text whole.
func TestSaveEachCallFails(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "plan.yaml")
	broken := errors.New("broken")
	for at := 1; ; at++ {
		if err := os.WriteFile(path, before, 0o600); err != nil {
			t.Fatal(err)
		}
		left := at
		hook := func() error {
			if left--; left == 0 {
				return broken
			}
			return nil
		}
		err := save(watched{hook: hook}, path, after)
		got, _ := os.ReadFile(path)
		if !bytes.Equal(got, before) && !bytes.Equal(got, after) {
			t.Fatalf("call %d: mixed text", at)
		}
		if left > 0 {
			if at < 8 || err != nil {
				t.Errorf("only %d calls, error %v", at-1, err)
			}
			return
		}
		if err == nil {
			t.Errorf("call %d failed and Save did not say so", at)
		}
		if strings.Contains(fmt.Sprint(err), "as it was") != bytes.Equal(got, before) {
			t.Errorf("call %d: %v, yet old text there: %v", at, err, bytes.Equal(got, before))
		}
	}
}

func TestSaveKeepsPermissionsAndLinks(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "plan.yaml"), filepath.Join(folder, "today.yaml")
	if err := os.WriteFile(path, before, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("plan.yaml", link); err != nil {
		t.Skip(err)
	}
	if err := Save(link, after); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); !bytes.Equal(got, after) {
		t.Error("the file behind the link does not hold the new text")
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is gone (%v)", err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Errorf("permissions are now %v", info.Mode().Perm())
	}
}

func TestSaveNewFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.yaml")
	if err := Save(path, after); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); !bytes.Equal(got, after) {
		t.Error("the new file does not hold the text")
	}
}

func TestSaveRefuses(t *testing.T) {
	folder := t.TempDir()
	cases := []struct{ name, path, want string }{
		{"a folder", folder, "not saved: it is not an ordinary file"},
		{"no such folder", filepath.Join(folder, "none", "plan.yaml"), "not saved: the folder is not there"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if err := Save(c.path, after); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want %q", err, c.want)
			}
		})
	}
}
