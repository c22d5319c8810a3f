package server

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"

	"gloam/examples"
	"gloam/internal/document"
	"gloam/internal/plan"
)

func drawn(t *testing.T, text, setup string) *Drawing {
	t.Helper()
	p, faults := plan.Read("plan.yaml", []byte(text), func(string) ([]byte, error) { return nil, fs.ErrNotExist })
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	if setup == "" {
		setup = p.Setups()[0]
	}
	view, faults := p.Setup(setup)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return draw(p, view)
}

// A room 5 × 4 m from x = 10 with a window 1.6 m wide, 0.1 m from the left corner of the near wall seen from inside: from x 14.9 to 13.3.
// The lamp hangs 3 m before the table and 1.2 m above it, so its throw is √(3² + 1.2²) m; its kit's beam is 26°.
func TestDrawingByHand(t *testing.T) {
	d := drawn(t, strings.Replace(small, "title: A table\n", `title: A table
set: {rooms: {room: {corner: 10 0, size: 5 x 4 x 2.8 m, openings: {window: {wall: near, size: 1.6 x 1.2 m, at: 0.1 m}}}}}
people: {ann: {at: 12 2, faces: N, key: left}}
`, 1), "")
	w := d.Rooms[0].Openings[0]
	if fmt.Sprintf("%.6f %.6f", w.From, w.To) != "[14.900000 0.000000] [13.300000 0.000000]" {
		t.Errorf("the window is from %v to %v", w.From, w.To)
	}
	if p := d.People[0]; p.At != (Spot{12, 2}) || math.Abs(p.Looks[1]-1) > 1e-12 {
		t.Errorf("the person is %+v", p)
	}
	l := d.Lamps[0]
	half := math.Hypot(3, 1.2) * math.Tan(13*math.Pi/180)
	for i, want := range []float64{-half, half} {
		side := l.Edges[i][0]
		if math.Abs(math.Abs(side)-math.Abs(want)) > 0.01*half || math.Abs(l.Edges[i][1]) > 1e-9 {
			t.Errorf("edge %d ends at %v, want x ±%.3f, y 0", i, l.Edges[i], half)
		}
	}
	if l.Edges[0][0]*l.Edges[1][0] > 0 {
		t.Error("both edges are on one side")
	}
	// 35 mm before a sensor 24.9 mm wide, aimed at what is 3 m away level and 0.7 m lower.
	across := math.Hypot(3, 0.7) * 24.9 / 2 / 35
	if e := d.Camera.Edges; math.Abs(math.Abs(e[0][0])-across) > 1e-9 || math.Abs(e[0][0]+e[1][0]) > 1e-9 {
		t.Errorf("the camera sees to %v, want x ±%.3f", e, across)
	}
}

// Every field of every example says what its path writes: set there, the plan is read as before.
func TestFieldsAreWhatTheirPathsWrite(t *testing.T) {
	names, err := fs.Glob(examples.Plans, "*/plan.yaml")
	if err != nil || len(names) < 5 {
		t.Fatal(err, names)
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			text, err := examples.Plans.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			d := drawn(t, string(text), "")
			fields := d.Block
			for _, l := range append(d.Lamps, d.Practicals...) {
				fields = append(fields, l.Fields...)
			}
			for _, h := range d.Handles {
				fields = append(fields, h.Fields...)
			}
			for _, target := range d.Targets {
				fields = append(fields, target.Level)
			}
			for _, f := range fields {
				if f.Value == "" {
					continue
				}
				source, err := document.Parse(name, text)
				if err != nil {
					t.Fatal(err)
				}
				edited, err := source.Edit(f.Path, f.Value)
				if err != nil {
					t.Errorf("%s: %v", f.Path, err)
					continue
				}
				again := drawn(t, string(edited), "")
				again.Title, d.Title = "", ""
				if f.Name != "at" && f.Name != "Place" && fmt.Sprint(again.Lamps) != fmt.Sprint(d.Lamps) { // printed places are rounded
					t.Errorf("%s: set to its own value %q, the lamps are\n%v\nbefore\n%v", f.Path, f.Value, again.Lamps, d.Lamps)
				}
			}
		})
	}
}

// A cloth 2 m up that faces a place 3 m east and 4 m north of it, 5 m lower: level 0.6, 0.8, and 45° down. It says its middle.
func TestAClothByHand(t *testing.T) {
	d := drawn(t, strings.Replace(small, "points:", `cloths:
  muslin: {kind: unbleached muslin, size: 2 x 2 m, at: 1 2, height: 2 m, faces: 4 6 -3}
  roof: {kind: half white, size: 2 x 2 m, at: 0 0 3, faces: down}
points:`, 1), "")
	c, turn := d.Cloths[0], handleOf(t, d, "muslin").Turn
	if c.At != (Spot{1, 2}) || c.Height != 2 || math.Hypot(turn.Looks[0]-0.6, turn.Looks[1]-0.8) > 1e-12 || math.Abs(float64(turn.Below)-45) > 1e-9 {
		t.Errorf("the cloth is %+v, turned %+v", c, turn)
	}
	if r := handleOf(t, d, "roof").Turn; r.Looks != (Spot{}) || r.Below != 90 {
		t.Errorf("the roof is turned %+v", r)
	}
}
