package exposure

import (
	"flag"
	"math"
	"os"
	"testing"

	"gloam/internal/unit"
)

// TestMain fixes the seed of the property tests, so that a run can be repeated; -rapid.seed on the command line wins.
func TestMain(m *testing.M) {
	for option, value := range map[string]string{"rapid.seed": "1", "rapid.nofailfile": "true"} {
		if err := flag.Set(option, value); err != nil {
			panic("exposure: the property tests have no such option")
		}
	}
	os.Exit(m.Run())
}

// worked is one worked example: what the formula gives, what the source prints, to the digits it prints.
type worked struct {
	name      string
	got, want float64
	tolerance float64
	source    string
}

func check(t *testing.T, rows []worked) {
	t.Helper()
	seen := map[string]bool{}
	for _, row := range rows {
		if seen[row.name] || row.source == "" {
			t.Errorf("%s: named twice, or without a source", row.name)
		}
		seen[row.name] = true
		if !(math.Abs(row.got-row.want) <= row.tolerance) {
			t.Errorf("%s: %v, want %v ± %v (%s)", row.name, row.got, row.want, row.tolerance, row.source)
		}
	}
}

// nominal returns the T-stop as it is engraved: T2.8 is √8.
func nominal(t *testing.T, text string) unit.TStop {
	t.Helper()
	var stop unit.TStop
	if err := stop.Parse(text); err != nil {
		t.Fatal(err)
	}
	return stop
}

// turned is a camera with a shutter angle.
func turned(ei unit.EI, fps unit.FPS, angle unit.Degree, stop unit.TStop) Camera {
	return Camera{EI: ei, FPS: fps, Shutter: unit.Shutter{Angle: angle}, Stop: stop}
}

// timed is a camera with an exposure time, the stop taken as written.
func timed(ei unit.EI, t unit.Second, stop unit.TStop) Camera {
	return Camera{EI: ei, FPS: 24, Shutter: unit.Shutter{Time: t}, Stop: stop}
}

const (
	byDefinition = "by definition"
	byHand       = "by hand from the formula"
	fromISO2720  = "the incident-light equation of [ISO2720], C = 250 lx s, by hand"
	practice     = "common practice, no source"
	handbooks    = "common formula of cinematography handbooks, fc = 25·T²/(EI·t), as printed on the web"
	isoMemory    = "[ISO12232], from memory"
)
