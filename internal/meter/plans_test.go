package meter

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"

	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// The bench: small plans in empty space, where a lamp's light is its intensity over the square of the distance and
// nothing else, read by Read. The kit beside each plan holds lamps too small to count as anything but a point.

// bench is a set-up on the bench, traced and read.
type bench struct {
	setup  *scene.Setup
	layers *transport.Layers
	levels Levels
}

// kit has lamps with the light of 250 kcd within a beam so wide that a degree off the axis is nothing, by quality, and
// of any white.
const kit = `kit: 1
lamps:
  spot: {quality: measured, beams: {beam: 90 deg, peak: 250 kcd}, opening: disc 1 mm, reference: 5600 K, output: {2000 K: 100 %, 10000 K: 100 %}}
  sheet spot: {like: spot, quality: sheet, beams: {beam: 90 deg, peak: 250 kcd}}
  other spot: {like: spot, quality: sheet, beams: {beam: 90 deg, peak: 250 kcd}}
  guessed spot: {like: spot, quality: guess, beams: {beam: 90 deg, peak: 250 kcd}}
  quiet spot: {like: spot, quality: measured, beams: {beam: 90 deg, peak: 250 kcd}, fan: {noise: 30 dB(A), quiet: 20 dB(A), most: 60 %}}
cloths:
  measured grid: {kind: heavy, through: 22 %, front: 65 %, quality: measured}
  sheet grid: {kind: heavy, through: 22 %, front: 65 %, quality: sheet}
  guessed grid: {kind: heavy, through: 22 %, front: 65 %, quality: guess}
`

// key is the level for EI 800, 24 fps, 180°, T2.8: 250·8·48/800 lx.
const (
	camera = "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"
	key    = 120.0
)

// one is a lamp 5 m in front of a point: at full 250,000/5² = 10,000 lx.
const (
	atPoint  = "points: {point: {at: 0 0 1, faces: N}}\n"
	oneLamp  = "lamps: {lamp: {kit: spot, at: 0 5 1, aim: S}}\n"
	oneLevel = 10_000.0
)

// put reads a plan's body, traces it and reads the layers. Ambients must be everywhere, whose strength is their reading.
func put(t *testing.T, goal unit.Stop, body string) bench {
	t.Helper()
	p, faults := plan.Read("plan.yaml", []byte("gloam: 1\ntitle: The bench\nkit: [kit.yaml]\n"+body), func(name string) ([]byte, error) {
		if name != "kit.yaml" {
			return nil, os.ErrNotExist
		}
		return []byte(kit), nil
	})
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	view, faults := p.Setup(p.Setups()[0])
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	s, faults := scene.Build(view, false)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	for _, a := range s.Ambients {
		if s.Scene.Emitters[a.Emitter].Kind != scene.Everywhere {
			t.Fatal("the bench knows ambients from everywhere alone")
		}
		s.Dials[a.Emitter].Level = float64(a.Reading)
		if a.Seen != nil {
			s.Scene.Emitters[a.Emitter].Seen = float64(*a.Seen / unit.Nit(a.Reading))
		}
	}
	layers, err := transport.Trace(context.Background(), s.Scene, transport.Request{
		Seed: 1, Goal: goal, MostPaths: 1 << 18, Weights: s.Scene.Weights(s.Dials),
	})
	if err != nil {
		t.Fatal(err)
	}
	return bench{s, layers, Read(s, layers)}
}

// lit is a plan on the bench, surer than anything it is compared with.
func lit(t *testing.T, body string) bench { t.Helper(); return put(t, 0.002, body+camera) }

func (b bench) point(t *testing.T, name string) *Reading {
	t.Helper()
	for i := range b.levels.Points {
		if b.levels.Points[i].Name == name {
			return &b.levels.Points[i]
		}
	}
	t.Fatalf("no point is called %q", name)
	return nil
}

func (b bench) lamp(t *testing.T, name string) *Lamp {
	t.Helper()
	for i := range b.levels.Lamps {
		if b.levels.Lamps[i].Name == name {
			return &b.levels.Lamps[i]
		}
	}
	t.Fatalf("no lamp is called %q", name)
	return nil
}

// within fails when two numbers differ by more than a tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6g, want %.6g ±%.2g", what, got, want, tolerance)
	}
}

// some fails when a number that should be there is null, and returns it.
func some[T ~float64](t *testing.T, what string, x *T) float64 {
	t.Helper()
	if x == nil {
		t.Errorf("%s is null", what)
		return math.NaN()
	}
	return float64(*x)
}

// aimed is a lamp of the kit at a distance in front of the point.
func aimed(name, kit string, distance float64, fields string) string {
	return fmt.Sprintf("  %s: {kit: %s, at: 0 %g 1, aim: S%s}\n", name, kit, distance, fields)
}
