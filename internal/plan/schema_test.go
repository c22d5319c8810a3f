package plan

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"gloam/internal/document"
)

// schemaFile is the schema that editors are given.
const schemaFile = "../../schema/plan.schema.json"

// TestSchemaIsUpToDate compares the checked-in schema with what the types say; -update writes it.
func TestSchemaIsUpToDate(t *testing.T) {
	got, err := document.Schema("A plan of Gloam", Document{})
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := mustRead(t, schemaFile); string(got) != want {
		t.Error("schema/plan.schema.json is not what the types say: run go test ./internal/plan -run Schema -update and read the difference")
	}
}

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	schema, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(mustRead(t, schemaFile))))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.schema.json", schema); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate reads a plan as an editor would, with another reader of YAML than ours, and holds it against the schema.
func validate(s *jsonschema.Schema, text string) error {
	var value any
	if err := yaml.Unmarshal([]byte(text), &value); err != nil {
		return err
	}
	return s.Validate(value)
}

// TestSchemaTakesSoundPlans: an editor must not mark what the program reads.
func TestSchemaTakesSoundPlans(t *testing.T) {
	s := compiled(t)
	paths, err := filepath.Glob("../../examples/*/plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range append(paths, "testdata/sound.yaml") {
		if err := validate(s, mustRead(t, path)); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
	if err := validate(s, plain); err != nil {
		t.Error(err)
	}
}

func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	cases := []struct {
		name   string
		change change
	}{
		{"no such field", change{"title:", "titel:"}},
		{"no such field in a lamp", change{"dim:", "dimm:"}},
		{"a word that is not one", change{"shape: everywhere", "shape: somewhere"}},
		{"no stop", change{", stop: T2.8", ""}},
		{"no such field in a set-up", change{"camera:", "setups: {night: {lamps: {lamp: {dimm: 4 %}}}}\ncamera:"}},
		{"a list for a text", change{"title: A test", "title: [A test]"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := changed(t, c.change)
			if err := validate(s, text); err == nil {
				t.Error("the schema takes it")
			}
			if _, faults := readText(text); faults.Err() == nil {
				t.Error("the program takes it")
			}
		})
	}
}
