package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// machine is a path that exists on one machine only. It may follow anything but a letter, a digit or another path.
var machine = regexp.MustCompile(`(?:^|[^\w.~/-])/(?:work|root|tmp|home)/`)

func TestNoFileNamesAMachine(t *testing.T) {
	for _, f := range textFiles(t) {
		report(t, checkMachine(f))
	}
}

func checkMachine(f file) []string {
	var faults []string
	number := 0
	for line := range strings.Lines(f.text) {
		number++
		if m := machine.FindString(line); m != "" {
			faults = append(faults, fmt.Sprintf("%s:%d: %q is a path of one machine", f.path, number, m))
		}
	}
	return faults
}

func TestCheckMachine(t *testing.T) {
	folders := []string{"work", "root", "tmp", "home"}
	for _, name := range folders {
		wantFaults(t, checkMachine(file{"a.md", "one\nsee `/" + name + "/x`\n"}), []string{"a.md:2: "})
		wantFaults(t, checkMachine(file{"a.md", "see docs/" + name + "/x and ../" + name + "/x\n"}), nil)
	}
}

// assurance is the word the program never says: it points, people decide. "flicker-safe" is a term of its own.
var assurance = regexp.MustCompile(`(?i)(?:^|[^\w-])safe(?:$|[^\w-])`)

func TestTheProgramNeverAssures(t *testing.T) {
	for _, s := range goFiles(t) {
		if !s.isTest() {
			report(t, checkAssurance(s))
		}
	}
}

func checkAssurance(s source) []string {
	var faults []string
	ast.Inspect(s.tree, func(n ast.Node) bool {
		literal, ok := n.(*ast.BasicLit)
		if !ok || literal.Kind != token.STRING {
			return true
		}
		text, err := strconv.Unquote(literal.Value)
		if err != nil {
			panic("house: a string literal that is none")
		}
		if assurance.MatchString(text) {
			faults = append(faults, fmt.Sprintf("%s: %q assures: the program points, people decide", s.set.Position(n.Pos()), text))
		}
		return true
	})
	return faults
}

func TestCheckAssurance(t *testing.T) {
	text := "package a\n\n// safe to call twice\nconst (\n\tb = `It is safe to go.`\n\tc = \"safety\"\n)\n"
	wantFaults(t, checkAssurance(parse(t, file{"a.go", text})[0]), []string{"a.go:5:6: "})
}

func TestAssurance(t *testing.T) {
	for text, want := range map[string]bool{
		"the frame is safe": true, "Safe.": true, "not safe at 9 m/s": true,
		"flicker-safe shutter": false, "ask the safety adviser": false, "unsafe": false,
	} {
		if got := assurance.MatchString(text); got != want {
			t.Errorf("%q: an assurance is %v, want %v", text, got, want)
		}
	}
}

func TestEveryPackageSaysWhatItIs(t *testing.T) {
	report(t, checkDoc(goFiles(t)))
}

// checkDoc names each folder whose code has no package comment. A command's comment may begin as it likes.
func checkDoc(sources []source) []string {
	said := map[string]bool{}
	var folders []string
	for _, s := range sources {
		if s.isTest() {
			continue
		}
		folder := path.Dir(s.path)
		if _, seen := said[folder]; !seen {
			folders = append(folders, folder)
		}
		name := s.tree.Name.Name
		text := s.tree.Doc.Text()
		said[folder] = said[folder] || strings.HasPrefix(text, "Package "+name+" ") || name == "main" && text != ""
	}
	var faults []string
	for _, folder := range folders {
		if !said[folder] {
			faults = append(faults, fmt.Sprintf("%s: no file has a comment that begins \"Package %s\"", folder, path.Base(folder)))
		}
	}
	return faults
}

func TestCheckDoc(t *testing.T) {
	faults := checkDoc(parse(t,
		file{"internal/unit/a.go", "package unit\n"},
		file{"internal/unit/b.go", "// Package unit holds units.\npackage unit\n"},
		file{"internal/ray/a.go", "// Rays.\npackage ray\n"},
		file{"internal/ray/a_test.go", "// Package ray is here.\npackage ray\n"},
		file{"cmd/gloam/main.go", "// Gloam plans light.\npackage main\n"},
		file{"cmd/other/main.go", "package main\n"},
	))
	wantFaults(t, faults, []string{"internal/ray: ", "cmd/other: "})
}

// link is a relative link of Markdown, without its anchor.
var link = regexp.MustCompile(`\]\(([^)#:\s]+)(?:#[^)]*)?\)`)

// example is a plan that a document tells the reader to run.
var example = regexp.MustCompile(`examples/[\w/.-]+\.\w+`)

// document is the name of a document in capitals, as code and texts mention it.
var document = regexp.MustCompile(`(?:[\w.-]+/)*[A-Z][A-Z_]+\.md`)

func TestTextsPointAtWhatIsThere(t *testing.T) {
	for _, f := range textFiles(t) {
		for _, name := range document.FindAllString(f.text, -1) {
			mustExist(t, f.path, name)
		}
	}
	for _, f := range textFiles(t, ".md") {
		for _, m := range link.FindAllStringSubmatch(f.text, -1) {
			mustExist(t, f.path, path.Join(path.Dir(f.path), m[1]))
		}
		for _, name := range example.FindAllString(f.text, -1) {
			mustExist(t, f.path, name)
		}
	}
}

func mustExist(t *testing.T, from, name string) {
	t.Helper()
	if _, err := os.Stat(filepath.Join(root, name)); err != nil {
		t.Errorf("%s points at %s, which is not there", from, name)
	}
}

func TestChangelogHasRoomForTheNextRelease(t *testing.T) {
	if !regexp.MustCompile(`(?m)^## Unreleased$`).MatchString(read(t, "CHANGELOG.md")) {
		t.Error("CHANGELOG.md has no section \"## Unreleased\"")
	}
}

// The README names one script that passes the tests, and .ci/run is only its caller, so the two cannot part.
func TestOneScriptChecksAll(t *testing.T) {
	const script = "scripts/check"
	for _, name := range []string{"README.md", ".ci/run"} {
		if !strings.Contains(read(t, name), script) {
			t.Errorf("%s does not name %s", name, script)
		}
	}
	for _, name := range []string{script, ".ci/run"} {
		info, err := os.Stat(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode()&0o111 == 0 {
			t.Errorf("%s is not executable", name)
		}
	}
}
