package document

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gloam/internal/fault"
)

func mustParse(t *testing.T, text string) *Source {
	t.Helper()
	s, err := Parse("plan.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestDecodeReadsEachKindOfField(t *testing.T) {
	var got samplePlan
	if _, faults := mustParse(t, samplePlanText).Decode(&got); faults != nil {
		t.Fatal(faults)
	}
	height := metre(3.8)
	want := samplePlan{
		Scene: "12A", Notes: "Ask the owner about the\ncurtain.\n", Date: "2027-03-03",
		Camera: &sampleCamera{EI: 800, Side: "left"},
		Lamps: Named[sampleLamp]{
			{"key", sampleLamp{Kit: "B12-D60", Dim: 0.88, At: spotAt{2.5, 2}}},
			{"fill", sampleLamp{Kit: "B3-D55", Height: &height, Gels: []metre{1, 2}}},
		},
		Walks:  Named[[]spotAt]{{"entry", []spotAt{{1, 2}, {2, 3}}}},
		Key:    Named[asWritten]{{"call", "18:35"}, {"octal", "012"}, {"big", "1e3"}, {"word", "yes"}, {"low", "0x1F"}},
		Setups: Named[sampleSetup]{{"dusk", sampleSetup{Time: "18:35", Rest: Fragment{"lamps"}}}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A value is its text as written, in whatever form it stands [YAML122, 7.3, 8.1]; no schema turns 18:35 into minutes.
func TestDecodeTakesTheTextAsWritten(t *testing.T) {
	for _, c := range []struct{ name, written, want string }{
		{"time of day", "18:35", "18:35"},
		{"date", "2027-03-03", "2027-03-03"},
		{"time stamp", "2027-03-03T18:35:00Z", "2027-03-03T18:35:00Z"},
		{"leading zero", "012", "012"},
		{"trailing zero", "0.50", "0.50"},
		{"exponent", "1e3", "1e3"},
		{"hexadecimal", "0x1F", "0x1F"},
		{"underscore", "1_000", "1_000"},
		{"plus", "+2/3", "+2/3"},
		{"minus", "-3.0 stops", "-3.0 stops"},
		{"word for true", "yes", "yes"},
		{"true", "true", "true"},
		{"not a number", ".nan", ".nan"},
		{"feet and inches", `12'6"`, `12'6"`},
		{"decimal comma", "3,8 m", "3,8 m"},
		{"percent", "60 %", "60 %"},
		{"hash without blank", "a#b", "a#b"},
		{"comment behind", "a b   # c", "a b"},
		{"tab inside", "a\tb", "a b"},
		{"tab before", "\ta", "a"},
		{"letters beyond ASCII", "26° – ½", "26° – ½"},
		{"double quotes", `"a \"b\" \u00b0: #"`, `a "b" °: #`},
		{"single quotes", `'it''s: #'`, "it's: #"},
		{"empty quotes", `""`, ""},
		{"two lines", "a\n    b", "a b"},
		{"literal lines", "|\n    a\n     b\n", "a\n b\n"},
		{"literal lines, stripped", "|-\n    a\n    b\n", "a\nb"},
		{"folded lines", ">\n    a\n    b\n", "a b\n"},
		{"anchor", "&x a", "a"},
		{"quoted word for nothing", `"null"`, "null"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, end := range []string{"\n", "\r\n"} {
				text := strings.ReplaceAll("scene: 1\nkey side:\n  a: "+c.written+"\n", "\n", end)
				var got samplePlan
				if _, faults := mustParse(t, text).Decode(&got); faults != nil {
					t.Fatal(faults)
				}
				if want := (Named[asWritten]{{"a", asWritten(c.want)}}); !cmp.Equal(got.Key, want) {
					t.Errorf("with %q: got %q, want %q", end, got.Key, want)
				}
			}
		})
	}
}

func TestDecodeAccepts(t *testing.T) {
	at := func(x, y metre) Named[[]spotAt] { return Named[[]spotAt]{{"a", []spotAt{{x, y}}}} }
	for _, c := range []struct {
		name, text string
		want       samplePlan
	}{
		{"byte order mark", "\ufeffscene: a\n", samplePlan{Scene: "a"}},
		{"start and end of a document", "---\nscene: a\n...\n", samplePlan{Scene: "a"}},
		{"one line in braces", `{scene: a, "date":1}`, samplePlan{Scene: "a", Date: "1"}},
		{"no newline at the end", "scene: a", samplePlan{Scene: "a"}},
		{"indented root", "  scene: a\n  date: b\n", samplePlan{Scene: "a", Date: "b"}},
		{"single value for a list", "scene: a\nwalks: { a: 1 2 }\n", samplePlan{Scene: "a", Walks: at(1, 2)}},
		{"single set of fields for a list", "scene: a\nwalks:\n  a: { x: 1 m, y: 2 m }\n", samplePlan{Scene: "a", Walks: at(1, 2)}},
		{"list at its name's column", "scene: a\nwalks:\n  a:\n  - 1 2\n", samplePlan{Scene: "a", Walks: at(1, 2)}},
		{"names without values", "scene: a\nlamps:\n  # key: ...\n", samplePlan{Scene: "a"}},
		{"list without items", "scene: a\nwalks:\n  a: []\n", samplePlan{Scene: "a", Walks: Named[[]spotAt]{{"a", nil}}}},
		{"lists in a list", "scene: a\ndeep: [[1, 2], 3]\n", samplePlan{Scene: "a", Deep: [][]asWritten{{"1", "2"}, {"3"}}}},
		{"alias", "scene: &s a\ndate: *s\n", samplePlan{Scene: "a", Date: "a"}},
		{"alias for fields", "scene: a\nwalks: { a: &p { x: 1 m, y: 2 m }, b: [*p] }\n", samplePlan{Scene: "a", Walks: append(at(1, 2), Entry[[]spotAt]{"b", []spotAt{{1, 2}}})}},
		{"anchor written again", "scene: &s a\ndate: &s b\nnotes: *s\n", samplePlan{Scene: "a", Date: "b", Notes: "b"}},
		{"yes", "scene: a\ncamera: { ei: 25, locked: yes }\n", samplePlan{Scene: "a", Camera: &sampleCamera{EI: 25, Locked: true}}},
		{"decimal comma in a number", "scene: a\ncamera:\n  ei: +25600\n  gamma: 2,4\n", samplePlan{Scene: "a", Camera: &sampleCamera{EI: 25600, Gamma: 2.4}}},
		{"exponent in a number", "scene: a\ncamera: { ei: 25, gamma: 4e-1 }\n", samplePlan{Scene: "a", Camera: &sampleCamera{EI: 25, Gamma: 0.4}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got samplePlan
			if _, faults := mustParse(t, c.text).Decode(&got); faults != nil {
				t.Fatal(faults)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// contentFaults have a scene in line 1 before the text, and tell the lines wanted, all of them.
var contentFaults = []struct{ name, text, want string }{
	{"value out of range", "lamps:\n  key:\n    kit: a\n    dim: 140 %\n", `plan.yaml:5:10: lamps.key.dim: 140 % is above 100 %; read "140 %"; allowed: a share such as 60 % or 0.6`},
	{"error that is a fault", "lamps:\n  key: { kit: a, height: 3 }\n", `plan.yaml:3:26: lamps.key.height: no length; read "3"; allowed: a length such as 3.8 m or 12'6"; put the unit behind the number`},
	{"unknown field", "lamps:\n  key:\n    kit: a\n    heigth: 3 m\n", `plan.yaml:5:5: lamps.key: no such field "heigth"; did you mean "height"?`},
	{"unknown field like none", "camera:\n  ei: 800\n  colour: red\n", `plan.yaml:4:3: camera: no such field "colour"; allowed: ei, gamma, side, handed, locked`},
	{"unknown field of the document", "lamp: 1\n", `plan.yaml:2:1: no such field "lamp"; did you mean "lamps"?`},
	{"field in capitals", "Date: 1\n", `plan.yaml:2:1: no such field "Date"; did you mean "date"?`},
	{"unknown word", "camera: { ei: 800, side: lefft }\n", `plan.yaml:2:26: camera.side: unknown word; read "lefft"; allowed: left, right; did you mean "left"?`},
	{"unknown word in a list", "camera:\n  ei: 800\n  handed:\n    - left\n    - up\n", `plan.yaml:6:7: camera.handed[1]: unknown word; read "up"; allowed: left, right`},
	{"neither yes nor no", "camera: { ei: 800, locked: maybe }\n", `plan.yaml:2:28: camera.locked: unknown word; read "maybe"; allowed: true, false, yes, no`},
	{"number with a unit", "camera: { ei: 800 ASA }\n", `plan.yaml:2:15: camera.ei: not a whole number; read "800 ASA"; allowed: a whole number from 25 to 25600`},
	{"number with a fraction", "camera: { ei: 800.5 }\n", `plan.yaml:2:15: camera.ei: not a whole number; read "800.5"; allowed: a whole number from 25 to 25600`},
	{"number below", "camera: { ei: 3 }\n", `plan.yaml:2:15: camera.ei: 3 is below 25; read "3"; allowed: a whole number from 25 to 25600`},
	{"number above", "camera: { ei: 99999999999999999999 }\n", `plan.yaml:2:15: camera.ei: the number is too big; read "99999999999999999999"; allowed: a whole number from 25 to 25600`},
	{"not a number", "camera: { ei: 800, gamma: .nan }\n", `plan.yaml:2:27: camera.gamma: not a number; read ".nan"; allowed: a number from 0 to 4`},
	{"infinity", "camera: { ei: 800, gamma: -.inf }\n", `plan.yaml:2:27: camera.gamma: not a number; read "-.inf"; allowed: a number from 0 to 4`},
	{"number without end", "camera: { ei: 800, gamma: 1e999 }\n", `plan.yaml:2:27: camera.gamma: the number is too big; read "1e999"; allowed: a number from 0 to 4`},
	{"comma for thousands", "camera:\n  ei: 800\n  gamma: 1,000\n", `plan.yaml:4:10: camera.gamma: the comma may stand for a point or for thousands: write it without; read "1,000"; allowed: a number from 0 to 4`},
	{"required fields missing", "walks:\n  a:\n    - {}\n", "plan.yaml:4:5: walks.a[0].x: is missing; allowed: a length such as 3.8 m or 12'6\"\nplan.yaml:4:5: walks.a[0].y: is missing; allowed: a length such as 3.8 m or 12'6\""},
	{"required field missing, told by its doc", "lamps:\n  key:\n    dim: 1\n", `plan.yaml:3:3: lamps.key.kit: is missing; its name in the kit`},
	{"nothing under a name that needs fields", "lamps:\n  key:\n", `plan.yaml:3:3: lamps.key.kit: is missing; its name in the kit`},
	{"required text empty", "lamps:\n  key: { kit: '' }\n", `plan.yaml:3:15: lamps.key.kit: is empty; its name in the kit`},
	{"no value", "lamps:\n  key:\n    kit: a\n    dim:   # later\n", `plan.yaml:5:5: lamps.key.dim: no value; allowed: a share such as 60 % or 0.6`},
	{"null", "lamps:\n  key: { kit: a, dim: ~, height: null }\n", "plan.yaml:3:23: lamps.key.dim: no value; allowed: a share such as 60 % or 0.6\nplan.yaml:3:34: lamps.key.height: no value; allowed: a length such as 3.8 m or 12'6\""},
	{"fields for a value", "lamps:\n  key:\n    kit: a\n    dim: { a: 1 }\n", `plan.yaml:5:5: lamps.key.dim: fields where one value is wanted; allowed: a share such as 60 % or 0.6`},
	{"list for a value", "lamps:\n  key:\n    kit: a\n    dim: [1]\n", `plan.yaml:5:5: lamps.key.dim: a list where one value is wanted; allowed: a share such as 60 % or 0.6`},
	{"value for fields", "camera: T4\n", `plan.yaml:2:9: camera: one value where fields are wanted; read "T4"; allowed: ei, gamma, side, handed, locked`},
	{"list for fields", "camera: [T4]\n", `plan.yaml:2:1: camera: a list where fields are wanted; allowed: ei, gamma, side, handed, locked`},
	{"value for names", "lamps: key\n", `plan.yaml:2:8: lamps: one value where names are wanted; read "key"; write each on a line of its own, name: value`},
	{"list for names", "lamps:\n  - key\n", `plan.yaml:2:1: lamps: a list where names are wanted; write each on a line of its own, name: value`},
	{"short form that cannot be read", "lamps:\n  key: { kit: a, at: 3 }\n", `plan.yaml:3:22: lamps.key.at: two lengths are wanted; read "3"; allowed: x and y such as 2.5 2.0`},
	{"field written twice", "camera:\n  ei: 800\n  side: left\n  ei: 100\n", `plan.yaml:5:3: camera.ei: written twice: first in line 3, column 3`},
	{"field of the document written twice", "date: 1\ndate: 1\n", `plan.yaml:3:1: date: written twice: first in line 2, column 1`},
	{"name written twice", "key side: { a: 1, 'a': 2 }\n", `plan.yaml:2:19: key side.a: written twice: first in line 2, column 13`},
	{"name empty", "key side: { '': 1 }\n", `plan.yaml:2:13: key side: a name is empty`},
	{"name with a dot", "lamps: { B12.5: { dim: 2 } }\n", "plan.yaml:2:10: lamps.\"B12.5\".kit: is missing; its name in the kit\nplan.yaml:2:24: lamps.\"B12.5\".dim: 2 is above 100 %; read \"2\"; allowed: a share such as 60 % or 0.6"},
	{"alias's text, told once", "key side: { a: &k 1 }\nlamps:\n  a: &l { kit: b, dim: 3 }\n  b: *l\n", `plan.yaml:4:24: lamps.a.dim: 3 is above 100 %; read "3"; allowed: a share such as 60 % or 0.6`},
	{"columns are characters", "lamps: { é°½: { kit: 'é', dim: 3 } }\n", `plan.yaml:2:32: lamps.é°½.dim: 3 is above 100 %; read "3"; allowed: a share such as 60 % or 0.6`},
	{"behind a tab", "lamps:\n  key: {\tkit: a,\tdim:\t3 }\n", `plan.yaml:3:23: lamps.key.dim: 3 is above 100 %; read "3"; allowed: a share such as 60 % or 0.6`},
}

func TestDecodeTellsEveryFault(t *testing.T) {
	for _, c := range contentFaults {
		t.Run(c.name, func(t *testing.T) {
			for _, end := range []string{"\n", "\r\n"} {
				text := strings.ReplaceAll("scene: a\n"+c.text, "\n", end)
				var plan samplePlan
				_, faults := mustParse(t, text).Decode(&plan)
				if got := faults.Error(); got != c.want {
					t.Errorf("with %q:\n got %s\nwant %s", end, got, c.want)
				}
			}
		})
	}
}

// All faults of one text come at once, in the order of the lines.
func TestDecodeNeverStopsAtTheFirst(t *testing.T) {
	var plan samplePlan
	_, faults := mustParse(t, sampleFaultyText).Decode(&plan)
	want := `plan.yaml:1:1: scene: no value
plan.yaml:2:15: camera.ei: 7 is below 25; read "7"; allowed: a whole number from 25 to 25600
plan.yaml:2:24: camera.side: unknown word; read "lefft"; allowed: left, right; did you mean "left"?
plan.yaml:4:3: lamps.key.kit: is missing; its name in the kit
plan.yaml:4:15: lamps.key.dim: 140 % is above 100 %; read "140 %"; allowed: a share such as 60 % or 0.6
plan.yaml:4:22: lamps.key: no such field "heigth"; did you mean "height"?`
	if got := faults.Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if plan.Lamps[0].Value.Dim != 0 || plan.Camera.EI != 0 {
		t.Errorf("a faulty value is not zero: %+v", plan)
	}
}

func TestDecodeOfWhatIsNoMapping(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty file", "", `plan.yaml:1:1: scene: is missing; what the slate says`},
		{"comments alone", "# a\n# b", `plan.yaml:2:4: scene: is missing; what the slate says`},
		{"single value", "a\n", `plan.yaml:1:1: one value where fields are wanted; read "a"; allowed: scene, notes, date, camera, lamps, walks, key side, setups, deep, inline`},
		{"list", "- a\n", `plan.yaml:1:1: a list where fields are wanted; allowed: scene, notes, date, camera, lamps, walks, key side, setups, deep, inline`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var plan samplePlan
			if _, faults := mustParse(t, c.text).Decode(&plan); faults.Error() != c.want {
				t.Errorf("got %s\nwant %s", faults, c.want)
			}
		})
	}
}

func TestDecodeStopsTellingAt500(t *testing.T) {
	var b strings.Builder
	b.WriteString("scene: a\nlamps:\n")
	for i := range 700 {
		fmt.Fprintf(&b, "  l%d: { kit: a, dim: 2 }\n", i)
	}
	var plan samplePlan
	_, faults := mustParse(t, b.String()).Decode(&plan)
	if want := (fault.Fault{Place: fault.Place{File: "plan.yaml", Line: 502, Column: 22}, Text: "there may be more faults", Hint: "mend those above first"}); len(faults) != 501 || faults[500].Text != want.Text {
		t.Errorf("%d faults, the last %v; want 501, the last %v", len(faults), faults[len(faults)-1], want)
	}
}

func TestPlaces(t *testing.T) {
	var plan samplePlan
	places, _ := mustParse(t, samplePlanText).Decode(&plan)
	for _, c := range []struct{ path, want string }{
		{"scene", "plan.yaml:3:8"},
		{"lamps", "plan.yaml:8:1"},
		{"lamps.key", "plan.yaml:9:3"},
		{"lamps.key.dim", "plan.yaml:9:29"},
		{"lamps.key.height", "plan.yaml:9:3"}, // not written: the lamp
		{"lamps.fill.gels[1]", "plan.yaml:15:17"},
		{"lamps.fill.gels[2]", "plan.yaml:15:5"},
		{"walks.entry[1]", "plan.yaml:19:5"},
		{"walks.entry[1].y", "plan.yaml:20:10"},
		{"key side.low", "plan.yaml:26:8"},
		{"setups.dusk.lamps", "plan.yaml:33:5"},
		{"setups.dusk.lamps.key.dim", "plan.yaml:33:5"},
		{"nothing.of.the.kind", "plan.yaml:3:1"},
		{"not[well", "plan.yaml:3:1"},
	} {
		if got := places.At(Path(c.path)).String(); got != c.want {
			t.Errorf("%s is at %s, want %s", c.path, got, c.want)
		}
	}
	if got := (Places{}).At("lamps"); got != (fault.Place{}) {
		t.Errorf("the zero Places knows %v", got)
	}
}

func TestDecodePanicsOnAProgrammersMistake(t *testing.T) {
	s := mustParse(t, "a: 1\n")
	for name, into := range map[string]any{
		"no pointer": samplePlan{},
		"no struct":  new(int),
		"unreadable type": &struct {
			A map[string]int `yaml:"a"`
		}{},
		"star on a string": &struct {
			A string `yaml:"*"`
		}{},
		"bound no number": &struct {
			A int `yaml:"a" min:"x"`
		}{},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if r := fmt.Sprint(recover()); !strings.HasPrefix(r, "document: ") {
					t.Errorf("panics with %q", r)
				}
			}()
			s.Decode(into)
		})
	}
}
