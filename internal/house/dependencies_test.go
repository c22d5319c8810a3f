package house

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// decisions is where each dependency has its line of reason: "- `module/path`: why".
const decisions = "docs/decisions.md"

func TestEveryDependencyHasAReason(t *testing.T) {
	direct := directDependencies(read(t, "go.mod"))
	if len(direct) == 0 {
		t.Fatal("go.mod: found no direct dependency")
	}
	report(t, checkReasons(direct, read(t, decisions)))
}

// directDependencies returns the modules that go.mod requires for our own code, and the tools.
func directDependencies(mod string) []string {
	var direct []string
	block := ""
	for line := range strings.Lines(mod) {
		words := strings.Fields(line)
		switch {
		case len(words) == 0 || words[0] == "//":
		case words[0] == ")":
			block = ""
		case len(words) == 2 && words[1] == "(":
			block = words[0]
		case block == "require" || block == "tool":
			words = append([]string{block}, words...)
			fallthrough
		case words[0] == "require" || words[0] == "tool":
			if !strings.Contains(line, "// indirect") {
				direct = append(direct, words[1])
			}
		}
	}
	return direct
}

// reason is a line of reason; the dot tells a module's path from another word in code quotes.
var reason = regexp.MustCompile("(?m)^- `([a-z0-9-]+\\.[^`]+)`: .{20,}$")

// checkReasons names each dependency without a line of reason and each line of reason without a dependency.
func checkReasons(direct []string, text string) []string {
	var faults, given []string
	for _, m := range reason.FindAllStringSubmatch(text, -1) {
		given = append(given, m[1])
		if !slices.Contains(direct, m[1]) {
			faults = append(faults, fmt.Sprintf("%s gives a reason for %s, which go.mod does not require", decisions, m[1]))
		}
	}
	for _, d := range direct {
		if !slices.Contains(given, d) {
			faults = append(faults, fmt.Sprintf("go.mod requires %s without a line \"- `%s`: why\" in %s", d, d, decisions))
		}
	}
	return faults
}

func TestCheckReasons(t *testing.T) {
	mod := "module m\n\ngo 1.26\n\nrequire one.org/a v1.0.0\n\nrequire (\n\ttwo.org/b v1.0.0\n\tthree.org/c v1.0.0 // indirect\n)\n\ntool four.org/d\n"
	text := "- `one.org/a`: the only one that does what is wanted\n- `two.org/b`: because\n- `three.org/c`: needed by another, so not ours to explain\n"
	wantFaults(t, checkReasons(directDependencies(mod), text), []string{"a reason for three.org/c", "go.mod requires two.org/b", "go.mod requires four.org/d"})
}
