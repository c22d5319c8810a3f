package pipeline

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"gloam/internal/solve"
)

// What is proposed as met is met when it is run forward with another seed, sampling aside; so in every set-up of every example.
func TestSolvedIsMetForward(t *testing.T) {
	paths, _ := filepath.Glob("../../examples/*/plan.yaml")
	met := 0
	for _, path := range paths {
		p := readExample(t, path)
		for _, name := range p.Setups() {
			if testing.Short() && met > 3 {
				return
			}
			t.Run(filepath.Base(filepath.Dir(path))+" "+name, func(t *testing.T) {
				found, err := Solve(context.Background(), viewOf(t, p, name), Defaults())
				if err != nil {
					t.Fatal(err)
				}
				if found.Outcome != solve.Met {
					if len(found.Limits) == 0 {
						t.Errorf("%s, and nothing limits it", found.Outcome)
					}
					return
				}
				met++
				for i, target := range found.Forward.Targets {
					if found.Planned.Setup.Targets[i].Walk >= 0 {
						continue
					}
					if off := math.Abs(float64(*target.Level - target.Wanted)); off > float64(target.Tolerance)+0.1 {
						t.Errorf("%s over %s: %v, wanted %v ± %v", target.Of, target.Over, *target.Level, target.Wanted, target.Tolerance)
					}
				}
			})
		}
	}
	if met == 0 {
		t.Error("no look was met")
	}
}
