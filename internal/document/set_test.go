package document

import (
	"reflect"
	"testing"
)

// What Set puts into a struct is what reading the edited text gives; the struct it was copied from stays.
func TestSetIsEditAndDecode(t *testing.T) {
	for _, c := range []struct{ path, value string }{
		{"scene", "14B"},
		{"camera.ei", "1600"},
		{"camera.gamma", "2,2"},
		{"lamps.key.dim", "60 %"},
		{"lamps.key.height", "2 m"},
		{"lamps.fill.gels[1]", "3 m"},
		{"lamps.fill.gels[2]", "4 m"},
		{"lamps.key.at", "1 7"},
		{"lamps.back.kit", "P20"},
		{"walks.entry[1].x", "9 m"},
		{"key side.call", "19:01"},
		{"key side.new", "a"},
	} {
		t.Run(c.path, func(t *testing.T) {
			source, err := Parse("plan.yaml", []byte(samplePlanText))
			if err != nil {
				t.Fatal(err)
			}
			var own, again, want samplePlan
			source.Decode(&own)
			source.Decode(&again)
			edited, err := source.Edit(Path(c.path), c.value)
			if err != nil {
				t.Fatal(err)
			}
			source, _ = Parse("plan.yaml", edited)
			source.Decode(&want)
			got := own
			if err := Set(&got, Path(c.path), c.value); err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v, want %+v", got, want)
			}
			if !reflect.DeepEqual(own, again) {
				t.Error("the struct it was copied from changed")
			}
		})
	}
}

func TestSetRefuses(t *testing.T) {
	var own samplePlan
	for path, value := range map[string]string{
		"camera.ei": "7", "lamps.key.dim": "140 %", "lamps.key.heigth": "3 m", "camera.side": "lefft",
		"walks.entry[1]": "1 1", "nobody": "1", "": "1", "a..b": "1", "lamps": "1",
	} {
		if err := Set(&own, Path(path), value); err == nil {
			t.Errorf("%s: %s was taken", path, value)
		}
	}
}

func TestTextAt(t *testing.T) {
	source, err := Parse("plan.yaml", []byte(samplePlanText))
	if err != nil {
		t.Fatal(err)
	}
	var own samplePlan
	source.Decode(&own)
	for path, want := range map[Path]string{
		"scene": "12A", "camera.ei": "800", "lamps.fill.kit": "B3-D55", "lamps.fill.gels[1]": "2", "camera.gamma": "0",
		"lamps.key": "", "lamps.back.kit": "", "camera.iso": "", "walks.entry[9].x": "", "": "", "a..b": "",
	} {
		if got := TextAt(&own, path); got != want {
			t.Errorf("%s is %q, want %q", path, got, want)
		}
	}
}

func TestEnds(t *testing.T) {
	for path, want := range map[Path][2]string{
		"lamps.key lamp.dim": {"key lamp", "dim"}, `lamps."B12.5".dim`: {"B12.5", "dim"}, "time": {"", "time"}, "": {"", ""},
	} {
		if of, field := path.Ends(); of != want[0] || field != want[1] {
			t.Errorf("%s: %q and %q", path, of, field)
		}
	}
}
