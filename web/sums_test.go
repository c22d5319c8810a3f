package web

import (
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"testing"
)

// The bundle was made of the sources as they are, by the generator as it is, and nobody touched it since. When this fails:
// npm ci in web, then go generate ./web.
func TestTheBundleIsMadeOfItsSources(t *testing.T) {
	sums, err := os.ReadFile("dist/sums.txt")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]string{}
	for line := range strings.Lines(string(sums)) {
		sum, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
		listed[name] = sum
	}
	here := os.DirFS(".")
	for _, from := range []string{"gen", "src", "package-lock.json", "dist"} {
		err := fs.WalkDir(here, from, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || name == "dist/sums.txt" {
				return err
			}
			text, err := fs.ReadFile(here, name)
			if sum := fmt.Sprintf("%x", sha256.Sum256(text)); sum != listed[name] {
				t.Errorf("%s is not what the bundle was made with", name)
			}
			delete(listed, name)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for name := range listed {
		t.Errorf("the bundle was made with %s, which is gone", name)
	}
}

// count counts bytes.
type count int

func (c *count) Write(p []byte) (int, error) {
	*c += count(len(p))
	return len(p), nil
}

func TestThePageIsSmall(t *testing.T) {
	const most = 150_000 // bytes, compressed
	var all count
	z := gzip.NewWriter(&all)
	for _, name := range []string{"index.html", "page.css", "page.js"} {
		f, err := Page().Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(z, f); err != nil {
			t.Fatal(err)
		}
	}
	z.Close()
	if all > most {
		t.Errorf("the page is %d bytes compressed, more than %d", all, most)
	}
}
