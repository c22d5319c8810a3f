package plan

import (
	"flag"
	"os"
	"strings"
	"testing"

	"gloam/internal/document"
	"gloam/internal/fault"
)

var update = flag.Bool("update", false, "write what the program says into testdata; read the difference")

func entry[T any](name string, value T) document.Entry[T] {
	return document.Entry[T]{Name: name, Value: value}
}

// shelf opens files from memory.
func shelf(files map[string]string) func(string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		text, ok := files[name]
		if !ok {
			return nil, os.ErrNotExist
		}
		return []byte(text), nil
	}
}

func readText(text string) (*Plan, fault.List) { return Read("plan.yaml", []byte(text), shelf(nil)) }

// sound returns a plan that must be without a fault.
func sound(t *testing.T, text string) *Plan {
	t.Helper()
	p, faults := readText(text)
	if len(faults) > 0 {
		t.Fatalf("faults in a sound plan:\n%v", faults.Error())
	}
	return p
}

// lines returns the faults as a person sees them, one a line.
func lines(faults fault.List) []string {
	if len(faults) == 0 {
		return nil
	}
	return strings.Split(faults.Error(), "\n")
}

func mustRead(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
