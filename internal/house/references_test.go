package house

import (
	"fmt"
	"go/ast"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// list is the joined list of sources; a package that has just been written may wait with its own in the folder.
const (
	list   = "docs/references.md"
	folder = "docs/references.d/"
)

// entry is one line of the list: `- [key] full reference`.
var entry = regexp.MustCompile(`^- \[([A-Z][A-Za-z0-9-]+)\] \S.{10,}$`)

// bracket finds a bracketed capital word that stands alone: neither an index (x[N2]), an array type ([N2]float64) nor
// a Markdown link ([CIE15](...)).
var bracket = regexp.MustCompile(`(?:^|[^\w)\]])\[([A-Z][A-Za-z0-9-]+)\](?:$|[^\w(\[*])`)

// key tells a source's key from another word in brackets: it holds a digit or is all capitals. A listed word needs no
// such sign.
var key = regexp.MustCompile(`[0-9]|^[A-Z-]+$`)

// keywords look like keys, but are words that LM-63 writes in brackets.
var keywords = []string{"MORE", "OTHER"}

// code is a code span or a fenced block of Markdown: an example there cites nothing.
var code = regexp.MustCompile("(?s)```.*?```|`[^`\n]*`")

func TestEverySourceCitedIsListed(t *testing.T) {
	listed, faults := readList(textFiles(t, ".md"))
	report(t, faults)
	report(t, checkCited(listed, cited(t)))
}

// readList returns the place of each key and a fault for each line out of form, out of order or listed twice.
func readList(files []file) (map[string]string, []string) {
	listed := map[string]string{}
	var faults []string
	for _, f := range files {
		if f.path != list && !strings.HasPrefix(f.path, folder) {
			continue
		}
		last := ""
		for line := range strings.Lines(f.text) {
			line = strings.TrimRight(line, "\n")
			if !strings.HasPrefix(line, "- ") {
				continue
			}
			m := entry.FindStringSubmatch(line)
			switch {
			case m == nil:
				faults = append(faults, fmt.Sprintf("%s: %q is not of the form `- [KEY] full reference`", f.path, line))
				continue
			case clash(listed[m[1]], f.path):
				faults = append(faults, fmt.Sprintf("%s: [%s] is listed already in %s", f.path, m[1], listed[m[1]]))
			case f.path == list && line < last:
				faults = append(faults, fmt.Sprintf("%s: [%s] stands after %q: the list is sorted, byte by byte", list, m[1], last))
			}
			listed[m[1]], last = f.path, line
		}
	}
	return listed, faults
}

// clash reports whether a key listed in one file may not stand in another: two packages may wait with the same source,
// but the joined list holds each once.
func clash(before, now string) bool {
	return before != "" && (before == now || before == list || now == list)
}

// checkCited names each key that is cited and not listed, or listed and not cited.
func checkCited(listed, cited map[string]string) []string {
	var faults []string
	for _, k := range slices.Sorted(maps.Keys(cited)) {
		if listed[k] == "" && key.MatchString(k) && !slices.Contains(keywords, k) {
			faults = append(faults, fmt.Sprintf("%s cites [%s], which %s does not list", cited[k], k, list))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(listed)) {
		if cited[k] == "" {
			faults = append(faults, fmt.Sprintf("%s lists [%s], which nothing cites", listed[k], k))
		}
	}
	return faults
}

// cited returns one place of each key cited in a Go comment, a document, or a comment of a data file.
func cited(t *testing.T) map[string]string {
	places := map[string]string{}
	note := func(place string, keys []string) {
		for _, k := range keys {
			places[k] = place
		}
	}
	sources := goFiles(t)
	names := declared(sources)
	for _, s := range sources {
		for _, group := range s.tree.Comments {
			keys := keysIn(group.Text())
			note(s.path, slices.DeleteFunc(keys, func(k string) bool { return names[path.Dir(s.path)+"."+k] }))
		}
	}
	for _, f := range textFiles(t, ".md") {
		if f.path != list && !strings.HasPrefix(f.path, folder) {
			note(f.path, keysIn(code.ReplaceAllString(f.text, "")))
		}
	}
	for _, f := range textFiles(t, ".yaml", ".csv") {
		note(f.path, keysIn(hashComments(f.text)))
	}
	return places
}

// keysIn returns the words of a text that may be keys of sources.
func keysIn(text string) []string {
	var keys []string
	for line := range strings.Lines(text) {
		// Two keys side by side share the blank between them, so each search starts at the last closing bracket.
		for m := bracket.FindStringSubmatchIndex(line); m != nil; m = bracket.FindStringSubmatchIndex(line) {
			keys = append(keys, line[m[2]:m[3]])
			line = " " + line[m[3]+1:]
		}
	}
	return keys
}

// hashComments keeps what stands behind a # on each line.
func hashComments(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		if _, comment, ok := strings.Cut(line, "#"); ok {
			b.WriteString(comment)
		}
	}
	return b.String()
}

// declared returns folder.Name for each name a package declares: in brackets, such a name is a link of its doc comment.
func declared(sources []source) map[string]bool {
	names := map[string]bool{}
	for _, s := range sources {
		for _, d := range s.tree.Decls {
			for _, name := range namesOf(d) {
				names[path.Dir(s.path)+"."+name] = true
			}
		}
	}
	return names
}

func namesOf(d ast.Decl) []string {
	if f, ok := d.(*ast.FuncDecl); ok {
		return []string{f.Name.Name}
	}
	var names []string
	for _, spec := range d.(*ast.GenDecl).Specs {
		switch s := spec.(type) {
		case *ast.TypeSpec:
			names = append(names, s.Name.Name)
		case *ast.ValueSpec:
			for _, n := range s.Names {
				names = append(names, n.Name)
			}
		}
	}
	return names
}

func TestKeysIn(t *testing.T) {
	cases := []struct {
		name, text string
		want       []string
	}{
		{"a key with a digit", "eq. 3 of [Ohno2013].", []string{"Ohno2013"}},
		{"all capitals", "as [EULUMDAT] has it", []string{"EULUMDAT"}},
		{"a hyphen", "[LM-63-2019], clause 5", []string{"LM-63-2019"}},
		{"two side by side", "[CIE15] [CIE13]", []string{"CIE15", "CIE13"}},
		{"at the ends of lines", "[CIE15]\n[CIE13]", []string{"CIE15", "CIE13"}},
		{"a name", "eq. 21 of [BornWolf]", []string{"BornWolf"}},
		{"a link to a method", "see [List.Err]", nil},
		{"an array type", "a [N2]float64, a [MAX]*Node", nil},
		{"an index", "row[N2] and f(x)[N2]", nil},
		{"a Markdown link", "[CIE15](docs/x.md)", nil},
		{"an interval", "t in [T0, T1]", nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := keysIn(c.text); !slices.Equal(got, c.want) {
				t.Errorf("keysIn(%q) = %q, want %q", c.text, got, c.want)
			}
		})
	}
}

func TestReadList(t *testing.T) {
	long := " Author, Title, year, publisher."
	cases := []struct {
		name  string
		files []file
		want  []string
	}{
		{"sorted, each once", []file{{list, "# Sources\n\n- [CIE15]" + long + "\n- [ISO2720]" + long + "\n"}}, nil},
		{"another document", []file{{"docs/decisions.md", "- any line\n"}}, nil},
		{"two packages share a source", []file{{folder + "a.md", "- [CIE15]" + long}, {folder + "b.md", "- [CIE15]" + long}}, nil},
		{"out of order", []file{{list, "- [ISO2720]" + long + "\n- [CIE15]" + long + "\n"}}, []string{"[CIE15] stands after \"- [ISO2720]"}},
		{"twice in the list", []file{{list, "- [CIE15]" + long + "\n- [CIE15]" + long + "\n"}}, []string{"[CIE15] is listed already"}},
		{"waiting, yet listed", []file{{folder + "a.md", "- [CIE15]" + long}, {list, "- [CIE15]" + long}}, []string{"[CIE15] is listed already in " + folder}},
		{"a key without a reference", []file{{list, "- [CIE15]\n"}}, []string{"is not of the form"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, faults := readList(c.files)
			wantFaults(t, faults, c.want)
		})
	}
}

func TestCheckCited(t *testing.T) {
	listed := map[string]string{"BornWolf": list, "CIE15": list, "ISO2720": list}
	used := map[string]string{"BornWolf": "glass.go", "CIE15": "xyz.go", "List": "fault.go", "MORE": "file.go", "OBJ": "obj.go", "Ohno2013": "cct.go"}
	wantFaults(t, checkCited(listed, used), []string{"obj.go cites [OBJ], which", "cct.go cites [Ohno2013], which", "lists [ISO2720], which nothing cites"})
}
