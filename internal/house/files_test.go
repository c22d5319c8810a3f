package house

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// root is the top of the repository as seen from this package's tests.
const root = "../.."

// file is one text file of the repository; path is relative to the top, with forward slashes.
type file struct {
	path string
	text string
}

// skipped are folders that hold nothing of ours: Git's own and what a build leaves behind (.gitignore).
var skipped = []string{".git", "bin", "node_modules"}

// textFiles returns every text file whose name ends in one of the endings, or every one when none is given, in the
// order of the paths. A file with a zero byte is not text.
func textFiles(t *testing.T, endings ...string) []file {
	t.Helper()
	var files []file
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if slices.Contains(skipped, d.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() || !wanted(d.Name(), endings) {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil || bytes.IndexByte(data, 0) >= 0 {
			return err
		}
		name, err := filepath.Rel(root, path)
		files = append(files, file{filepath.ToSlash(name), string(data)})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func wanted(name string, endings []string) bool {
	return len(endings) == 0 || slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(name, e) })
}

// read returns the text of one file of the repository.
func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, path))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// source is one parsed Go file.
type source struct {
	file
	tree *ast.File
	set  *token.FileSet
}

// isTest reports whether the file is compiled for tests only.
func (s source) isTest() bool { return strings.HasSuffix(s.path, "_test.go") }

// goFiles parses every Go file, whatever its build constraints, so that no platform's files escape.
func goFiles(t *testing.T) []source {
	t.Helper()
	return parse(t, textFiles(t, ".go")...)
}

func parse(t *testing.T, files ...file) []source {
	t.Helper()
	var sources []source
	for _, f := range files {
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, f.path, f.text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		sources = append(sources, source{f, tree, set})
	}
	return sources
}

// report fails the test once for each fault.
func report(t *testing.T, faults []string) {
	t.Helper()
	for _, f := range faults {
		t.Error(f)
	}
}

// wantFaults fails unless each fault found contains the text wanted in the same place.
func wantFaults(t *testing.T, got, want []string) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("found %d faults %q, want %d like %q", len(got), got, len(want), want)
	}
	for i := range got {
		if !strings.Contains(got[i], want[i]) {
			t.Errorf("fault %d is %q, want it to contain %q", i, got[i], want[i])
		}
	}
}
