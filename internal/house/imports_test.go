package house

import (
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// table is where the order of the packages is written down.
const table = "ARCHITECTURE.md"

// inner is the import path of the folder that holds the packages of the table.
const inner = "gloam/internal/"

// door lists the packages that a command may import: a command starts the front door and prints its faults.
var door = []string{"cli", "fault"}

// arrows maps a package (a name in the table, or cmd/<name>) to the packages of the table that its code imports.
type arrows map[string][]string

func TestImportsFollowTheTable(t *testing.T) {
	order := readTable(read(t, table))
	if len(order) < 10 {
		t.Fatalf("%s: read only %d rows: %q", table, len(order), order)
	}
	report(t, checkArrows(order, imported(goFiles(t))))
}

var (
	row      = regexp.MustCompile("^\\| (`[a-z0-9`, ]+`) \\|")
	packages = regexp.MustCompile("`([a-z0-9]+)`")
)

// readTable returns the packages of the table from its top to its bottom.
func readTable(text string) []string {
	var order []string
	for line := range strings.Lines(text) {
		cell := row.FindStringSubmatch(line)
		if cell == nil {
			continue
		}
		for _, name := range packages.FindAllStringSubmatch(cell[1], -1) {
			order = append(order, name[1])
		}
	}
	return order
}

// imported gathers the arrows of all code that is not a test. A folder below a package counts as that package.
func imported(sources []source) arrows {
	found := arrows{}
	for _, s := range sources {
		from, ok := packageOf(path.Dir(s.path))
		if !ok || s.isTest() {
			continue
		}
		found[from] = append(found[from], importsOf(s)...)
	}
	for from, to := range found {
		slices.Sort(to)
		found[from] = slices.Compact(to)
	}
	return found
}

func packageOf(folder string) (string, bool) {
	if strings.HasPrefix(folder, "cmd/") {
		return folder, true
	}
	rest, ok := strings.CutPrefix(folder, "internal/")
	name, _, _ := strings.Cut(rest, "/")
	return name, ok
}

func importsOf(s source) []string {
	var names []string
	for _, spec := range s.tree.Imports {
		target, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			panic("house: import path is not a string")
		}
		if rest, ok := strings.CutPrefix(target, inner); ok {
			name, _, _ := strings.Cut(rest, "/")
			names = append(names, name)
		}
	}
	return names
}

// checkArrows names each arrow the order does not allow, each package without a row and each row without a package.
func checkArrows(order []string, found arrows) []string {
	var faults []string
	for _, from := range slices.Sorted(maps.Keys(found)) {
		if strings.HasPrefix(from, "cmd/") {
			faults = append(faults, checkCommand(from, found[from])...)
			continue
		}
		place := slices.Index(order, from)
		if place < 0 {
			faults = append(faults, fmt.Sprintf("internal/%s has no row in %s: add one where it belongs", from, table))
			continue
		}
		for _, to := range found[from] {
			if to != from && !slices.Contains(order[:place], to) {
				faults = append(faults, fmt.Sprintf("internal/%s imports internal/%s: "+
					"a package imports only packages above it in %s, and %s stands below %s", from, to, table, to, from))
			}
		}
	}
	for _, name := range order {
		if _, ok := found[name]; !ok {
			faults = append(faults, fmt.Sprintf("%s has a row for %s, but internal/%s holds no code", table, name, name))
		}
	}
	return faults
}

func checkCommand(from string, targets []string) []string {
	var faults []string
	for _, to := range targets {
		if !slices.Contains(door, to) {
			faults = append(faults, fmt.Sprintf("%s imports internal/%s: a command imports only %s, the front door",
				from, to, strings.Join(door, " and ")))
		}
	}
	return faults
}

func TestCheckArrows(t *testing.T) {
	order := []string{"fault", "unit", "meter", "cli"}
	sound := func(change arrows) arrows {
		all := arrows{"fault": nil, "unit": {"fault"}, "meter": {"fault", "unit"}, "cli": {"meter"}, "cmd/gloam": {"cli"}}
		maps.Copy(all, change)
		return all
	}
	cases := []struct {
		name  string
		found arrows
		want  []string
	}{
		{"every arrow points up", sound(nil), nil},
		{"a folder imports its own package", sound(arrows{"unit": {"unit"}}), nil},
		{"an arrow points down", sound(arrows{"unit": {"meter"}}), []string{"internal/unit imports internal/meter: a package imports only packages above it"}},
		{"two arrows point down", sound(arrows{"fault": {"cli", "unit"}}), []string{"internal/fault imports internal/cli", "internal/fault imports internal/unit"}},
		{"a package has no row", sound(arrows{"helper": nil}), []string{"internal/helper has no row"}},
		{"a command goes past the front door", sound(arrows{"cmd/gloam": {"cli", "meter"}}), []string{"cmd/gloam imports internal/meter"}},
		{"a row has no package", arrows{"fault": nil, "unit": nil, "cli": nil}, []string{"row for meter"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { wantFaults(t, checkArrows(order, c.found), c.want) })
	}
}

func TestImported(t *testing.T) {
	got := imported(parse(t,
		file{"internal/unit/a.go", "package unit\n\nimport \"gloam/internal/meter\"\n"},
		file{"internal/unit/a_test.go", "package unit\n\nimport \"gloam/internal/cli\"\n"},
		file{"internal/ray/asm/a.go", "//go:build ignore\n\npackage main\n\nimport (\n\t\"fmt\"\n\t\"gloam/internal/unit\"\n)\n"},
		file{"cmd/gloam/main.go", "package main\n\nimport \"gloam/internal/cli\"\n"},
	))
	want := arrows{"unit": {"meter"}, "ray": {"unit"}, "cmd/gloam": {"cli"}}
	if !maps.EqualFunc(got, want, slices.Equal) {
		t.Errorf("imported gives %q, want %q", got, want)
	}
}

func TestReadTable(t *testing.T) {
	text := "# Title\n\n| package | holds |\n|---|---|\n| `fault` | one record, as `unit` |\n| `power`, `rigging` | loads |\n"
	if got, want := readTable(text), []string{"fault", "power", "rigging"}; !slices.Equal(got, want) {
		t.Errorf("readTable gives %q, want %q", got, want)
	}
}
