package exposure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func TestLens(t *testing.T) {
	fifty := Lens{0.050, 2.8}
	near, far, err := fifty.DepthOfField(3, 0.025e-3)
	if err != nil {
		t.Fatal(err)
	}
	field := func(focal, side unit.Metre) float64 { return float64(Lens{Focal: focal}.Field(side)) }
	const thin, angle = "thin lens, by hand", "2·atan(w/2f), by hand"
	check(t, []worked{
		{"50 mm, f/2.8, circle 0.025 mm: hyperfocal", float64(fifty.Hyperfocal(0.025e-3)), 35.764, 1e-3, thin},
		{"the same focused at 3 m: near end", float64(near), 2.7711, 1e-3, thin},
		{"the same: far end", float64(far), 3.2701, 1e-3, thin},
		{"18 mm on 24.89 mm", field(0.018, 0.02489), 69.319, 1e-3, angle},
		{"35 mm on 24.89 mm", field(0.035, 0.02489), 39.148, 1e-3, angle},
		{"50 mm on 24.89 mm", field(0.050, 0.02489), 27.954, 1e-3, angle},
		{"24 mm on 36 mm", field(0.024, 0.036), 73.740, 1e-3, angle},
		{"50 mm on 36 mm", field(0.050, 0.036), 39.598, 1e-3, angle},
		{"28 mm on 24.9 mm", field(0.028, 0.0249), 47.9, 0.1, angle},
		{"35 mm on 24.89 mm at 4 m", float64(Lens{Focal: 0.035}.FrameSide(0.02489, 4)), 2.8446, 1e-3, "w·d/f, by hand"},
		{"f/2, glass passes 0.80", float64(TransmissionStop(2, 0.80)), 2.2361, 1e-4, "N/√τ, by hand"},
		{"f/1.4 as written, glass passes 0.85", float64(TransmissionStop(1.4, 0.85)), 1.5185, 1e-4, "N/√τ, by hand"},
	})
}

func TestBlur(t *testing.T) {
	blur := func(opening unit.FNumber) float64 {
		b, err := Lens{0.075, opening}.Blur(2.4, 0.45)
		if err != nil {
			t.Fatal(err)
		}
		return float64(b)
	}
	const source = "f²/(N(s−f))·|s−x|/x, by hand"
	check(t, []worked{
		{"75 mm f/2 at 2.4 m, edge at 0.45 m, mm", 1000 * blur(2), 5.24, 0.005, source},
		{"the same as a share of 24.9 mm", blur(2) / 0.0249, 0.21, 0.005, source},
		{"the same at f/5.6, mm", 1000 * blur(unit.FNumber(math.Sqrt(32))), 1.85, 0.005, source},
	})
}

// What the depth of field calls just sharp is blurred to the circle of confusion, by a formula derived apart.
func TestBlurAtTheEndsOfTheDepthIsTheCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Lens{
			unit.Metre(rapid.Float64Range(0.012, 0.3).Draw(t, "focal")), unit.FNumber(rapid.Float64Range(1, 22).Draw(t, "opening")),
		}
		focus := unit.Metre(rapid.Float64Range(0.5, 30).Draw(t, "focus"))
		circle := unit.Metre(rapid.Float64Range(5e-6, 5e-5).Draw(t, "circle"))
		near, far, err := l.DepthOfField(focus, circle)
		if err != nil {
			t.Fatal(err)
		}
		for _, end := range []unit.Metre{near, far} {
			if math.IsInf(float64(end), 1) {
				end = 1e9
			}
			blur, err := l.Blur(focus, end)
			if err != nil {
				t.Fatal(err)
			}
			sharper := end == 1e9 && blur <= circle*(1+1e-9) // focused beyond the hyperfocal distance
			if !sharper && math.Abs(float64(blur/circle)-1) > 1e-6 {
				t.Fatalf("%v: blur %v, circle %v", end, float64(blur), float64(circle))
			}
		}
	})
}

func TestFocusInsideTheFocalLength(t *testing.T) {
	l := Lens{0.075, 2}
	if _, _, err := l.DepthOfField(0.075, 1e-5); err != ErrFocus {
		t.Errorf("depth of field: %v", err)
	}
	if _, err := l.Blur(0.05, 1); err != ErrFocus {
		t.Errorf("blur: %v", err)
	}
}
