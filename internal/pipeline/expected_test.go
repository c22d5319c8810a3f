package pipeline

import (
	"math"
	"os"
	"testing"

	"gloam/internal/document"
	"gloam/internal/unit"
)

// expected is the file expected.yaml beside an example: what sums by hand say of its set-ups.
type expected struct {
	Checks document.Named[check] `yaml:"checks" required:"true"`
}

// check is one number worked by hand, with the plan's own beside it.
type check struct {
	At      place    `yaml:"at" required:"true"`
	Read    string   `yaml:"read" required:"true" words:"level|direct level|full level|stops|over key|over ambient|swing|ratio|reserve|needed|take off|tone"`
	Over    *place   `yaml:"over"`                   // of stops: what the level is over
	Worked  float64  `yaml:"worked" required:"true"` // by hand
	Physics *float64 `yaml:"physics"`                // by a fuller sum where the first is too simple; why says how
	Within  float64  `yaml:"within" required:"true"` // stops
	Given   bool     `yaml:"given"`                  // the sum counts the surroundings, so black ones will not do
	From    string   `yaml:"from" required:"true"`   // the sum
	Why     string   `yaml:"why"`
	Real    *float64 `yaml:"real"` // our own output, surroundings as planned: a guard, no proof
}

// place says where a number is read. Of point, walk, person and tone a check has at most one.
type place struct {
	Setup  string    `yaml:"setup"`
	Point  string    `yaml:"point"`
	Source string    `yaml:"source"` // what gives the light; all together if not given
	Walk   string    `yaml:"walk"`
	Person string    `yaml:"person"`
	Tone   string    `yaml:"tone"`
	Lux    *unit.Lux `yaml:"lux"` // of over alone: a plain level
}

func readExpected(t testing.TB, path string) (expected, *document.Source) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	source, err := document.Parse(path, text)
	if err != nil {
		t.Fatal(err)
	}
	var e expected
	if _, faults := source.Decode(&e); len(faults) > 0 {
		t.Fatal(faults)
	}
	return e, source
}

// inStops are the numbers that are stops already; all others are compared by their ratio.
var inStops = map[string]bool{"stops": true, "over key": true, "over ambient": true, "swing": true, "ratio": true,
	"reserve": true, "take off": true, "tone": true}

// off returns how many stops a number lies from another of its kind.
func (c *check) off(got, want float64) float64 {
	if inStops[c.Read] {
		return got - want
	}
	return math.Log2(got / want)
}
