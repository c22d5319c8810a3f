package plan

import (
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

const guide = "../../docs/plan-file.md"

var fenced = regexp.MustCompile("(?ms)^```yaml\n(.*?)^```$")

// TestGuide reads every plan in the guide. A block that is no whole plan takes the place of those sections in the first.
func TestGuide(t *testing.T) {
	blocks := fenced.FindAllStringSubmatch(mustRead(t, guide), -1)
	if len(blocks) < 3 {
		t.Fatalf("the guide has %d blocks", len(blocks))
	}
	first := blocks[0][1]
	schema := compiled(t)
	for i, b := range blocks {
		text := b[1]
		if i > 0 {
			text = without(first, text) + text
		}
		if _, faults := readText(text); len(faults) > 0 {
			t.Errorf("block %d:\n%v", i+1, faults.Error())
		}
		if err := validate(schema, text); err != nil {
			t.Errorf("block %d: %v", i+1, err)
		}
	}
}

var section = regexp.MustCompile(`(?m)^([a-z]+):`)

// without returns a plan without the sections that another text has.
func without(plan, other string) string {
	var kept strings.Builder
	drop := map[string]bool{}
	for _, m := range section.FindAllStringSubmatch(other, -1) {
		drop[m[1]] = true
	}
	dropping := false
	for line := range strings.Lines(plan) {
		if m := section.FindStringSubmatch(line); m != nil {
			dropping = drop[m[1]]
		}
		if !dropping {
			kept.WriteString(line)
		}
	}
	return kept.String()
}

// TestGuideFields holds the guide's table against the types; -update writes it.
func TestGuideFields(t *testing.T) {
	const begin, end = "<!-- fields -->\n", "<!-- end of fields -->\n"
	text := mustRead(t, guide)
	before, rest, found := strings.Cut(text, begin)
	table, after, ended := strings.Cut(rest, end)
	if !found || !ended {
		t.Fatal("the guide has no place for the table")
	}
	want := "| under | fields |\n|---|---|\n" + fieldRows("", reflect.TypeFor[Document]())
	if *update {
		if err := os.WriteFile(guide, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if table != want {
		t.Errorf("the guide's table is not what the types say: run with -update and read the difference\n%s", want)
	}
}

// fieldRows returns a row for a struct and one for each struct inside it.
func fieldRows(under string, of reflect.Type) string {
	var names []string
	var inner strings.Builder
	for i := range of.NumField() {
		f := of.Field(i)
		name := f.Tag.Get("yaml")
		if name == "" || name == "*" {
			continue
		}
		mark := "`" + name + "`"
		if f.Tag.Get("required") == "true" {
			mark = "**" + mark + "**"
		}
		names = append(names, mark)
		if to := structOf(f.Type); to != nil {
			inner.WriteString(fieldRows(strings.TrimPrefix(under+" "+name, " "), to))
		}
	}
	at := "the plan"
	if under != "" {
		at = "`" + strings.ReplaceAll(under, " ", "` `") + "`"
	}
	return fmt.Sprintf("| %s | %s |\n", at, strings.Join(names, " ")) + inner.String()
}

// structOf returns the struct with fields of its own that a field holds, one or many, or nil.
func structOf(t reflect.Type) reflect.Type {
	if _, ok := reflect.New(t).Interface().(interface{ Parse(string) error }); ok {
		return nil
	}
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		return structOf(t.Elem())
	case reflect.Struct:
		if value, ok := t.FieldByName("Value"); ok { // an entry of a Named
			return structOf(value.Type)
		}
		return t
	}
	return nil
}
