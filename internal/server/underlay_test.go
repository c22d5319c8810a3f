package server

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gloam/internal/plan"
	"gloam/internal/unit"
)

// floor is a picture of 40 by 20 pixels.
func floor(t *testing.T, encode func(*bytes.Buffer, image.Image) error) string {
	t.Helper()
	im := image.NewRGBA(image.Rect(0, 0, 40, 20))
	im.Set(3, 3, color.Black)
	var b bytes.Buffer
	if err := encode(&b, im); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func asFile(r *http.Request) { r.Header.Set("Content-Type", "application/octet-stream") }

// A picture is kept beside the plan under a name that is free, and shown as what it is; anything else is refused.
func TestAPhotographIsKept(t *testing.T) {
	folder := withPlan(t, small)
	c := running(t, folder)
	asPNG := floor(t, func(b *bytes.Buffer, im image.Image) error { return png.Encode(b, im) })
	asJPEG := floor(t, func(b *bytes.Buffer, im image.Image) error { return jpeg.Encode(b, im, nil) })
	for _, row := range []struct{ name, text, want string }{
		{"Ground Floor.PNG", asPNG, "ground-floor.png"},
		{"Ground Floor.png", asPNG, "ground-floor-2.png"},
		{"../../etc/passwd.png", asJPEG, "passwd.jpg"}, // by what it is, not by what it is called
		{"…", asPNG, "photograph.png"},
	} {
		status, text := c.ask("POST", "/api/underlay?plan=table.yaml&name="+strings.ReplaceAll(row.name, " ", "%20"), row.text, asFile)
		if status != 200 || !strings.Contains(text, `"file":"`+row.want+`"`) {
			t.Fatalf("%s: %d %s", row.name, status, text)
		}
		if kept, err := os.ReadFile(filepath.Join(folder, row.want)); err != nil || string(kept) != row.text {
			t.Errorf("%s: %v", row.want, err)
		}
		if status, shown := c.ask("GET", "/api/underlay?plan=table.yaml&file="+row.want, nil, nil); status != 200 || shown != row.text {
			t.Errorf("%s is shown with %d", row.want, status)
		}
	}
	for _, row := range []struct {
		text string
		want int
	}{{"<svg/>", 400}, {"", 400}, {asPNG[:20], 400}, {strings.Repeat("x", mostPhotograph+1), 413}} {
		if status, text := c.ask("POST", "/api/underlay?plan=table.yaml&name=a.png", row.text, asFile); status < 400 {
			t.Errorf("%.20q was kept: %d %s", row.text, status, text)
		}
	}
	if status, _ := c.ask("POST", "/api/underlay?plan=nobody.yaml&name=a.png", asPNG, asFile); status != 404 {
		t.Errorf("beside a plan that is not there: %d", status)
	}
	os.WriteFile(filepath.Join(folder, "secret.txt"), []byte("s"), 0o600)
	os.Symlink("/etc/hostname", filepath.Join(folder, "link.png"))
	for _, file := range []string{"secret.txt", "../a.png", "/etc/a.png", "link.png", "table.yaml", "nobody.png", `..\a.png`} {
		if status, text := c.ask("GET", "/api/underlay?plan=table.yaml&file="+file, nil, nil); status < 400 {
			t.Errorf("%s was read: %s", file, text)
		}
	}
}

// A length that measures 2 m and is known to be 3 m makes the photograph half as wide again, about its first end.
func TestAPhotographIsScaled(t *testing.T) {
	c := running(t, withPlan(t, small+"\nset: {underlay: {file: floor.png, at: 1 1, width: 4 m}}\n"))
	var r struct {
		Changes []struct{ Path, Value string }
	}
	call := func(length string) any {
		return map[string]any{"from": Spot{2, 1}, "to": Spot{2, 3}, "length": length}
	}
	c.must("POST", "/api/underlay/scale?plan=table.yaml", call("3 m"), &r)
	var width unit.Metre
	var at unit.Point2
	if len(r.Changes) != 2 || width.Parse(r.Changes[0].Value) != nil || at.Parse(r.Changes[1].Value) != nil {
		t.Fatalf("%+v", r.Changes)
	}
	if math.Abs(float64(width)-6) > 1e-9 || at != (unit.Point2{X: 0.5, Y: 1}) {
		t.Errorf("it is %v wide at %v", width, at)
	}
	for _, length := range []string{"", "three", "0 m", "9 km"} {
		if status, _ := c.ask("POST", "/api/underlay/scale?plan=table.yaml", call(length), nil); status < 400 {
			t.Errorf("%q was taken", length)
		}
	}
	// The same place twice is no length.
	if _, err := scaled(&plan.Underlay{Width: &width}, Spot{1, 1}, Spot{1, 1}, "1 m"); err == nil {
		t.Error("a length of nothing was scaled")
	}
}
