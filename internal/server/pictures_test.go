package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"
	"time"

	"gloam/examples"
	"gloam/internal/spectrum"
)

// lit is the small table on a ground, with a second lamp.
const lit = small + `set: {ground: 0.2}
`

var litByTwo = strings.Replace(lit, "points:", "  fill: {kit: B12-D26, at: -2 -1 2, aim: table, dim: 20 %}\npoints:", 1)

// asked asks for JSON.
func asked[T any](c client, path string) (v T) {
	c.t.Helper()
	status, text := c.ask("GET", path, nil, nil)
	if err := json.Unmarshal([]byte(text), &v); err != nil || status != 200 {
		c.t.Fatal(path, status, text)
	}
	return v
}

// composed adds up the layers of a picture as a page does: red, green, blue and times grey of each pixel.
func composed(c client, query string, e *PictureEvent) [][4]float64 {
	c.t.Helper()
	sums := make([][4]float64, e.Width*e.Height)
	for _, l := range e.Layers {
		status, text := c.ask("GET", fmt.Sprintf("/api/picture/layer?%s&version=%s", query, l.Version), nil, nil)
		if want := e.Width * e.Height * spectrum.Bands * 2; status != 200 || len(text) != want {
			c.t.Fatalf("status %d, the layer has %d bytes, want %d", status, len(text), want)
		}
		for i := range sums {
			for b := range spectrum.Bands {
				at := (b/4*len(sums)+i)*8 + b%4*2
				half := floatOf(uint16(text[at]) | uint16(text[at+1])<<8)
				for k := range sums[i] {
					sums[i][k] += half * l.Weights[k][b] * l.Level
				}
			}
		}
	}
	return sums
}

// onScreen takes a composed pixel through the tables, to 8 bits.
func (t *Tables) onScreen(p [4]float64) (out [3]float64) {
	if least := min(p[0], p[1], p[2]); least < 0 {
		grey := t.Luminance[0]*p[0] + t.Luminance[1]*p[1] + t.Luminance[2]*p[2]
		k := grey / (grey - least)
		for i := range 3 {
			p[i] = grey + k*(p[i]-grey)
		}
	}
	most := max(p[0], p[1], p[2])
	if !(most > 0) {
		return out
	}
	shown := between(t.Shown, most/t.Most) / most
	for i := range out {
		out[i] = 255 * between(t.Encoded, p[i]*shown)
	}
	return out
}

// between looks a share up in a table.
func between(table []float32, share float64) float64 {
	at := math.Max(0, math.Min(1, share)) * float64(len(table)-1)
	i := min(int(at), len(table)-2)
	return float64(table[i]) + (at-float64(i))*float64(table[i+1]-table[i])
}

// The layers under their weights and levels, shown by the tables, are the picture that the engine shows, to the last of 8 bits;
// their fourth sum is what the probe reads.
func TestLayersAddUpToThePicture(t *testing.T) {
	c := running(t, withPlan(t, litByTwo))
	e := await(t, c.listen("plan=table.yaml&picture=64"), pictureKind, func(e *PictureEvent) bool { return e.Final })
	query := "plan=table.yaml&picture=64&name=" + e.Picture
	sums := composed(c, query, &e)
	tables := asked[Tables](c, "/api/picture/tables")
	_, text := c.ask("GET", "/api/picture/screen?"+query, nil, nil)
	screen, err := png.Decode(strings.NewReader(text))
	if err != nil || screen.Bounds() != image.Rect(0, 0, e.Width, e.Height) {
		t.Fatal(err, screen.Bounds())
	}
	bright := 0
	for i, p := range sums {
		x, y := i%e.Width, i/e.Width
		r, g, b, _ := screen.At(x, y).RGBA()
		for k, want := range [3]uint32{r >> 8, g >> 8, b >> 8} {
			if got := tables.onScreen(p)[k]; math.Abs(got-float64(want)) > 0.6 {
				t.Fatalf("pixel %d, %d: component %d is %.2f, the engine shows %d", x, y, k, got, want)
			}
			if want > 20 {
				bright++
			}
		}
		if i%97 == 0 {
			probe := asked[Probed](c, fmt.Sprintf("/api/picture/probe?%s&x=%d&y=%d", query, x, y))
			if over := probe.OverGrey; over != nil && *over > -16 && math.Abs(math.Log2(p[3])-float64(*over)) > 0.002 {
				t.Errorf("pixel %d, %d: %.4f over grey, the probe reads %.4f", x, y, math.Log2(p[3]), *over)
			}
		}
	}
	if bright < e.Width*e.Height/4 {
		t.Errorf("only %d components are bright enough to tell", bright)
	}
}

// A dim that is turned sends no layer anew, and its level is the one that the table gave before; a lamp that is moved sends its
// own layer alone, at once.
func TestAnEditSendsOnlyWhatItChanges(t *testing.T) {
	c := running(t, withPlan(t, litByTwo))
	events := c.listen("plan=table.yaml&picture=64")
	before := await(t, events, pictureKind, func(e *PictureEvent) bool { return e.Final })
	versions := func(e *PictureEvent) (all []string) {
		for _, l := range e.Layers {
			all = append(all, l.Version)
		}
		return all
	}
	key := before.Layers[0]
	if key.Name != "key" || before.Dials[key.Dial].Path != "lamps.key.dim" || key.Level != before.Dials[key.Dial].Levels[60] {
		t.Fatalf("layer %+v, dials %+v", key, before.Dials)
	}
	c.ask("POST", "/api/plan/edits?plan=table.yaml", edit(1, "lamps.key.dim", "30 %"), nil)
	dimmed := await(t, events, pictureKind, func(e *PictureEvent) bool { return e.Revision == 2 })
	if fmt.Sprint(versions(&dimmed)) != fmt.Sprint(versions(&before)) || dimmed.Layers[0].Level != before.Dials[key.Dial].Levels[30] || !dimmed.Final {
		t.Errorf("dimmed: versions %v were %v, level %v of %v, final %v", versions(&dimmed), versions(&before), dimmed.Layers[0].Level, before.Dials[key.Dial].Levels[30], dimmed.Final)
	}
	c.ask("POST", "/api/plan/edits?plan=table.yaml", edit(2, "lamps.key.at", "1 3 2"), nil)
	moved := await(t, events, pictureKind, func(e *PictureEvent) bool { return e.Revision == 3 })
	if a, b := versions(&dimmed), versions(&moved); len(a) != 2 || a[0] == b[0] || a[1] != b[1] || moved.Width != before.Width || moved.Final {
		t.Errorf("moved: versions %v were %v; %d wide, final %v", b, a, moved.Width, moved.Final)
	}
}

// The picture of another hour is another picture; that of the plan's own stays.
func TestThePictureOfAnotherHour(t *testing.T) {
	c := running(t, withPlan(t, outside+"set: {ground: 0.2}\n"))
	planned := await(t, c.listen("plan=table.yaml&picture=64"), pictureKind, func(e *PictureEvent) bool { return e.Final })
	later := await(t, c.hear("/api/picture/stream?plan=table.yaml&picture=64&at=17:00"), pictureKind, func(e *PictureEvent) bool { return e.Width == 64 })
	probe := func(query string) Probed {
		return asked[Probed](c, fmt.Sprintf("/api/picture/probe?plan=table.yaml&picture=64%s&x=32&y=30", query))
	}
	if later.At != "17:00" || planned.At != "" {
		t.Errorf("hours %q and %q", planned.At, later.At)
	}
	day, dusk := probe("&name="+planned.Picture), probe("&at=17:00")
	if !(dusk.Luminance > 0) || !(dusk.Luminance < day.Luminance/2) || later.Revision != planned.Revision {
		t.Errorf("at 13:00 %v, at 17:00 %v", day, dusk)
	}
}

// A picture that is turned to another hour keeps the lamps' layers, and its loop.
func TestAPictureIsTurnedToAnotherHour(t *testing.T) {
	c := running(t, withPlan(t, outside+"set: {ground: 0.2}\n"))
	first := await(t, c.hear("/api/picture/stream?plan=table.yaml&picture=64&at=16:00"), pictureKind, func(e *PictureEvent) bool { return e.Final })
	turned := await(t, c.hear("/api/picture/stream?plan=table.yaml&picture=64&at=16:30&instead=16:00"), pictureKind, func(e *PictureEvent) bool { return e.At == "16:30" })
	if turned.Width != first.Width {
		t.Errorf("turned, it is %d wide, %d before", turned.Width, first.Width)
	}
	for i := range turned.Layers {
		a, b := first.Layers[i], turned.Layers[i]
		if kept := a.Version == b.Version; a.Name != b.Name || kept != (a.Name == "key") {
			t.Errorf("layer %s, then %s: kept %v", a.Name, b.Name, kept)
		}
	}
	if status, _ := c.ask("GET", "/api/picture/probe?plan=table.yaml&picture=64&at=16:00&x=1&y=1", nil, nil); status != 404 {
		t.Errorf("the hour left is still looked at: status %d", status)
	}
}

// Why there is no picture is said: no such hour, no sky to make another hour of, no camera in a place.
func TestNoPicture(t *testing.T) {
	for _, row := range []struct{ name, text, path, want string }{
		{"no clock", outside, "/api/picture/stream?plan=table.yaml&picture=64&at=noon", "noon"},
		{"no daylight", small, "/api/picture/stream?plan=table.yaml&picture=64&at=17:00", "has no hours"},
		{"no camera in a place", strings.Replace(small, ", at: 0 -3 1.5, aim: table", "", 1), "/api/stream?plan=table.yaml&picture=64", "a picture needs a camera"},
		{"a sensor like a slit", strings.Replace(small, "at: 0 -3", "sensor: 1 x 900 mm, at: 0 -3", 1), "/api/stream?plan=table.yaml&picture=64", "too narrow"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := running(t, withPlan(t, row.text))
			e := await(t, c.hear(row.path), noPictureKind, func(*NoPictureEvent) bool { return true })
			if len(e.Faults) == 0 || !strings.Contains(e.Faults[0].Text+e.Faults[0].Read, row.want) {
				t.Errorf("%+v", e.Faults)
			}
		})
	}
}

func TestPictureFiles(t *testing.T) {
	c := running(t, withPlan(t, lit))
	e := await(t, c.listen("plan=table.yaml&picture=64"), pictureKind, func(e *PictureEvent) bool { return e.Final })
	query := "/api/picture/file?plan=table.yaml&picture=64&kind="
	for _, stops := range []string{"", "&stops=true"} {
		_, text := c.ask("GET", query+"png"+stops, nil, nil)
		drawn, err := png.Decode(strings.NewReader(text))
		if err != nil || drawn.Bounds().Dx() != e.Width || drawn.Bounds().Dy() <= e.Height {
			t.Errorf("a picture with a caption: %v", err)
		}
	}
	if _, text := c.ask("GET", query+"exr", nil, nil); !bytes.HasPrefix([]byte(text), []byte{0x76, 0x2f, 0x31, 0x01}) { // OpenEXR's magic number
		t.Errorf("an EXR begins with %q", text[:min(len(text), 200)])
	}
	if status, _ := c.ask("GET", query+"gif", nil, nil); status != 422 {
		t.Errorf("a kind that there is not: status %d", status)
	}
	numbers := asked[[]NumberDrawn](c, "/api/picture/numbers?plan=table.yaml&picture=64")
	for _, n := range numbers {
		if n.X < 0 || n.X >= e.Width || n.Y < 0 || n.Y >= e.Height || n.Text == "" {
			t.Errorf("number %+v", n)
		}
	}
}

func TestFrameLines(t *testing.T) {
	for _, l := range linesOf(1600, 900) {
		var w, h float64
		if _, err := fmt.Sscanf(l.Name, "%g:%g", &w, &h); err != nil {
			t.Fatal(err)
		}
		if ratio := l.Width * 16 / (l.Height * 9); math.Abs(ratio-w/h) > 1e-9 || math.Max(l.Width, l.Height) != 1 ||
			math.Abs(2*l.Left+l.Width-1) > 1e-9 || math.Abs(2*l.Top+l.Height-1) > 1e-9 {
			t.Errorf("%s: %+v", l.Name, l)
		}
	}
	if n := len(linesOf(1600, 900)); n != len(formats)-1 {
		t.Errorf("%d formats", n)
	}
}

// floatOf is the value of a half [IEEE754], of those that are not infinite.
func floatOf(h uint16) float64 {
	exponent, fraction := int(h>>10&31), float64(h&1023)
	if exponent == 0 {
		return math.Ldexp(fraction, -24)
	}
	return math.Ldexp(1024+fraction, exponent-25)
}

// A lamp that is dragged without a pause shows readings and pictures on its way. How many a second is told, not asserted.
func TestADraggedLampIsShown(t *testing.T) {
	text, err := examples.Plans.ReadFile("luthier/plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c := running(t, withPlan(t, string(text)))
	events := c.listen("plan=table.yaml&setup=dusk&picture=480")
	await(t, events, pictureKind, func(e *PictureEvent) bool { return e.Width == 480 })
	started, edits := time.Now(), 0
	stop, moved := make(chan struct{}), make(chan int)
	go func() {
		for n := 0; ; n++ {
			select {
			case <-stop:
				moved <- edits
				return
			case <-time.After(16 * time.Millisecond):
			}
			at := fmt.Sprintf("%.4f 3.2 1.3", 4-float64(n%300)/1000)
			if status, _ := c.ask("POST", "/api/plan/edits?plan=table.yaml", edit(1+edits, "setups.dusk.lamps.key lamp.at", at), nil); status == 200 {
				edits++
			}
		}
	}()
	seen := map[string]int{}
	const wanted = 5
	for late := time.After(time.Minute); seen[pictureKind] < wanted || seen[levelsKind] < wanted; { // while it is still dragged
		select {
		case e := <-events:
			seen[e.kind]++
			continue
		case <-late:
			t.Errorf("shown on the way in a minute: %v", seen)
		}
		break
	}
	close(stop)
	go func() { // the stream goes on until the last edit is answered
		for range events {
		}
	}()
	edits = <-moved
	took := time.Since(started).Seconds()
	t.Logf("a second: %.0f edits, %.1f readings, %.1f pictures", float64(edits)/took, float64(seen[levelsKind])/took, float64(seen[pictureKind])/took)
}
