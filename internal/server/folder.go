package server

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
)

// folder is the one folder served: its plans, and the desks of those that are open.
type folder struct {
	root *os.Root
	self *os.File // the folder itself, locked
	path string   // links followed

	mu    sync.Mutex
	desks map[string]*desk.Desk
	watch *watcher
}

func openFolder(name string) (*folder, error) {
	bad := func(err error) error {
		return fault.Fault{Kind: fault.Call, Text: "can't serve the folder: " + err.Error(), Read: name}
	}
	real, err := filepath.EvalSymlinks(name)
	if err == nil {
		real, err = filepath.Abs(real)
	}
	if err != nil {
		return nil, bad(err)
	}
	root, err := os.OpenRoot(real)
	if err != nil {
		return nil, bad(err)
	}
	self, err := root.Open(".")
	if err != nil {
		root.Close()
		return nil, bad(err)
	}
	if lock(self) {
		self.Close()
		root.Close()
		return nil, fault.Fault{Kind: fault.Call, Text: "another server has the folder", Read: name, Hint: "open the address it printed, or end it first"}
	}
	f := &folder{root: root, self: self, path: real, desks: map[string]*desk.Desk{}}
	if f.watch, err = newWatcher(); err != nil {
		self.Close()
		root.Close()
		return nil, bad(err)
	}
	return f, nil
}

func (f *folder) close() {
	f.watch.close()
	f.self.Close()
	f.root.Close()
}

// Bounds of a folder's listing: a home folder served by mistake must not take all day.
const (
	mostEntries = 20_000
	mostPlans   = 500
	deepest     = 5
)

// PlanFile is one plan of the folder.
type PlanFile struct {
	Plan  string `json:"plan" doc:"its path in the folder, with forward slashes"`
	Title string `json:"title"`
}

// plans lists the plans of the folder and below it, by path; hidden ones and links are left out.
func (f *folder) plans() []PlanFile {
	all := []PlanFile{}
	seen := 0
	fs.WalkDir(f.root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		seen++
		switch {
		case seen > mostEntries || len(all) == mostPlans:
			return fs.SkipAll
		case err != nil:
			return fs.SkipDir
		case name != "." && strings.HasPrefix(d.Name(), "."), strings.Count(name, "/") >= deepest:
			if d.IsDir() {
				return fs.SkipDir
			}
		case d.Type().IsRegular() && isYAML(name):
			if title, ok := f.title(name); ok {
				all = append(all, PlanFile{name, title})
			}
		}
		return nil
	})
	return all
}

func isYAML(name string) bool {
	return strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml")
}

// titleLines is how far down a plan's first fields are looked for.
const titleLines = 60

// title returns the title of a file that begins as a plan does. It is for a list; what it says is not judged.
func (f *folder) title(name string) (title string, ok bool) {
	file, err := f.root.Open(name)
	if err != nil {
		return "", false
	}
	defer file.Close()
	lines := bufio.NewScanner(io.LimitReader(file, 16<<10))
	for n := 0; n < titleLines && lines.Scan(); n++ {
		if strings.HasPrefix(lines.Text(), "gloam:") {
			ok = true
		}
		if after, found := strings.CutPrefix(lines.Text(), "title:"); found {
			title, _, _ = strings.Cut(after, " #")
		}
	}
	return strings.Trim(strings.TrimSpace(title), `"'`), ok
}

// file returns where a plan lies. A name that leads out of the folder, by dots or by a link, leads nowhere.
func (f *folder) file(name string) (string, error) {
	info, err := fs.FileInfo(nil), error(fs.ErrInvalid)
	hidden := slices.ContainsFunc(strings.Split(name, "/"), func(s string) bool { return strings.HasPrefix(s, ".") })
	if fs.ValidPath(name) && !hidden && !strings.ContainsRune(name, '\\') && isYAML(name) {
		info, err = f.root.Stat(name)
	}
	if err != nil || !info.Mode().IsRegular() {
		return "", notThere("there is no such plan in the folder", name)
	}
	real, err := filepath.EvalSymlinks(filepath.Join(f.path, filepath.FromSlash(name)))
	if inside, relErr := filepath.Rel(f.path, real); err != nil || relErr != nil || !filepath.IsLocal(inside) {
		return "", notThere("there is no such plan in the folder", name)
	}
	return real, nil
}

// desk returns the desk of a plan, opened when first asked for. Two names of one file share a desk.
func (f *folder) desk(name string) (*desk.Desk, string, error) {
	file, err := f.file(name)
	if err != nil {
		return nil, "", err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if d, open := f.desks[file]; open {
		return d, file, nil
	}
	d, err := desk.Open(file)
	if err != nil {
		return nil, "", problem(err)
	}
	f.desks[file] = d
	f.watch.add(file, d.Look)
	return d, file, nil
}

// read reads a text as the plan it is, with the files beside it.
func (f *folder) read(file, text string) (*plan.Plan, fault.List) {
	return plan.Read(filepath.Base(file), []byte(text), plan.Beside(file))
}

// create writes a new plan under the first free name and returns the name.
func (f *folder) create(stem string, text []byte) (string, error) {
	for n := 1; n <= mostPlans; n++ {
		name := stem + ".yaml"
		if n > 1 {
			name = fmt.Sprintf("%s-%d.yaml", stem, n)
		}
		file, err := f.root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", fault.Fault{Kind: fault.Unfinished, Text: "can't make a new plan: " + err.Error()}
		}
		file.Close() // the name is taken; Save fills it in one go
		if err := plan.Save(filepath.Join(f.path, name), text); err != nil {
			f.root.Remove(name)
			return "", err
		}
		return name, nil
	}
	return "", fault.Fault{Kind: fault.Unfinished, Text: "too many plans have this name"}
}

// stemOf makes the beginning of a file's name of a title.
func stemOf(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	const most = 40
	stem := strings.Join(words, "-")
	if len(stem) > most {
		stem = strings.Trim(stem[:most], "-")
	}
	if stem == "" {
		return "plan"
	}
	return path.Base(stem)
}
