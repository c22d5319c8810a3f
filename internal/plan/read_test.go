package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"gloam/internal/fault"
)

func readSound(t *testing.T) *Plan {
	t.Helper()
	path := filepath.Join("testdata", "sound.yaml")
	p, faults := Read("sound.yaml", []byte(mustRead(t, path)), Beside(path))
	if len(faults) > 0 {
		t.Fatalf("faults in a sound plan:\n%v", faults.Error())
	}
	return p
}

// setup returns a set-up that must be there and without fault.
func setup(t *testing.T, p *Plan, name string) *View {
	t.Helper()
	v, faults := p.Setup(name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return v
}

func TestReadSound(t *testing.T) {
	p := readSound(t)
	if got := p.Setups(); !slices.Equal(got, []string{"dusk", "noon"}) {
		t.Errorf("set-ups are %q", got)
	}
	d := &p.Document
	maker, _ := d.People.Get("maker")
	key, _ := d.Lamps.Get("key")
	window, _ := d.Set.Rooms[0].Value.Openings.Get("window")
	for name, ok := range map[string]bool{
		"a default of a length":    *maker.Height == 1.72,
		"a default of a word":      maker.Skin == "medium skin" && window.Glass == "single",
		"a default of a place":     d.Set.Rooms[0].Value.Corner.Place.String() == "0.00 0.00 0.00 m",
		"a default of a number":    *d.Camera.Constant == 250,
		"what is written":          *key.Dim == 0.88 && d.Set.Rooms[0].Value.Walls == "dark wood",
		"what is absent stays so":  key.Zoom == nil && window.Sill == nil,
		"a fraction of a stop":     *d.Targets[2].Tolerance == 0.5,
		"a default of a tolerance": *d.Targets[0].Tolerance > 0.33 && *d.Targets[0].Tolerance < 0.34,
	} {
		if !ok {
			t.Error(name)
		}
	}
}

// TestDefaults sets every default tag there is: one that its type cannot read would panic.
func TestDefaults(t *testing.T) {
	seen := map[reflect.Type]bool{}
	count := 0
	var visit func(reflect.Type)
	visit = func(of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice:
			visit(of.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if seen[of] {
			return
		}
		seen[of] = true
		v := reflect.New(of).Elem()
		setDefaults(v)
		for i := range of.NumField() {
			if of.Field(i).Tag.Get("default") != "" {
				count++
				if v.Field(i).IsZero() && of.Field(i).Tag.Get("default") != "0" {
					t.Errorf("%v.%s has no default", of, of.Field(i).Name)
				}
			}
			visit(of.Field(i).Type)
		}
	}
	visit(reflect.TypeFor[Document]())
	if count < 29 {
		t.Errorf("found only %d defaults", count)
	}
}

func TestSetups(t *testing.T) {
	p := readSound(t)
	dusk, noon := setup(t, p, "dusk"), setup(t, p, "noon")
	if *dusk.Document.Time != 13*60 || *noon.Document.Time != 12*60+30 {
		t.Errorf("times are %v and %v", *dusk.Document.Time, *noon.Document.Time)
	}
	gel := func(v *View) string {
		o, _ := v.Document.Set.Rooms[0].Value.Openings.Get("window")
		return o.Gel
	}
	if gel(dusk) != "ND 1.5" || gel(noon) != "ND 0.6" {
		t.Errorf("gels are %q and %q", gel(dusk), gel(noon))
	}
	if fill, _ := noon.Document.Lamps.Get("fill"); *fill.Dim != 0.5 || fill.Gel != "1/4 CTO" {
		t.Errorf("fill is %+v: the override must leave the other fields", fill)
	}
	if d, _ := p.Document.Lamps.Get("fill"); *d.Dim != 1 {
		t.Error("the override reached the plan's own lamp")
	}
	if len(dusk.Document.Setups)+len(noon.Document.Setups) > 0 {
		t.Error("a view has set-ups of its own")
	}
	if got, path := noon.Places.Path("lamps.fill.dim"), "setups.noon.lamps.fill.dim"; string(got) != path {
		t.Errorf("the place of the override is %s, want %s", got, path)
	}
}

// TestUses: only the used things stay, and of the plan's own wishes those that can be fulfilled with them.
func TestUses(t *testing.T) {
	p := sound(t, changed(t,
		change{"points: {", "points: {on card: {at: card, faces: up}, off card: {at: 1 m from on card bearing 20, faces: up}, "},
		change{"camera:", `walks: {past: {marks: [stool, on card]}, free: {marks: [stool, bench], who: maker}}
targets:
  - {point: on card, level: 0}
  - {point: sill, level: 0}
  - {point: sill, level: 0, over: off card}
  - {walk: past, swing: 1}
  - {walk: free, swing: 1}
  - {point: maker.front, level: 0, over: key}
tones: {a: snow in on card, b: snow in sill}
setups:
  all:
  some: {uses: [lamp]}
camera:`}, change{"aim: maker", "aim: stool"}, change{"lx, point: maker.front", "lx, point: sill"}))
	all, some := setup(t, p, "all"), setup(t, p, "some")
	names := func(v *View) []string {
		d := &v.Document
		names := slices.Concat(d.Lamps.Names(), d.Cloths.Names(), d.People.Names(), d.Ambient.Names(), d.Points.Names(), d.Walks.Names(), d.Tones.Names())
		for i := range d.Targets {
			names = append(names, string(d.Targets[i].Path()))
		}
		return names
	}
	if got, want := strings.Join(names(all), ", "), "lamp, card, maker, sky, on card, off card, sill, near side, past, free, a, b, "+
		"targets[0], targets[1], targets[2], targets[3], targets[4], targets[5]"; got != want {
		t.Errorf("all uses %s, want %s", got, want)
	}
	if got, want := strings.Join(names(some), ", "), "lamp, sill, near side, free, b, targets[1], targets[4]"; got != want {
		t.Errorf("some uses %s, want %s", got, want)
	}
}

func TestSetupUnknown(t *testing.T) {
	p := readSound(t)
	_, faults := p.Setup("dsk")
	if got, want := faults.Error(), `the plan has no set-up "dsk"; allowed: dusk, noon; did you mean "dusk"?`; got != want || fault.Code(faults) != 2 {
		t.Errorf("got %q, code %d", got, fault.Code(faults))
	}
	p = sound(t, plain)
	if got := p.Setups(); !slices.Equal(got, []string{"plan"}) {
		t.Errorf("a plan without set-ups has %q", got)
	}
	if v := setup(t, p, "plan"); !reflect.DeepEqual(v.Document, p.Document) {
		t.Error("the one set-up is not the plan")
	}
}

func TestQuietWithoutDim(t *testing.T) {
	p := sound(t, changed(t, change{"dim: 50 %", "mode: quiet"}))
	if l, _ := p.Document.Lamps.Get("lamp"); *l.Dim != 0.6 {
		t.Errorf("dim is %v, want the most of the quiet mode, 60 %%", *l.Dim)
	}
}

func TestFiles(t *testing.T) {
	const photometric = "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 3 1 1 2 0 0 0\n1 1 100\n0 45 90\n0\n1000 500 0\n"
	files := map[string]string{
		"kits/mine.yaml": "kit: 1\nlamps:\n  blond: {like: B12-D60, photometry: blond.ies}\ncloths:\n  bedsheet: {kind: heavy, through: 30 %, front: 60 %}\n",
		"kits/blond.ies": photometric,
		"lamp.ies":       photometric,
		"grille.obj":     "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 1 1\n",
	}
	text := changed(t, change{"title: A test", "title: A test\nkit: kits/mine.yaml"}, change{"kit: B12-D60", "kit: blond, photometry: lamp.ies"},
		change{"muslin", "bedsheet"}, change{"set: {", "set: {objects: {grille: {kind: mesh, at: 1 1, file: grille.obj}}, "})
	p, faults := Read("plan.yaml", []byte(text), shelf(files))
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	if got, want := lines(faults), "grille.obj: triangles without area, left out: 1"; len(got) == 0 || !strings.Contains(strings.Join(got, "\n"), want) {
		t.Errorf("notes are %q, want one with %q", got, want)
	}
	for name, text := range files {
		if string(p.Files[name]) != text {
			t.Errorf("%s was not kept", name)
		}
	}
	if _, ok := p.Kit.Lamp("blond"); !ok {
		t.Error("the plan's own lamp is not in the kit")
	}
}

func TestBeside(t *testing.T) {
	folder := t.TempDir()
	inner := filepath.Join(folder, "scene", "kits")
	if err := os.MkdirAll(inner, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"secret", "scene/kit.yaml", "scene/kits/mine.yaml"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(filepath.Join(folder, "secret"), filepath.Join(folder, "scene", "link")); err != nil {
		t.Skip(err)
	}
	cases := []struct{ name, file, want, fault string }{
		{"beside", "kit.yaml", "scene/kit.yaml", ""},
		{"in a folder below", "kits/mine.yaml", "scene/kits/mine.yaml", ""},
		{"missing", "none", "", "there is no such file beside the plan"},
		{"above", "../secret", "", "this file cannot be read: path escapes from parent; only files in the plan's own folder are read"},
		{"absolute", filepath.Join(folder, "secret"), "", "this file cannot be read: path escapes from parent; only files in the plan's own folder are read"},
		{"by a link", "link", "", "this file cannot be read: path escapes from parent; only files in the plan's own folder are read"},
		{"a folder", "kits", "", "this is not an ordinary file"},
		{"no name", "", "", "this file cannot be read: empty path; only files in the plan's own folder are read"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := &files{open: Beside(filepath.Join(folder, "scene", "plan.yaml"))}
			got, err := f.get(c.file)
			if string(got) != c.want || (err == nil) != (c.fault == "") || err != nil && err.Error() != c.fault {
				t.Errorf("got %q, error %v; want %q, %q", got, err, c.want, c.fault)
			}
		})
	}
}

func TestEdit(t *testing.T) {
	p := readSound(t)
	before := mustRead(t, filepath.Join("testdata", "sound.yaml"))
	after, err := p.Edit("lamps.key.dim", "44 %")
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(before, "dim: 88 %", "dim: 44 %", 1); string(after) != want {
		t.Error("more than the dim changed")
	}
	again, faults := readText(string(after))
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	if l, _ := again.Document.Lamps.Get("key"); *l.Dim != 0.44 {
		t.Errorf("dim is %v", *l.Dim)
	}
	if _, err := p.Edit("lamps", "1"); err == nil {
		t.Error("fields were replaced by a value")
	}
}

func TestZone(t *testing.T) {
	for text, seconds := range map[string]int{"UTC": 0, "UTC+2": 7200, "UTC-7": -7 * 3600, "utc−7": -7 * 3600, "UTC+5:30": 19800, "UTC +05:45": 20700} {
		zone, err := Zone(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if _, got := dateIn(zone).Zone(); got != seconds {
			t.Errorf("%s is %d s from UTC, want %d", text, got, seconds)
		}
	}
	// Central European Summer Time is UTC+2 (IANA time zone database, Europe/Berlin).
	berlin, err := Zone("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	if _, got := dateIn(berlin).Zone(); got != 7200 {
		t.Errorf("Berlin in July is %d s from UTC", got)
	}
	for _, text := range []string{"", "Local", "UTC+15", "UTC+2:70", "../etc/passwd", "CEST in summer"} {
		if zone, err := Zone(text); err == nil {
			t.Errorf("%q is a zone: %v", text, zone)
		}
	}
}

// TestManySetups: a plan cannot make a reader work for ever.
func TestManySetups(t *testing.T) {
	setups := "setups:\n"
	for i := range mostSetups + 1 {
		setups += fmt.Sprintf("  s%d:\n", i)
	}
	_, faults := readText(plain + setups)
	if len(faults) != 1 || faults[0].Text != "101 set-ups are too many for one plan" {
		t.Errorf("faults are %v", faults)
	}
}

// TestManyFaults: no more faults are told than anybody reads, and the last says so.
func TestManyFaults(t *testing.T) {
	marks := ""
	for i := range 2000 {
		marks += fmt.Sprintf("  m%d: nowhere at all\n", i)
	}
	_, faults := readText(strings.Replace(changed(t), "marks: {stool: 2 2, bench: 3 2}\n", "marks:\n  stool: 2 2\n  bench: 3 2\n"+marks, 1))
	if len(faults) != mostFaults+1 || faults[mostFaults].Text != "there are more faults" {
		t.Errorf("%d faults are told, the last %v", len(faults), faults[len(faults)-1])
	}
}

func dateIn(zone *time.Location) time.Time { return time.Date(2027, 7, 1, 12, 0, 0, 0, zone) }

// TestSoundPlans: what is unusual but right must not be told as a fault.
func TestSoundPlans(t *testing.T) {
	cases := []struct {
		name    string
		changes []change
	}{
		{"two people face each other", []change{{"people: {", "people: {visitor: {at: 3 1, faces: maker, key: right}, "}, {"faces: bench, key", "faces: visitor, key"}}},
		{"a lamp is aimed at the cloth that faces it", []change{{"aim: maker", "aim: card"}, {"at: 1 1 1, faces: maker", "at: 1 1 1, faces: lamp"}}},
		{"two lamps in one place", []change{{"lamps: {", "lamps: {other: {kit: B3-D55, at: 4 1 2, aim: maker}, "}}},
		{"a sun called sun", []change{{"sky: {reading: 640 lx, point: maker.front, shape: everywhere}", "sun: {reading: 9 klx, at: stool, height: 1 m, faces: sun, shape: sun, altitude: 20, azimuth: SW}"}}},
		{"a reading that is equal everywhere needs no place", []change{{"lx, point: maker.front", "lx"}}},
		{"names of figures and letters", []change{{"cloths: {card", "cloths: {8x8 black"}, {"lamps: {lamp", "lamps: {2K"}}},
		{"a key lamp instead of a key side", []change{{", key: left", ""}, {"dim: 50 %", "key: true"}}},
		{"what a lamp lacks comes with the set-up", []change{{"aim: maker", "aim: flag"}, {"kit: B12-D60, ", ""},
			{"camera:", "setups: {a: {lamps: {lamp: {kit: B3-D55}}, cloths: {flag: {kind: black, size: 1 x 1 m, at: 1 3 1, faces: lamp}}, uses: [lamp, maker, sky]}}\ncamera:"}}},
		{"the camera's place comes with the set-up", []change{{"aim: maker", "aim: camera"}, {"camera:", "setups: {a: {camera: {at: 1 3 1}}}\ncamera:"}}},
		{"a vault", []change{{"size: 5 x 4 x 3 m", "size: 5 x 4 x 3 m, vault: 1.2 m"}}},
		{"an opening as high as its wall", []change{{"size: 2 x 1 m", "size: 2 x 3 m, sill: 0"}}},
		{"openings side by side", []change{{"window: {", "door: {wall: far, at: 0.5 m, size: 1 x 2.1 m, sill: 0}, window: {"}}},
		{"an own material", []change{{"size: 5 x 4 x 3 m", "size: 5 x 4 x 3 m, walls: oak, floor: oak 0.1"}, {"marks:", "materials: {oak: dark wood 0.14}\nmarks:"}}},
		{"a place towards a person's point", []change{{"at: 4 1 2", "at: 1 m from bench towards maker.front"}}},
		{"a target over a point of one's own", []change{{"camera:", "targets: [{point: sill, level: -1/2, over: near side}, {point: maker.hair, level: 4:1, over: ambient}]\ncamera:"}}},
		{"a set-up moves the person and the camera", []change{{"camera:", "setups: {a: {people: {maker: {at: 1 1}}, camera: {stop: T4}}, b: }\ncamera:"}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, faults := readText(changed(t, c.changes...)); len(faults) > 0 {
				t.Errorf("faults:\n%v", faults.Error())
			}
		})
	}
}

// TestExamples: the plans that are shown to people have no fault.
func TestExamples(t *testing.T) {
	paths, err := filepath.Glob("../../examples/*/plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if _, faults := Read(path, []byte(mustRead(t, path)), Beside(path)); faults.Err() != nil {
			t.Errorf("%v", faults)
		}
	}
}
