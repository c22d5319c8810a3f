package document

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"gloam/internal/fault"
)

const overlayBase = `scene: a
date: 2027-03-03
camera: { ei: 800, side: left, handed: [left, right] }
lamps:
  key: { kit: B12, dim: 88 %, at: { x: 1 m, y: 2 m } }
  fill: { kit: B3 }
`

func TestDecodeOverlaidMergesFieldsAndReplacesTheRest(t *testing.T) {
	base := func() samplePlan {
		return samplePlan{
			Scene: "a", Date: "2027-03-03",
			Camera: &sampleCamera{EI: 800, Side: "left", Handed: []string{"left", "right"}},
			Lamps:  Named[sampleLamp]{{"key", sampleLamp{Kit: "B12", Dim: 0.88, At: spotAt{1, 2}}}, {"fill", sampleLamp{Kit: "B3"}}},
		}
	}
	for _, c := range []struct {
		name, setup string
		change      func(p *samplePlan)
	}{
		{"nothing", "{}", func(*samplePlan) {}},
		{"no value", "", func(*samplePlan) {}},
		{"own names alone", "{ time: 18:35 }", func(*samplePlan) {}},
		{"single value", "{ scene: b }", func(p *samplePlan) { p.Scene = "b" }},
		{"value deep down", "{ lamps: { key: { at: { y: 3 m } } } }", func(p *samplePlan) { p.Lamps[0].Value.At.Y = 3 }},
		{"short form over fields", "{ lamps: { key: { at: 4 5 } } }", func(p *samplePlan) { p.Lamps[0].Value.At = spotAt{4, 5} }},
		{"list", "{ camera: { handed: [right] } }", func(p *samplePlan) { p.Camera.Handed = []string{"right"} }},
		{"new name", "{ lamps: { back: { kit: P20 } } }", func(p *samplePlan) {
			p.Lamps = append(p.Lamps, Entry[sampleLamp]{"back", sampleLamp{Kit: "P20"}})
		}},
		{"field new in the document", "{ notes: c }", func(p *samplePlan) { p.Notes = "c" }},
		{"two lamps", "{ lamps: { fill: { dim: 0.5 }, key: { dim: 0.6 } } }", func(p *samplePlan) {
			p.Lamps[0].Value.Dim, p.Lamps[1].Value.Dim = 0.6, 0.5
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			want, got := base(), samplePlan{}
			c.change(&want)
			s := mustParse(t, overlayBase+"setups:\n  dusk: "+c.setup+"\n")
			if _, faults := s.DecodeOverlaid([]Path{"setups.dusk"}, []string{"time"}, &got); faults != nil {
				t.Fatal(faults)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestDecodeOverlaidTellsTheFragmentsFaults(t *testing.T) {
	for _, c := range []struct{ name, setup, want string }{
		{"value", "    lamps: { key: { dim: 140 % } }\n", `plan.yaml:10:26: setups.dusk.lamps.key.dim: 140 % is above 100 %; read "140 %"; allowed: a share such as 60 % or 0.6`},
		{"unknown field", "    lamps: { key: { heigth: 1 m } }\n", `plan.yaml:10:21: setups.dusk.lamps.key: no such field "heigth"; did you mean "height"?`},
		{"unknown field of the document", "    tme: 18:35\n", `plan.yaml:10:5: setups.dusk: no such field "tme"; did you mean "time"?`},
		{"set-ups in a set-up", "    setups: {}\n", `plan.yaml:10:5: setups.dusk: no such field "setups"`},
		{"new name, not whole", "    lamps: { kye: { dim: 1 } }\n", `plan.yaml:10:14: setups.dusk.lamps.kye.kit: is missing; did you mean "key"?`},
		{"new name, like none", "    lamps: { back light: { dim: 1 } }\n", `plan.yaml:10:14: setups.dusk.lamps.back light.kit: is missing; its name in the kit`},
		{"written twice", "    date: 1\n    date: 2\n", `plan.yaml:11:5: setups.dusk.date: written twice: first in line 10, column 5`},
		{"written twice deep down", "    lamps:\n      key: { dim: 1 }\n      key: { dim: 2 }\n", `plan.yaml:12:7: setups.dusk.lamps.key: written twice: first in line 11, column 7`},
		{"value where the document has fields", "    camera: T4\n", `plan.yaml:10:13: setups.dusk.camera: one value where fields are wanted; read "T4"; allowed: ei, gamma, side, handed, locked`},
		{"fields where the document has a value", "    date: { a: 1 }\n", `plan.yaml:10:5: setups.dusk.date: fields where one value is wanted; allowed: anything`},
	} {
		t.Run(c.name, func(t *testing.T) {
			// The document's own faults, in lines 4 and 7, are not told again.
			text := "scene: a\ncamera: { ei: 800 }\nlamps:\n  key: { dim: 3, at: x }\n  fill: { kit: b }\nwalks:\n  a: { x: 1 m }\nsetups:\n  dusk:\n" + c.setup
			var plan samplePlan
			_, faults := mustParse(t, text).DecodeOverlaid([]Path{"setups.dusk"}, []string{"time"}, &plan)
			if got := faults.Error(); got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestDecodeOverlaidKnowsThePlaces(t *testing.T) {
	s := mustParse(t, overlayBase+"setups:\n  dusk:\n    lamps: { key: { dim: 60 % }, back: { kit: c } }\n  late: { lamps: { key: { dim: 50 % } }, date: 1 }\n")
	var plan samplePlan
	places, faults := s.DecodeOverlaid([]Path{"setups.dusk", "setups.late"}, nil, &plan)
	if faults != nil || plan.Lamps[0].Value.Dim != 0.5 || len(plan.Lamps) != 3 {
		t.Fatalf("got %+v, %v", plan, faults)
	}
	for _, c := range []struct{ path, at, written string }{
		{"scene", "plan.yaml:1:8", "scene"},
		{"date", "plan.yaml:10:48", "setups.late.date"},
		{"lamps.key.kit", "plan.yaml:5:15", "lamps.key.kit"},
		{"lamps.key.dim", "plan.yaml:10:32", "setups.late.lamps.key.dim"},
		{"lamps.back", "plan.yaml:9:34", "setups.dusk.lamps.back"},
		{"lamps.back.dim", "plan.yaml:9:34", "setups.dusk.lamps.back.dim"},
	} {
		if at, written := places.At(Path(c.path)).String(), places.Path(Path(c.path)); at != c.at || string(written) != c.written {
			t.Errorf("%s is %s at %s, want %s at %s", c.path, written, at, c.written, c.at)
		}
	}
}

func TestDecodeOverlaidOfWhatIsNoFragment(t *testing.T) {
	s := mustParse(t, overlayBase+"setups: { dusk: 3 }\n")
	for path, want := range map[Path]string{
		"setups.dusk": "", // Decode has told that it holds no fields
		"setups.dawn": "plan.yaml:7:1: setups.dawn: it is not written",
		"a..b":        `plan.yaml:1:1: a..b: the path "a..b" cannot be read at ".b"`,
		"":            "plan.yaml:1:1: it is not written",
	} {
		var plan samplePlan
		_, faults := s.DecodeOverlaid([]Path{path}, nil, &plan)
		if got := faults.Error(); got != want {
			t.Errorf("%q: got %q, want %q", path, got, want)
		}
		if want != "" && faults.Err() == nil || len(faults) > 0 && faults[0].Kind != fault.Input {
			t.Errorf("%q: %v is not at fault", path, faults)
		}
	}
}
