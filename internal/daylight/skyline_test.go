package daylight

import (
	"strings"
	"testing"
	"time"

	"gloam/internal/unit"
)

func skylineOf(t *testing.T, points ...SkylinePoint) *Skyline {
	t.Helper()
	s, err := NewSkyline(points)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSkylineIsStraightBetweenPoints(t *testing.T) {
	s := skylineOf(t, SkylinePoint{300, 10}, SkylinePoint{340, 30}, SkylinePoint{20, 10}, SkylinePoint{100, 0})
	for azimuth, want := range map[unit.Bearing]float64{300: 10, 320: 20, 340: 30, 350: 25, 0: 20, 10: 15, 20: 10, 60: 5, 100: 0, 200: 5, 299.5: 9.975} {
		within(t, azimuth.String(), float64(s.Height(azimuth)), want, 1e-9)
	}
	within(t, "one point", float64(skylineOf(t, SkylinePoint{50, 7}).Height(210)), 7, 0)
}

func TestSkylinesAtFault(t *testing.T) {
	for _, row := range []struct {
		name   string
		points []SkylinePoint
		tells  []string
	}{
		{"none", nil, []string{"needs a point"}},
		{"backwards", []SkylinePoint{{10, 1}, {30, 1}, {20, 1}}, []string{"point 3", "out of order"}},
		{"twice round", []SkylinePoint{{10, 1}, {200, 1}, {5, 1}, {190, 1}, {2, 1}}, []string{"point 5", "out of order"}},
		{"past its start", []SkylinePoint{{10, 1}, {200, 1}, {5, 1}, {15, 1}}, []string{"out of order"}},
		{"twice", []SkylinePoint{{10, 1}, {10, 5}}, []string{"point 2", "bearing of the point before"}},
		{"first and last", []SkylinePoint{{10, 1}, {90, 5}, {10, 4}}, []string{"out of order"}},
		{"all faults at once", []SkylinePoint{{-1, 95}, {400, 1}}, []string{"−1°", "95°", "400°"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := NewSkyline(row.points)
			if err == nil {
				t.Fatal("is let in")
			}
			for _, part := range row.tells {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("tells %q, want %q in it", err, part)
				}
			}
		})
	}
}

func TestMagneticBearings(t *testing.T) {
	for _, row := range []struct {
		needle      Magnetic
		declination unit.Degree
		bearing     unit.Bearing
	}{{100, 4.5, 104.5}, {2, -5, 357}, {358, 4, 2}} {
		within(t, "true", float64(row.needle.True(row.declination)), float64(row.bearing), 1e-9)
	}
}

// TestLevelSkyline: over a level skyline the sun is seen from rise to set. The formula of refraction bends 37' there and not 34',
// half a minute of clock at this latitude.
func TestLevelSkyline(t *testing.T) {
	level := skylineOf(t, SkylinePoint{0, 0})
	place := unit.Position{Latitude: 57.70, Longitude: 11.60}
	e, err := DayEvents(dateOf(t, "2027-09-22"), place, zoneOf(t, "Europe/Stockholm"))
	if err != nil {
		t.Fatal(err)
	}
	spans := level.Over(e.From, e.To, place)
	if len(spans) != 1 {
		t.Fatalf("%v", spans)
	}
	wantAt(t, "appears", []time.Time{spans[0].From}, e.Horizon.Rises[0].At.Format(time.RFC3339), 40*time.Second)
	wantAt(t, "disappears", []time.Time{spans[0].To}, e.Horizon.Sets[0].At.Format(time.RFC3339), 40*time.Second)
}

// TestTowerCutsTheDay: a block due south 50° high hides the sun between the times its edge passes the sides; heights and bearings of
// the sun at those times are the check.
func TestTowerCutsTheDay(t *testing.T) {
	s := skylineOf(t, SkylinePoint{160, 0}, SkylinePoint{160.1, 50}, SkylinePoint{200, 50}, SkylinePoint{200.1, 0})
	place := unit.Position{Latitude: 57.70, Longitude: 11.60}
	e, err := DayEvents(dateOf(t, "2027-09-22"), place, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	spans := s.Over(e.From, e.To, place)
	if len(spans) != 2 {
		t.Fatalf("%v", spans)
	}
	for at, azimuth := range map[time.Time]float64{spans[0].To: 160.1, spans[1].From: 200} {
		within(t, "bearing", float64(SunAt(at, place).Azimuth), azimuth, 0.11)
	}
	for _, span := range spans {
		for _, edge := range []time.Time{span.From, span.To} {
			before, after := SunAt(edge.Add(-time.Second), place), SunAt(edge.Add(time.Second), place)
			clear := func(sun Sun) bool { return sun.Altitude+sun.Radius > s.Height(sun.Azimuth) }
			if clear(before) == clear(after) {
				t.Errorf("nothing changes at %v", edge)
			}
		}
	}
}

// TestSameSunIsSymmetric: the declination is the same as long before the solstice as after it, within a day or two, so every day
// has its like beyond 21 June.
func TestSameSunIsSymmetric(t *testing.T) {
	place := unit.Position{Latitude: 57.70, Longitude: 11.60}
	zone := zoneOf(t, "Europe/Stockholm")
	at := instant(t, "2027-09-22T17:38:00+02:00")
	matches, err := SameSun(at, place, 2027, zone, 2)
	if err != nil {
		t.Fatal(err)
	}
	// Declination goes 0.39° a day near the equinox: 5 days either way of 22 September and of 21 March.
	if n := len(matches); n < 19 || n > 23 {
		t.Errorf("%d days", n)
	}
	wanted := SunAt(at, place)
	months := map[int]int{}
	for _, m := range matches {
		months[m.Date.Month]++
		if local := m.Best.In(zone); local.Day() != m.Date.Day {
			t.Errorf("%v is not on %v", local, m.Date)
		}
		within(t, "apart at best", float64(SunAt(m.Best, place).Apart(wanted)), float64(m.Apart), 1e-6)
		for _, edge := range []time.Time{m.Span.From, m.Span.To} {
			within(t, m.Date.String(), float64(SunAt(edge, place).Apart(wanted)), 2, 0.001)
		}
		for _, off := range []time.Duration{-time.Minute, time.Minute} {
			if SunAt(m.Best.Add(off), place).Apart(wanted) < m.Apart-1e-4 {
				t.Errorf("%v: nearer at %v off", m.Date, off)
			}
		}
	}
	if len(months) != 2 || months[3] < 9 || months[9] < 9 {
		t.Errorf("by month: %v", months)
	}
	if _, err := SameSun(at, place, 2200, zone, 2); err == nil {
		t.Error("2200 is let in")
	}
}
