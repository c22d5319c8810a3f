package daylight

import (
	"math"
	"testing"
	"time"

	"gloam/internal/unit"
)

// TestMoonExample is [Meeus1998], examples 47.a and 48.a (from memory): 1992-04-12 0h dynamical time. The shortened series is
// allowed what it leaves out.
func TestMoonExample(t *testing.T) {
	m := momentOf(instant(t, "1992-04-12T00:00:00Z"))
	longitude, latitude, distance := moonEcliptic(m.days / 36525)
	within(t, "λ", longitude, 133.162655, 0.004)
	within(t, "β", latitude, -3.229126, 0.004)
	within(t, "Δ, km", distance, 368409.7, 15)
	within(t, "lit share", MoonAt(instant(t, "1992-04-12T00:00:00Z"), golden).Lit, 0.6786, 0.0005)
}

// TestFullMoonLight is [ESAA]'s polynomials for a full moon at its mean distance; values computed apart.
func TestFullMoonLight(t *testing.T) {
	mean := earthRadiusKM / math.Sin(radians(0.951))
	for _, row := range []struct {
		altitude unit.Degree
		lux      float64
	}{{90, 0.269}, {30, 0.0977}, {10, 0.0236}} {
		got := Moon{Geometric: row.altitude, distance: mean}.Lux()
		within(t, row.altitude.String(), float64(got), row.lux, 0.0005)
	}
}

// TestMoonLightIsInOrder: a quarter moon gives about a tenth of a full one (order of magnitude, RCA Electro-Optics Handbook 1974,
// from memory), and no light jumps with altitude by more than the published pieces part.
func TestMoonLightIsInOrder(t *testing.T) {
	light := func(altitude unit.Degree, gibbous float64) float64 {
		return float64(Moon{Geometric: altitude, gibbous: gibbous, distance: 384400}.Lux())
	}
	if ratio := light(45, 90) / light(45, 0); ratio < 0.05 || ratio > 0.2 {
		t.Errorf("a quarter moon is %.3f of a full one", ratio)
	}
	before := 0.0
	for h := unit.Degree(-3); h < 90; h += 0.01 {
		now := light(h, 0)
		if now < before*0.97 || (before > 1e-4 && now > before*1.08) {
			t.Fatalf("at %v from %g to %g lx", float64(h), before, now)
		}
		before = now
	}
	if light(-2, 0) != 0 {
		t.Error("light of a moon that is down")
	}
}

// TestPhaseNames are dates of the phases as almanacs have them (from memory): full 2025-03-14 06:55, new 2025-03-29 10:58,
// first quarter 2025-04-05 02:15 UTC.
func TestPhaseNames(t *testing.T) {
	for _, row := range []struct {
		at, name string
		phase    float64
	}{
		{"2025-03-14T06:55:00Z", "full moon", 180},
		{"2025-03-29T10:58:00Z", "new moon", 0},
		{"2025-04-05T02:15:00Z", "first quarter", 90},
		{"2025-04-01T12:00:00Z", "waxing crescent", math.NaN()},
		{"2025-03-18T12:00:00Z", "waning gibbous", math.NaN()},
	} {
		m := MoonAt(instant(t, row.at), golden)
		if m.PhaseName() != row.name {
			t.Errorf("%s: %s, want %s", row.at, m.PhaseName(), row.name)
		}
		if !math.IsNaN(row.phase) {
			within(t, row.at, halfTurn(float64(m.Phase)-row.phase), 0, 0.02)
		}
	}
}

// TestMoonGoesRound: from a full moon to the next are 29.27 to 29.83 days (from memory), so the phase goes about 12.2° a day.
func TestMoonGoesRound(t *testing.T) {
	at := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
	for day := range 365 {
		a, b := MoonAt(at.AddDate(0, 0, day), golden), MoonAt(at.AddDate(0, 0, day+1), golden)
		if step := turn(float64(b.Phase - a.Phase)); step < 10.5 || step > 14.5 {
			t.Fatalf("day %d: the phase goes %.2f°", day, step)
		}
		if a.Lit < 0 || a.Lit > 1 || a.Azimuth < 0 || a.Azimuth >= 360 {
			t.Fatalf("day %d: %+v", day, a)
		}
	}
}
