package solve

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// A spot 16.39 m away has 1.98 stops to spare: it could stand 16.39·2^0.99 = 32.5 m away.
func TestSpendOnDistance(t *testing.T) {
	s := Spend(Surplus{Reserve: 1.98, Distance: 16.39, Walk: 2})
	within(t, "distance", float64(s.Distance), 32.55, 0.01)
	within(t, "swing now", float64(s.SwingNow), 2*math.Log2(18.39/16.39), 1e-9)
	within(t, "swing then", float64(s.Swing), 2*math.Log2(34.55/32.55), 1e-3)
	// A stop moves a lamp from 24 m to 24·√2 = 33.94 m from the middle of a walk of 10 m, from 19 m to 28.94 m from its near
	// end.
	s = Spend(Surplus{Reserve: 1, Distance: 24, Walk: 10, Near: 19})
	within(t, "swing of the walk now", float64(s.SwingNow), 2*math.Log2(29./19), 1e-9)
	within(t, "swing of the walk then", float64(s.Swing), 2*math.Log2(38.94/28.94), 1e-3)
}

// A larger cloth of the same flux loses just the spare stops on the face.
func TestSpendOnSoftness(t *testing.T) {
	level := func(a unit.Metre) float64 { return float64(photometry.ElementRectangle(a, a, 1.5)) / float64(a*a) }
	for _, spare := range []unit.Stop{0, 0.5, 2, 5} {
		s := Spend(Surplus{Reserve: spare + 0.5, Keep: 0.5, Frame: 1.2, FrameDistance: 1.5})
		within(t, "loss", math.Log2(level(1.2)/level(s.Frame)), float64(spare), 1e-9)
		if s.Angle < s.AngleNow {
			t.Errorf("%+v", s)
		}
	}
	within(t, "angle now", float64(Spend(Surplus{Frame: 3, FrameDistance: 1.5}).AngleNow), 90, 1e-9)
}

// 68 % of full output has a reserve of 0.56: a quiet mode that ends at 60 % is 0.18 stop short, at 80 % it is not. 750 W·h
// last 750/1350 h at full and 750/(60 + 1290/2) h a stop down.
func TestSpendOnQuietBatteryAndHire(t *testing.T) {
	for quiet, want := range map[unit.Fraction]bool{0: false, 0.6: false, 0.8: true} {
		if got := Spend(Surplus{Reserve: 0.56, Quiet: quiet}).Quiet; got != want {
			t.Errorf("quiet mode to %v is enough: %v", quiet, got)
		}
	}
	s := Spend(Surplus{Reserve: 1.5, Keep: 0.5, Battery: 750, Standby: 60, Full: 1350, Others: []unit.Stop{2, 1, 0.5}})
	within(t, "runtime at full", float64(s.RuntimeFull), 2000, 1e-9)
	within(t, "runtime", float64(s.Runtime), 3600*750/705., 1e-9)
	if !cmp.Equal(s.Others, []int{1, 2}) {
		t.Errorf("strong enough: %v", s.Others)
	}
	if s := Spend(Surplus{Reserve: -1, Keep: 0.5, Distance: 4, Battery: 1, Full: 1}); s.Spare != 0 || s.Distance != 4 || s.Quiet {
		t.Errorf("nothing to spare: %+v", s)
	}
}
