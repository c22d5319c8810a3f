package cli

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test program stand in for gloam, so that scripts and tests start the real one.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"gloam": func() {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		defer stop()
		os.Exit(Run(ctx, os.Args[1:], os.Stdout, os.Stderr))
	}})
}

// Each script of testdata is a story at the terminal: what is typed, how it ends, what is printed.
func TestScripts(t *testing.T) {
	slow(t)
	testscript.Run(t, testscript.Params{
		Dir:             "testdata",
		ContinueOnError: true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "field": field, "same": same,
		},
	})
}

// assurance is the word no text of the program says.
var assurance = regexp.MustCompile(`(?i)\bsafe\b`)

// exits CODE WORDS... calls gloam with the words and holds it to its exit code. What holds for every call is checked
// with it: an answer for people fits 80 columns, a call that fails says why on standard error and prints no answer but a no,
// nothing is called safe, nothing panics.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	code := 0
	var exit *exec.ExitError
	if err := ts.Exec("gloam", args[1:]...); errors.As(err, &exit) {
		code = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	out, told := ts.ReadFile("stdout"), ts.ReadFile("stderr")
	if code != want {
		ts.Fatalf("exit code %d, want %d\n%s", code, want, told)
	}
	command := ""
	if len(args) > 1 {
		command = args[1]
	}
	asked := slices.Contains(args, "--json") || command == "__complete" || command == "completion" && !slices.Contains(args, "--help")
	if code != 0 && code != 3 && out != "" && !(command == "check" && asked) {
		ts.Fatalf("a call that fails prints %q", out)
	}
	if code != 0 && told == "" {
		ts.Fatalf("exit code %d, and not a word why", code)
	}
	if strings.Contains(told, "panic") || strings.Contains(told, "goroutine ") {
		ts.Fatalf("panics:\n%s", told)
	}
	if assurance.MatchString(out) || assurance.MatchString(told) {
		ts.Fatalf("calls something safe:\n%s%s", out, told)
	}
	for line := range strings.Lines(out) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); !asked && n > 80 {
			ts.Fatalf("a line of %d columns:\n%s", n, line)
		}
	}
}

// step is one step of a path into a JSON document: .name or [3] or [name of an item].
var step = regexp.MustCompile(`\.?([\w]+)|\[([^\]]+)\]`)

// field PATH VALUE TOLERANCE compares a field of the JSON document on standard output: a number within the tolerance
// (0 if left out), null, true, false, or a text.
func field(ts *testscript.TestScript, negated bool, args []string) {
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &v))
	for _, m := range step.FindAllStringSubmatch(args[0], -1) {
		v = into(v, m[1], m[2])
	}
	equal := false
	switch got := v.(type) {
	case float64:
		want, err := strconv.ParseFloat(args[1], 64)
		tolerance := 0.0
		if len(args) > 2 {
			tolerance, _ = strconv.ParseFloat(args[2], 64)
		}
		equal = err == nil && math.Abs(got-want) <= tolerance
	case nil:
		equal = args[1] == "null"
	case bool:
		equal = strconv.FormatBool(got) == args[1]
	case string:
		equal = got == args[1]
	case []any:
		equal = strconv.Itoa(len(got)) == args[1]
	}
	if equal == negated {
		ts.Fatalf("%s is %v, want %v", args[0], v, args[1:])
	}
}

// into returns a field of an object, or an item of a list by its number or its name.
func into(v any, name, item string) any {
	if m, ok := v.(map[string]any); ok && name != "" {
		return m[name]
	}
	list, _ := v.([]any)
	if i, err := strconv.Atoi(item); err == nil && i < len(list) {
		return list[i]
	}
	for _, x := range list {
		if m, ok := x.(map[string]any); ok && (m["name"] == item || m["source"] == item || m["setup"] == item) {
			return x
		}
	}
	return "nothing"
}

// same WORDS... calls gloam again, on one processor, and wants the bytes of the call before.
func same(ts *testscript.TestScript, _ bool, args []string) {
	before := ts.ReadFile("stdout")
	ts.Setenv("GOMAXPROCS", "1")
	ts.Check(ts.Exec("gloam", args...))
	ts.Setenv("GOMAXPROCS", "")
	if ts.ReadFile("stdout") != before {
		ts.Fatalf("prints other bytes:\n%s\nand on one processor:\n%s", before, ts.ReadFile("stdout"))
	}
}

// Every script says at its top what it is about.
func TestScriptsSayWhatTheyAreAbout(t *testing.T) {
	scripts, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatal("there are no scripts", err)
	}
	for _, name := range scripts {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(text), "# ") {
			t.Errorf("%s does not begin with what it is about", name)
		}
	}
}
