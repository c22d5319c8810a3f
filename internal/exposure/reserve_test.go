package exposure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func TestNeededShare(t *testing.T) {
	for _, row := range []struct {
		name     string
		at, over Part
		wanted   unit.Stop
		want     float64
	}{
		// Two stops over 1600 lx of ambient take 4800 lx of 10,000.
		{"over the ambient", Part{10000, 1600}, Part{0, 1600}, 2, 0.48},
		// 1½ stops over a key of 120 lx are 339 lx of 1337: 1.98 stops to spare.
		{"over key", Part{1337, 0}, Part{0, 120}, 1.5, math.Exp2(-1.98)},
		// 400x + 20 = 2·(100x + 50): 80 lx lack, and the lamp gains 200 lx on what it is measured over.
		{"over a point that it lights too", Part{400, 20}, Part{100, 50}, 1, 0.4},
		{"without it", Part{100, 500}, Part{0, 100}, 1, 0},
		{"lights the other as much", Part{100, 0}, Part{100, 10}, 0, math.Inf(1)},
		{"full is a stop short", Part{100, 0}, Part{0, 100}, 1, 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := NeededShare(row.at, row.over, row.wanted); !(math.Abs(got-row.want) <= 0.002*row.want) && got != row.want {
				t.Errorf("%g, want %g", got, row.want)
			}
		})
	}
}

// With the share that is needed the levels lie as wanted.
func TestNeededShareIsEnough(t *testing.T) {
	lux := rapid.Float64Range(0, 1e5)
	rapid.Check(t, func(t *rapid.T) {
		at, over := Part{lux.Draw(t, "a"), lux.Draw(t, "o")}, Part{lux.Draw(t, "b"), lux.Draw(t, "q")}
		wanted := unit.Stop(rapid.Float64Range(-5, 5).Draw(t, "wanted"))
		x := NeededShare(at, over, wanted)
		if x == 0 || math.IsInf(x, 1) {
			return
		}
		level, aim := at.Full*x+at.Rest, wanted.Factor()*(over.Full*x+over.Rest)
		if math.Abs(level-aim) > 1e-9*(level+aim) {
			t.Fatalf("%g of full gives %g over %g", x, level, aim)
		}
	})
}

func TestCarries(t *testing.T) {
	for _, row := range []struct {
		own, all float64
		want     bool
	}{{25, 100, true}, {24.9, 100, false}, {0, 0, false}, {100, 100, true}} {
		if got := Carries(row.own, row.all); got != row.want {
			t.Errorf("%g of %g: %v", row.own, row.all, got)
		}
	}
}
