package plan

import (
	"os"
	"path/filepath"
	"testing"

	"gloam/internal/fault"
)

// FuzzRead: no text makes Read panic or give a plan with a fault; what it reads, every set-up of it can be had.
func FuzzRead(f *testing.F) {
	f.Add(plain)
	paths, err := filepath.Glob("testdata/*.yaml")
	if err != nil || len(paths) < 2 {
		f.Fatal(paths, err)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, faults := readText(text)
		if (p == nil) != (faults.Err() != nil) {
			t.Fatalf("plan %v with faults %v", p != nil, faults)
		}
		for _, f := range faults {
			if f.Text == "" || f.Kind == fault.Call || f.Place.Line < 1 && f.Kind != fault.Note {
				t.Errorf("a fault without text or place: %+v", f)
			}
		}
		if p == nil {
			return
		}
		for _, name := range p.Setups() {
			if _, faults := p.Setup(name); len(faults) > 0 {
				t.Errorf("set-up %q: %v", name, faults)
			}
		}
	})
}
