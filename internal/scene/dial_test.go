package scene

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
)

// whole is a response of 1 in every band.
var whole = spectrum.BandMean(spectrum.Flat(1))

// Weights of the columns: level, spectrum, gel on the head and gel on the opening the light came in by. Y sums to lux.
func TestWeights(t *testing.T) {
	s := built(t, `set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m, gel: ND 0.6}, door: {wall: left, size: 1 x 2 m, sill: 0}}}}}
lamps: {lamp: {kit: P20, at: 2 2 2, aim: N, dim: 50 %, gel: ND 0.3}}
ambient:
  glow: {reading: 100 lx, shape: everywhere, through: [window]}
  haze: {reading: 100 lx, shape: everywhere}
`)
	scene := s.Scene
	if scene.Columns() != 3*3 {
		t.Fatalf("%d columns for 3 emitters and 2 openings", scene.Columns())
	}
	seen := map[int]bool{}
	for e := range 3 {
		for o := -1; o < 2; o++ {
			seen[scene.Column(e, o)] = true
		}
	}
	if len(seen) != 9 || seen[-1] || seen[9] {
		t.Fatalf("the columns are %v", seen)
	}
	weights := scene.Weights(s.Dials)
	nd := func(d float64) float64 { return math.Pow(10, -d) }
	for _, row := range []struct {
		name             string
		emitter, opening int
		want             float64
	}{
		{"the lamp, by no opening", 0, -1, 0.5 * nd(0.3)},
		{"the lamp, by the window", 0, 0, 0.5 * nd(0.3) * nd(0.6)},
		{"the lamp, by the door", 0, 1, 0.5 * nd(0.3)},
		{"ambient said to come by the window", 1, -1, nd(0.6)},
		{"ambient from everywhere", 2, -1, 1},
	} {
		within(t, row.name, weights[scene.Column(row.emitter, row.opening)].Dot(whole), row.want, 1e-9)
	}
	x, y, z := scene.TristimulusWeights(s.Dials)
	for c := range y {
		if y[c] != weights[c] {
			t.Errorf("column %d: Y is not the weight in lux", c)
		}
	}
	lamp := scene.Column(0, -1)
	sum := colour.XYZ{X: x[lamp].Dot(whole), Y: y[lamp].Dot(whole), Z: z[lamp].Dot(whole)}
	cct, duv, err := colour.CCTDuv(sum)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "colour of the lamp", float64(cct), 5600, 15)
	within(t, "Duv of the lamp", duv, 0, 5e-4)
}

func TestWeightsWantADialForEachEmitter(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic for one dial and two emitters")
		}
	}()
	(&Scene{Emitters: make([]Emitter, 2)}).Weights(make([]Dial, 1))
}
