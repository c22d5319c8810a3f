package pipeline

import (
	"context"
	"math"
	"testing"

	"gloam/internal/meter"
	"gloam/internal/unit"
)

// Colours of the examples, in mired by hand: 10⁶/K less 10⁶/balance. Through the office's half orange, +109 mired, daylight
// of 6200 K comes in at 3700 K, and mixes with the tubes to 3775 K and Duv +0.002; what the tubes light alone is green.
func TestExamplesColours(t *testing.T) {
	for _, row := range []struct {
		example, setup, source string
		mired, duv             float64
	}{
		{"ferry", "", "sun lamp", 112.5, 0}, {"ferry", "", "cloud", -57.1, 0.0032},
		{"luthier", "", "key lamp", 92.6, 0}, {"luthier", "", "globe", 92.6, 0}, {"luthier", "", "sky", -144.4, 0.0032},
		{"chess", "09:30", "lamp 1", 0, 0}, {"chess", "09:30", "overcast", -24.7, 0.0032}, {"chess", "12:30", "overcast", -24.7, 0.0032},
		{"chess", "15:30", "overcast", -24.7, 0.0032}, {"chess", "pickup", "overcast", -24.7, 0.0032},
		{"office", "10:00", "tubes", -14.9, 0.008}, {"office", "14:00", "lamp", 5.4, 0},
	} {
		name, l := coloursOf(t, row.example, row.setup)
		found := false
		for _, s := range l.Sources {
			if s.Source == row.source {
				found = true
				if math.Abs(float64(*s.Mired)-row.mired) > 2 || math.Abs(*s.Duv-row.duv) > 0.001 {
					t.Errorf("%s, %s: %s is %+.1f mired, Duv %+.4f; want %+.1f, %+.4f", row.example, name, row.source, float64(*s.Mired), *s.Duv, row.mired, row.duv)
				}
			}
		}
		if !found {
			t.Errorf("%s, %s has no %s", row.example, name, row.source)
		}
	}
	_, office := coloursOf(t, "office", "10:00")
	for _, p := range office.Points {
		if p.Name != "analyst.key side" {
			continue
		}
		if math.Abs(float64(*p.CCT)-3775) > 75 || math.Abs(*p.Duv-0.002) > 0.001 {
			t.Errorf("the face is lit by %v, Duv %+.4f; want 3775 K, +0.002", *p.CCT, *p.Duv)
		}
		if k := *p.By[0].CCT; math.Abs(float64(k.Mired()-unit.Kelvin(3700).Mired())) > 2 {
			t.Errorf("the gelled window gives %v, want 3700 K", k)
		}
	}
	if f := office.Flicker; f == nil || !f.Steady {
		t.Errorf("flicker at 172.8° on 50 Hz: %+v", f)
	}
}

// coloursOf reads a set-up of an example roughly, surroundings black as sums by hand have them: colours of sources need no rays.
func coloursOf(t *testing.T, example, setup string) (string, meter.Levels) {
	t.Helper()
	p := readExample(t, "../../examples/"+example+"/plan.yaml")
	name := p.Setups()[0]
	if setup != "" {
		name = setup
	}
	view, faults := p.Setup(name)
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	o := Defaults()
	o.Black, o.Goal, o.MostPaths = true, 0.2, 1024
	r, err := Run(context.Background(), view, o)
	if err != nil {
		t.Fatal(err)
	}
	return name, r.Levels
}
