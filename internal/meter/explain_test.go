package meter

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// said finds the step about something and fails unless its formula, inputs, result and source hold the texts.
func said(t *testing.T, e *Explanation, what string, texts ...string) {
	t.Helper()
	for _, s := range e.Steps {
		if s.What != what {
			continue
		}
		all := strings.Join(append(s.Inputs, s.Formula, s.Result, s.Source), "\n")
		for _, text := range texts {
			if !strings.Contains(all, text) {
				t.Errorf("the step %q does not say %q:\n%s", what, text, all)
			}
		}
		return
	}
	t.Errorf("no step is about %q", what)
}

// What goes into a number stands in its explanation: 125,000 cd at half level, 5 m, 60° off the receptor's axis.
func TestExplanationListsEveryInput(t *testing.T) {
	b := lit(t, `lamps: {lamp: {kit: spot, at: 0 5 1, aim: S, dim: 50 %}, other: {kit: spot, at: 0 5 1, aim: 150 deg}}
practicals: {globe: {kind: globe, at: 2 2 1, diameter: 0.14 m, flux: 470 lm}}
ambient: {sky: {reading: 640 lx, shape: everywhere}}
points: {aside: {at: 0 0 1, faces: 60 deg}}
`)
	e, ok := Explain(b.setup, b.layers, "aside")
	if !ok || e.Point != "aside" {
		t.Fatalf("there is no explanation: %+v", e)
	}
	p := b.point(t, "aside")
	said(t, &e, "level", "lamp 2500 lx", "sky 640 lx", "globe ", "other ", p.Lux.String(), fmt.Sprintf("%.0f %%", 100*p.By[0].Share))
	said(t, &e, "lamp", "d 5.00 m", "dim 50 %", "α 60°", "θ 0.0°", "I(θ) 250 kcd", "cos α ÷ d²", "straight 2500 lx", "over cloth and surfaces 0 lx")
	said(t, &e, "other", "dim 100 %", "θ 30.0°")
	said(t, &e, "globe", "d 2.83 m", "dim 100 %")
	said(t, &e, "sky", "640 lx", "reading")
	said(t, &e, "key", "C·T²·2^ND ÷ (EI·t)", "C 250 lx s", "T 2.828", "ND 0.00 stops", "EI 800", "t 1/48.0 s", "120 lx", "ISO 2720")
	said(t, &e, "over key", "log2(level ÷ key)", fmt.Sprintf("%+.2f stops", float64(*p.OverKey)))
	for _, s := range e.Steps {
		if s.Formula == "" || s.Source == "" || s.Result == "" {
			t.Errorf("the step %q lacks formula, result or source: %+v", s.What, s)
		}
	}
}

// A lamp's colour, its source behind the front, and a sky seen in an opening are inputs too.
func TestExplanationOfSpecialInputs(t *testing.T) {
	b := put(t, 0.01, `set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m, gel: ND 0.9}}}}}
lamps: {lamp: {kit: B12-D26, at: 1 1 2, aim: here, colour: 2700 K}}
ambient: {sky: {reading: 640 lx, shape: everywhere, through: [window], luminance: 2400 cd/m2}}
points: {here: {at: 2 2 1.4, faces: lamp}, seen: {at: window, receptor: spot}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, nd: ND 0.3, at: 4 1 1.4, aim: N, constant: 330}
`)
	e, _ := Explain(b.setup, b.layers, "here")
	said(t, &e, "lamp", "output at this colour 0.74", "path tracing")
	said(t, &e, "key", "C 330 lx s", "ND 1.00 stops")
	e, _ = Explain(b.setup, b.layers, "seen")
	said(t, &e, "sky", "seen in its openings: 2400 cd/m² bare, as read")
	said(t, &e, "over key", "log2(π·L ÷ (0.18·key))")
	said(t, &e, "level", b.point(t, "seen").Luminance.String())
}

// The parts' root-sum-square is the interval of the point, to the last digit: nothing is added that is not told.
func TestExplanationOfTheInterval(t *testing.T) {
	b := put(t, 0.02, `people: {maker: {at: 0 0, faces: N, key: left}}
lamps: {lamp: {kit: B12-D60, at: 0 5 1.5, aim: frame}, other: {kit: B3-D55, at: 3 4 2, aim: maker}}
cloths: {frame: {kind: full grid, size: 1.2 x 1.2 m, at: 0 3 1.5, faces: maker}}
ambient: {sky: {reading: 50 lx, shape: everywhere}}
walks: {in: {marks: [2 0, 2 2], faces: N}}
`+camera)
	for name, interval := range map[string]float64{
		"maker.front": float64(b.point(t, "maker.front").Interval), "maker.shadow side": float64(b.point(t, "maker.shadow side").Interval),
		"in 1.00 m": float64(b.levels.Walks[0].Points[1].Interval),
	} {
		e, ok := Explain(b.setup, b.layers, name)
		if !ok {
			t.Fatalf("%s is not explained", name)
		}
		sum, together, causes := 0.0, 0.0, map[string]bool{}
		for _, d := range e.Doubts {
			causes[d.Cause] = true
			if d.Cause == "together" {
				together = float64(d.Stops)
				continue
			}
			sum += float64(d.Stops * d.Stops)
		}
		within(t, name+", together", together, interval, 0)
		within(t, name+", root-sum-square", math.Sqrt(sum), interval, 1e-12)
		for _, cause := range []string{"figures of B12-D60", "distance of lamp", "dim of lamp", "figures of B3-D55", "cloth full grid cloth", "the day against sky", "the meter that checks it"} {
			if !causes[cause] {
				t.Errorf("%s: no part is called %q", name, cause)
			}
		}
	}
	if _, ok := Explain(b.setup, b.layers, "nobody"); ok {
		t.Error("a point that is not there is explained")
	}
}

func TestExplanationOfTheDark(t *testing.T) {
	b := lit(t, oneLamp+"points: {away: {at: 0 0 1, faces: S}}\n")
	e, ok := Explain(b.setup, b.layers, "away")
	if !ok {
		t.Fatal("a dark point is not explained")
	}
	said(t, &e, "level", "lamp 0 lx")
	said(t, &e, "over key", "dark")
	for _, d := range e.Doubts {
		if math.IsNaN(float64(d.Stops)) || math.IsInf(float64(d.Stops), 0) {
			t.Errorf("%s is %v", d.Cause, d.Stops)
		}
	}
}
