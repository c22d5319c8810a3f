package document

import (
	"bytes"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// The expected schema is written by hand from draft 2020-12 [JSONSCHEMA2020].
func TestSchemaOfEachKindOfField(t *testing.T) {
	type inner struct {
		Share share `yaml:"share" required:"true" default:"60 %"`
	}
	type small struct {
		Title  string            `yaml:"title" required:"true" doc:"the film"`
		Side   string            `yaml:"side" words:"left|right" default:"left"`
		Count  *int              `yaml:"count" min:"1" max:"9" default:"2"`
		Gamma  float64           `yaml:"gamma" default:"2.4"`
		On     bool              `yaml:"on" default:"true"`
		Dates  []asWritten       `yaml:"dates" doc:"shooting days"`
		Inners Named[inner]      `yaml:"inners"`
		Plain  struct{ A int }   `yaml:"plain"`
		Unread map[string]string // no tag: not of the document
	}
	got, err := Schema("A <small> one", &small{})
	if err != nil {
		t.Fatal(err)
	}
	want := `{
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "A <small> one",
  "type": "object",
  "properties": {
    "title": {"type": ["string", "number", "boolean"], "description": "the film"},
    "side": {"enum": ["left", "right"], "default": "left"},
    "count": {"type": "integer", "minimum": 1, "maximum": 9, "default": 2},
    "gamma": {"type": ["number", "string"], "pattern": "^[-+]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)([eE][-+]?[0-9]+)?$", "default": 2.4},
    "on": {"enum": [true, false, "yes", "no"], "default": true},
    "dates": {
      "anyOf": [
        {"type": ["string", "number"], "description": "anything"},
        {"type": ["array", "null"], "items": {"type": ["string", "number"], "description": "anything"}}
      ],
      "description": "shooting days"
    },
    "inners": {"type": ["object", "null"], "additionalProperties": {"$ref": "#/$defs/document.inner"}},
    "plain": {"type": ["object", "null"], "properties": {}, "additionalProperties": false}
  },
  "additionalProperties": false,
  "required": ["title"],
  "$defs": {
    "document.inner": {
      "type": "object",
      "properties": {"share": {"type": ["string", "number"], "description": "a share such as 60 % or 0.6", "default": "60 %"}},
      "additionalProperties": false,
      "required": ["share"]
    }
  }
}`
	bare := func(text string) string { return strings.Join(strings.Fields(text), "") }
	if diff := cmp.Diff(bare(want), bare(string(got))); diff != "" {
		t.Errorf("%s\n%s", diff, got)
	}
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	first := must(Schema("x", samplePlan{}))
	for range 20 {
		if !bytes.Equal(first, must(Schema("x", samplePlan{}))) {
			t.Fatal("two schemas of one type differ")
		}
	}
}

// An independent validator, which also holds the schema against that of schemas, takes what Decode takes.
func TestSchemaAgreesWithDecode(t *testing.T) {
	loaded := must(jsonschema.UnmarshalJSON(bytes.NewReader(must(Schema("x", samplePlan{})))))
	c := jsonschema.NewCompiler()
	if err := c.AddResource("x.json", loaded); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("x.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct {
		name, text string
		sound      bool
	}{
		{"sample", samplePlanText, true},
		{"number for a text", "scene: 12\n", true},
		{"short form", "scene: a\nlamps: { key: { kit: b, at: 2 3 } }\n", true},
		{"single value for a list", "scene: a\nwalks: { a: 1 2 }\n", true},
		{"fields for a list", "scene: a\nwalks: { a: { x: 1 m, y: 2 m } }\n", true},
		{"nothing under names", "scene: a\nlamps:\n", true},
		{"override of one field", "scene: a\nlamps: { key: { kit: b } }\nsetups: { dusk: { lamps: { key: { dim: 60 % } } } }\n", true},
		{"yes", "scene: a\ncamera: { ei: 800, locked: yes }\n", true},
		{"decimal comma", "scene: a\ncamera: { ei: 800, gamma: '2,4' }\n", true},
		{"missing field", "date: 1\n", false},
		{"unknown field", "scene: a\nlamp: 1\n", false},
		{"unknown field deep down", "scene: a\nlamps: { key: { kit: b, dimm: 1 } }\n", false},
		{"unknown field in an override", "scene: a\nlamps: { key: { kit: b } }\nsetups: { dusk: { lamps: { key: { dimm: 60 % } } } }\n", false},
		{"unknown word", "scene: a\ncamera: { ei: 800, side: up }\n", false},
		{"out of range", "scene: a\ncamera: { ei: 7 }\n", false},
		{"fields for a value", "scene: { a: 1 }\n", false},
		{"list for fields", "scene: a\ncamera: [1]\n", false},
		{"list for names", "scene: a\nlamps: [key]\n", false},
	} {
		t.Run(r.name, func(t *testing.T) {
			var value any
			if err := yaml.Unmarshal([]byte(r.text), &value); err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(value); (err == nil) != r.sound {
				t.Errorf("the schema says %v", err)
			}
			s := mustParse(t, r.text)
			var plan, overlaid samplePlan
			_, faults := s.Decode(&plan)
			for _, name := range plan.Setups.Names() {
				_, more := s.DecodeOverlaid([]Path{Path("setups").Join(name)}, []string{"time"}, &overlaid)
				faults = append(faults, more...)
			}
			if (faults.Err() == nil) != r.sound {
				t.Errorf("Decode says %v", faults)
			}
		})
	}
}

func TestSchemaPanicsWithoutAStruct(t *testing.T) {
	defer func() {
		if recover() != "document: Schema needs a struct" {
			t.Error("no panic")
		}
	}()
	Schema("x", 1)
}
