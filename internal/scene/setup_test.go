package scene

import (
	"reflect"
	"testing"

	"gloam/internal/plan"
)

func TestTargetsAndTones(t *testing.T) {
	s := built(t, `people: {maker: {at: 2 2, faces: N, key: left}}
walks: {in: {marks: [1 1, 4 1]}}
points: {wall: {at: 3 3 1, faces: S}}
targets:
  - {point: maker.key side, level: +1/3}
  - {point: maker.shadow side, level: -3, over: maker.key side, tolerance: 1/2}
  - {point: wall, level: +2, over: ambient}
  - {walk: in, swing: 1}
  - {across: [wall, maker.front], swing: 1/2}
  - {point: wall, mired: +25}
  - {point: wall, level: +3, bound: at most, weight: 2}
tones: {snow: snow in wall, card: 0.9 in maker.front}
`)
	index := map[string]int{}
	for i, p := range s.Points {
		index[p.Name] = i
	}
	want := []TargetUse{
		{Point: index["maker.key side"], Walk: -1, Wanted: 1.0 / 3, Tolerance: 1.0 / 3, Over: OverKey},
		{Point: index["maker.shadow side"], Walk: -1, Wanted: -3, Tolerance: 0.5, Over: index["maker.key side"]},
		{Point: index["wall"], Walk: -1, Wanted: 2, Tolerance: 1.0 / 3, Over: OverAmbient},
		{Point: -1, Walk: 0, Wanted: 1, Tolerance: 1.0 / 3, Over: OverKey},
		{Point: -1, Walk: -1, Across: []int{index["wall"], index["maker.front"]}, Wanted: 0.5, Tolerance: 1.0 / 3, Over: OverKey},
		{Point: index["wall"], Walk: -1, Colour: &ColourWish{25, 15}, Tolerance: 1.0 / 3, Over: OverKey},
		{Point: index["wall"], Walk: -1, Wanted: 3, Tolerance: 1.0 / 3, Over: OverKey},
	}
	for i := range want {
		want[i].Bound, want[i].Weight = At, 1
	}
	want[len(want)-1].Bound, want[len(want)-1].Weight = AtMost, 2
	for i := range want {
		if !reflect.DeepEqual(s.Targets[i], want[i]) {
			t.Errorf("target %d is %+v, want %+v", i, s.Targets[i], want[i])
		}
	}
	if len(s.Targets) != len(want) || len(s.Tones) != 2 {
		t.Fatalf("%d targets and %d tones", len(s.Targets), len(s.Tones))
	}
	snow, card := s.Tones[0], s.Tones[1]
	if snow.Name != "snow" || snow.Material != "snow" || snow.Point != index["wall"] || card.Point != index["maker.front"] {
		t.Errorf("the tones are %+v", s.Tones)
	}
	even(t, "card", card.Reflectance, 0.9)
}

func TestCamera(t *testing.T) {
	s := built(t, "time: 18:35\ncamera: {ei: 800, fps: 25, shutter: 180 deg, stop: T4, nd: ND 0.6, at: 1 1 1.5, aim: 1 5 1.5}\n")
	within(t, "key with two stops of filter", float64(s.Camera.Key()), 4*250*16/(800.0/50), 1e-6) // C·T²·2^ND/(EI·t)
	if s.Balance != 5600 || s.Clock != "18:35" {
		t.Errorf("balance %v, clock %q", s.Balance, s.Clock)
	}
	near(t, "the lens", s.View.At, vec{X: 1, Y: 1, Z: 1.5})
	near(t, "looks", s.View.Basis.Z, vec{Y: 1})
	if built(t, "").View != nil {
		t.Error("a camera without a place has a view")
	}
	dark := built(t, "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, constant: 330, balance: 3600 K}\n")
	within(t, "key by another meter", float64(dark.Camera.Key()), 330*8/(800.0/48), 1e-6)
	if dark.Balance != 3600 {
		t.Errorf("balance %v", dark.Balance)
	}
}

// A set-up keeps the order of the plan in every list, and what it leaves out is nowhere.
func TestSetupUses(t *testing.T) {
	v := viewed(t, `people: {maker: {at: 2 2, faces: N, key: left}}
lamps: {b: {kit: P20, at: 1 1 2, aim: maker}, a: {kit: P20, at: 4 1 2, aim: maker}, c: {kit: P20, at: 4 4 2, aim: maker}}
practicals: {z: {kind: candle, at: 3 3 1}}
ambient: {sky: {reading: 100 lx, shape: everywhere}}
setups: {one: {uses: [a, b, sky, maker, z]}}
`, nil)
	s, faults := Build(v, false)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, source := range s.Sources {
		names = append(names, source.Name)
	}
	if got := join(names); got != "b a z sky" {
		t.Errorf("the sources are %s, want b a z sky", got)
	}
	if s.Name != "one" || len(s.Dials) != len(s.Scene.Emitters) {
		t.Errorf("set-up %q with %d dials for %d emitters", s.Name, len(s.Dials), len(s.Scene.Emitters))
	}
	for i, source := range s.Sources {
		if len(source.Emitters) != 1 || s.Scene.Emitters[source.Emitters[0]].Source != source.Name {
			t.Errorf("source %d holds emitters %v", i, source.Emitters)
		}
	}
}

// Build changes nothing it was given: twice the same view gives twice the same set-up.
func TestBuildTwice(t *testing.T) {
	v := viewed(t, window+"people: {maker: {at: 2 2, faces: N, key: left}}\n", nil)
	before := v.Document.People[0].Value
	one, _ := Build(v, false)
	other, _ := Build(v, false)
	if v.Document.People[0].Value != before || len(one.Scene.Surfaces) != len(other.Scene.Surfaces) {
		t.Error("building a set-up changed the plan")
	}
	for i, r := range one.Scene.Receivers {
		if r != other.Scene.Receivers[i] {
			t.Errorf("receiver %d differs", i)
		}
	}
}

// A doubt found later, such as that of an ambient's strength, goes to the source that holds the emitter.
func TestDoubtOfAnEmitter(t *testing.T) {
	s := built(t, "lamps: {lamp: {kit: P20, at: 0 0 2, aim: N}}\nambient: {sky: {reading: 100 lx, shape: everywhere}}\n")
	lamp, sky := len(s.Sources[0].Doubts), len(s.Sources[1].Doubts)
	s.Doubt(s.Ambients[0].Emitter, Doubt{"strength of sky", 0.02})
	if len(s.Sources[0].Doubts) != lamp || len(s.Sources[1].Doubts) != sky+1 || s.Sources[1].Doubts[sky].Stops != 0.02 {
		t.Errorf("the sources are %+v", s.Sources)
	}
}

// A plan without light can be drawn; that nothing shines is told for each of its set-ups.
func TestAPlanWithoutLight(t *testing.T) {
	for text, want := range map[string]string{
		"": "plan.yaml:1:1: there is no source of light; allowed: one or more under lamps, practicals or ambient, or a sky",
		"lamps: {key: {kit: B12-D26, at: 0 0 2, aim: 1 1 1}}\nsetups: {night: {uses: [ann]}}\npeople: {ann: {at: 1 1, faces: N, key: left}}\n": "plan.yaml:1:1: setups.night: there is no source of light; allowed: one or more under lamps, practicals or ambient, or a sky",
	} {
		p, faults := plan.Read("plan.yaml", []byte("gloam: 1\ntitle: Dark\ncamera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"+text), nil)
		if faults.Err() != nil {
			t.Fatal(faults)
		}
		view, _ := p.Setup(p.Setups()[0])
		if _, faults := Build(view, false); len(faults) != 1 || faults[0].Error() != want {
			t.Errorf("faults\n%v\nwant\n%s", faults, want)
		}
	}
}
