package solve

import (
	"context"
	"errors"
	"math"
	"testing"

	"gloam/internal/numeric"
	"gloam/internal/unit"
)

// The book light of TestBookLight must give 90 lx of its 132 lx at 2.5 m; a quiet mode ends at 60 %, so that the face
// must come to where 0.6 of the full output is enough: 2.3 m, by the form factor.
func TestQuietBookLightDistance(t *testing.T) {
	s := Search{Variables: []Variable{{Name: "distance", Low: 1.5, High: 3.5, Resolution: 0.005, Home: 3.5, Prefer: 1}}, Most: 200,
		Light: func(_ context.Context, at []unit.Metre) (*Problem, unit.Stop, error) {
			p := one(numbered(2), []Point{lit(0, bookAt(at[0]), 212), lit(0, 0, 212)}, Target{Name: "front", Over: OverKey},
				Target{Name: "shadow", Point: 1, Over: OverKey, Wanted: -2})
			p.Key, p.Lamps[0].Max = 120, 0.6
			return p, 0, nil
		}}
	f, err := s.Run(context.Background(), nil)
	if err != nil || f.Outcome != Met {
		t.Fatalf("%v, %+v", err, f)
	}
	within(t, "distance", float64(f.At[0]), 2.3, 0.02)
	within(t, "dim", float64(f.Answer.Dims[0]), 0.6, 0.006)
}

// placed returns a search over a floor of 6 × 6 m for a lamp of 900 cd that gives two points 100 and 50 lx: places where
// distances of 3 m and √18 m meet, (1, 1) among them. Noise of the standard error is laid over its light.
func placed(stderr unit.Stop) *Search {
	return &Search{Variables: []Variable{{Name: "x", Low: 0, High: 6, Resolution: 0.02, Home: 0, Prefer: 1},
		{Name: "y", Low: 0, High: 6, Resolution: 0.02}}, Most: 400,
		Light: func(_ context.Context, at []unit.Metre) (*Problem, unit.Stop, error) {
			noise := numeric.Path(1, numeric.Hash(uint32(at[0]*1e4), uint32(at[1]*1e4)))
			level := func(x, y unit.Metre) unit.Lux {
				d := math.Hypot(float64(at[0]-x), float64(at[1]-y))
				u, v := noise.Next()
				return unit.Lux(900 / (d*d + 1e-3) * math.Exp2((u+v-1)*float64(stderr)*math.Sqrt(6)))
			}
			p := one([]Lamp{{Name: "a", Min: 1, Max: 1}}, []Point{lit(0, level(4, 1)), lit(0, level(4, 4))},
				Target{Over: OverKey, Tolerance: 0.1}, Target{Point: 1, Over: OverKey, Wanted: -1, Tolerance: 0.1})
			return p, stderr, nil
		}}
}

func TestSearchOverAFloor(t *testing.T) {
	for _, row := range []struct {
		name   string
		stderr unit.Stop
		near   float64
	}{{"exact", 0, 0.15}, {"noisy", 0.05, 0.4}} {
		t.Run(row.name, func(t *testing.T) {
			f, err := placed(row.stderr).Run(context.Background(), nil)
			if err != nil || f.Outcome != Met {
				t.Fatalf("%v, %+v", err, f)
			}
			within(t, "x", float64(f.At[0]), 1, row.near)
			within(t, "y", float64(f.At[1]), 1, row.near)
		})
	}
}

func TestSearchStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	heard := 0
	f, err := placed(0).Run(ctx, func(f Found) {
		if heard++; f.Tried == 20 {
			cancel()
		}
	})
	if err != nil || f.Outcome != Stopped || f.Tried != 20 || heard != 20 || f.At == nil {
		t.Errorf("%v, %+v, heard %d", err, f, heard)
	}
	broken := placed(0)
	wanted := errors.New("no memory")
	broken.Light = func(context.Context, []unit.Metre) (*Problem, unit.Stop, error) { return nil, 0, wanted }
	if f, err := broken.Run(context.Background(), nil); !errors.Is(err, wanted) || f.Outcome != Stopped {
		t.Errorf("%v, %+v", err, f)
	}
	broken.Variables[0].Resolution = 0
	if _, err := broken.Run(context.Background(), nil); err == nil {
		t.Error("a resolution of nothing taken")
	}
}
