package house

import (
	"fmt"
	"regexp"
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

// checkReasons names each dependency without a line of reason.
func checkReasons(direct []string, text string) []string {
	var faults []string
	for _, d := range direct {
		if !regexp.MustCompile("(?m)^- `" + regexp.QuoteMeta(d) + "`: .{20,}$").MatchString(text) {
			faults = append(faults, fmt.Sprintf("go.mod requires %s without a line \"- `%s`: why\" in %s", d, d, decisions))
		}
	}
	return faults
}

func TestCheckReasons(t *testing.T) {
	mod := "module m\n\ngo 1.26\n\nrequire one.org/a v1.0.0\n\nrequire (\n\ttwo.org/b v1.0.0\n\tthree.org/c v1.0.0 // indirect\n)\n\ntool four.org/d\n"
	text := "- `one.org/a`: the only one that does what is wanted\n- `two.org/b`: because\n"
	wantFaults(t, checkReasons(directDependencies(mod), text), []string{"go.mod requires two.org/b", "go.mod requires four.org/d"})
}
