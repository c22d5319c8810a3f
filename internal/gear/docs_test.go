package gear

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"gloam/internal/document"
)

var update = flag.Bool("update", false, "write the schema anew")

// The schema for editors is made from the types that read a kit.
func TestSchemaIsCurrent(t *testing.T) {
	const file = "../../schema/kit.schema.json"
	want, err := document.Schema("Gloam kit", kitText{})
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not that of the types: run this test with -update", file)
	}
}

// The example of the page about kit files is read without a fault or a note, and stands over the built-in kit.
func TestDocumentedKit(t *testing.T) {
	page, err := os.ReadFile("../../docs/kit-file.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(page), "```yaml\n")
	text, _, found := strings.Cut(rest, "```\n")
	if !found {
		t.Fatal("the page has no example")
	}
	matt, err := openTestdata("matt.ies")
	if err != nil {
		t.Fatal(err)
	}
	own, faults := Read("van.yaml", []byte(text), func(string) ([]byte, error) { return matt, nil })
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	k := BuiltIn().With(own)
	for _, l := range k.lamps {
		checkLamp(t, l)
	}
	for _, c := range k.cloths {
		checkEnergy(t, c)
	}
	if len(k.Notes()) != 1 {
		t.Errorf("notes %v, want one on full grid cloth", k.Notes())
	}
	// The levels were made up from 560,000 cd whose source lies 0.11 m behind the front, to three figures.
	spot, _ := k.Lamp("my spot")
	d, offset := beamOf(t, spot, 0)
	near(t, "peak", float64(d.Peak()), 560_000, 0.01)
	near(t, "offset", float64(offset), 0.11, 0.2)
	if c, _ := k.Cloth("full grid"); c.Through != 0.24 || c.Quality != Measured {
		t.Errorf("full grid passes %v, %s", c.Through, c.Quality)
	}
}
