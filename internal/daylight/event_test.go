package daylight

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func dateOf(t *testing.T, text string) unit.Date {
	t.Helper()
	var d unit.Date
	if err := d.Parse(text); err != nil {
		t.Fatal(err)
	}
	return d
}

// wantAt checks the first of some times against a text, or that there is none.
func wantAt(t *testing.T, what string, got []time.Time, want string, tolerance time.Duration) {
	t.Helper()
	switch {
	case want == "" && len(got) == 0:
	case want == "" || len(got) == 0:
		t.Errorf("%s: got %v, want %q", what, got, want)
	default:
		if off := got[0].Sub(instant(t, want)); off.Abs() > tolerance {
			t.Errorf("%s: got %v, want %s: off by %v", what, got[0].UTC(), want, off)
		}
	}
}

func times(crossings []Crossing) []time.Time {
	var ts []time.Time
	for _, c := range crossings {
		ts = append(ts, c.At)
	}
	return ts
}

// TestEvents holds every event to a rigorous ephemeris, to its 2 s.
func TestEvents(t *testing.T) {
	for _, row := range cells(t, "sun_events.csv") {
		t.Run(row["site"]+" "+row["local_date"], func(t *testing.T) {
			place := placeOf(t, row)
			zone := time.FixedZone("", int(figure(t, row["utc_offset_h"])*3600))
			e, err := DayEvents(dateOf(t, row["local_date"]), place, zone)
			if err != nil {
				t.Fatal(err)
			}
			// The table's extremes are of samples, so they fall short of the true ones: by 0.25° for each minute off at most.
			within(t, "highest", float64(e.Highest), figure(t, row["alt_max"])+0.125, 0.128)
			within(t, "lowest", float64(e.Lowest), figure(t, row["alt_min"])-0.125, 0.128)
			for name, pass := range map[string]Pass{"sun": e.Horizon, "civil": e.Civil, "nautical": e.Nautical, "astron": e.Astronomical} {
				wantAt(t, name+" up", times(pass.Rises), row[name+"_up"], 2*time.Second)
				wantAt(t, name+" down", times(pass.Sets), row[name+"_down"], 2*time.Second)
			}
			for name, altitude := range map[string]unit.Degree{"golden_hi6": GoldenTop, "blue_m4": GoldenEnd} {
				for _, c := range Crossings(e.From, e.To, place, altitude) {
					way := "_down"
					if c.Rising {
						way = "_up"
					}
					wantAt(t, name+way, []time.Time{c.At}, row[name+way], 2*time.Second)
					within(t, "altitude there", float64(SunAt(c.At, place).Geometric), float64(altitude), 0.001)
				}
			}
			wantAt(t, "transit", e.Transits, row["transit"], 2*time.Second)
		})
	}
}

// TestIndependentEvents holds them from 1950 to 2100 to one more program. Its word is 1' of arc across the sun's path, so a slow
// crossing has more time.
func TestIndependentEvents(t *testing.T) {
	for _, row := range cells(t, "independent_events.csv") {
		t.Run(row["site"]+" "+row["date"], func(t *testing.T) {
			place := placeOf(t, row)
			e, err := DayEvents(dateOf(t, row["date"]), place, time.UTC)
			if err != nil {
				t.Fatal(err)
			}
			for name, crossings := range map[string][]Crossing{"sun_up": e.Horizon.Rises, "sun_down": e.Horizon.Sets,
				"civil_up": e.Civil.Rises, "civil_down": e.Civil.Sets} {
				tolerance := 2 * time.Second
				if len(crossings) > 0 {
					at := crossings[0].At
					speed := math.Abs(float64(SunAt(at.Add(time.Second), place).Geometric - SunAt(at, place).Geometric)) // degrees a second
					tolerance += time.Duration(0.3 / 60 / speed * float64(time.Second))
				}
				wantAt(t, name, times(crossings), row[name], tolerance)
			}
			wantAt(t, "transit", e.Transits, row["transit"], 2*time.Second)
		})
	}
}

// TestPublishedEvents are [SPA], table A5.1 and A2.1, and its authors' calculator.
func TestPublishedEvents(t *testing.T) {
	for _, row := range []struct {
		name, date         string
		place              unit.Position
		zone               int
		rise, transit, set string
	}{
		{"calculator, 2015-01-02", "2015-01-02", golden, -7, "07:21:55", "12:04:45", "16:47:43"},
		{"table A2.1, 35 S, July", "1996-07-05", unit.Position{Latitude: -35}, 0, "07:08:15", "", "17:01:04"},
		{"table A2.1, 35 S, December", "2004-12-04", unit.Position{Latitude: -35}, 0, "04:38:57", "", "19:02:02"},
		{"table A2.1, 35 N, January", "1994-01-02", unit.Position{Latitude: 35}, 0, "07:08:12", "", "16:59:55"},
		{"table A5.1", "2003-10-17", golden, -7, "06:12:43", "11:46:05", ""},
		// The table's set of that universal day, 00:20:19, falls on the evening before.
		{"table A5.1, the evening before", "2003-10-16", golden, -7, "", "", "17:20:19"},
	} {
		t.Run(row.name, func(t *testing.T) {
			zone := time.FixedZone("", row.zone*3600)
			e, err := DayEvents(dateOf(t, row.date), row.place, zone)
			if err != nil {
				t.Fatal(err)
			}
			for clock, got := range map[string][]time.Time{row.rise: times(e.Horizon.Rises), row.set: times(e.Horizon.Sets), row.transit: e.Transits} {
				if clock == "" {
					continue
				}
				face, err := time.ParseInLocation("2006-01-02 15:04:05", row.date+" "+clock, zone)
				if err != nil {
					t.Fatal(err)
				}
				wantAt(t, clock, got, face.Format(time.RFC3339), 2*time.Second)
			}
		})
	}
}

func TestDaysUnlikeOthers(t *testing.T) {
	tromso, reykjavik := unit.Position{Latitude: 69.6492, Longitude: 18.9553}, unit.Position{Latitude: 64.1466, Longitude: -21.9426}
	events := func(date string, p unit.Position, zone *time.Location) Events {
		e, err := DayEvents(dateOf(t, date), p, zone)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	cet := time.FixedZone("", 3600)
	if e := events("2025-06-21", tromso, cet); e.Horizon.Course != StaysAbove || len(e.Horizon.Sets) != 0 {
		t.Errorf("polar day: %+v", e.Horizon)
	}
	if e := events("2025-12-21", tromso, cet); e.Horizon.Course != StaysBelow || e.Civil.Course != Crosses {
		t.Errorf("polar night: %+v %+v", e.Horizon, e.Civil)
	}
	e := events("2025-06-21", reykjavik, time.UTC)
	if !e.Horizon.Sets[0].At.Before(e.Horizon.Rises[0].At) || e.Civil.Course != StaysAbove {
		t.Errorf("the set comes first: %+v", e)
	}
	// Near midsummer sunset slips over midnight: some day has two, some none.
	most, least := 0, 9
	for d := 10; d <= 30; d++ {
		n := len(events(fmt.Sprintf("2025-06-%02d", d), reykjavik, time.UTC).Horizon.Sets)
		most, least = max(most, n), min(least, n)
	}
	if most != 2 || least != 0 {
		t.Errorf("sunsets in a day of June: %d to %d, want 0 to 2", least, most)
	}
	// At the pole the sun's day is a year.
	if e := events("2025-06-21", unit.Position{Latitude: 90}, time.UTC); e.Horizon.Course != StaysAbove || len(e.Transits) != 1 {
		t.Errorf("pole: %+v", e)
	}
}

// TestClockChanges: a day of 25 or 23 hours has its events on the clock that is shown.
func TestClockChanges(t *testing.T) {
	zone, err := Zone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		date       string
		hours      float64
		rise, dusk string
	}{
		// Greenwich, as in sun_events.csv.
		{"2025-03-30", 23, "06:39:34", "19:30:13"},
		{"2025-10-26", 25, "06:43:15", "16:43:54"},
	} {
		e, err := DayEvents(dateOf(t, row.date), unit.Position{Latitude: 51.4779, Longitude: -0.0015}, zone)
		if err != nil {
			t.Fatal(err)
		}
		within(t, row.date+" hours", e.To.Sub(e.From).Hours(), row.hours, 0)
		for clock, c := range map[string]Crossing{row.rise: e.Horizon.Rises[0], row.dusk: e.Horizon.Sets[0]} {
			face, _ := time.ParseInLocation("2006-01-02 15:04:05", row.date+" "+clock, zone)
			wantAt(t, row.date, []time.Time{c.At}, face.Format(time.RFC3339), 2*time.Second)
			if c.At.Location() != zone {
				t.Errorf("%s: on the clock of %v", row.date, c.At.Location())
			}
		}
	}
}

// TestCrossingsMissNothing holds the crossings of any altitude to the altitude looked at every five minutes.
func TestCrossingsMissNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		place := unit.Position{Latitude: unit.Degree(rapid.Float64Range(-90, 90).Draw(r, "latitude")),
			Longitude: unit.Degree(rapid.Float64Range(-180, 180).Draw(r, "longitude"))}
		altitude := unit.Degree(rapid.Float64Range(-40, 60).Draw(r, "altitude"))
		from := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 73000).Draw(r, "day"))
		to := from.Add(25 * time.Hour)
		crossings := Crossings(from, to, place, altitude)
		above := SunAt(from, place).Geometric >= altitude
		for at, i := from, 0; at.Before(to); at = at.Add(5 * time.Minute) {
			for ; i < len(crossings) && !crossings[i].At.After(at); i++ {
				if crossings[i].Rising == above {
					r.Fatalf("crosses twice the same way: %v", crossings)
				}
				above = crossings[i].Rising
			}
			if h := SunAt(at, place).Geometric; math.Abs(float64(h-altitude)) > 0.001 && (h >= altitude) != above {
				r.Fatalf("at %v the sun is %v high, crossings %v", at, float64(h), crossings)
			}
		}
	})
}

func TestGoldenTime(t *testing.T) {
	row := cells(t, "sun_events.csv")[0] // Greenwich at the equinox
	e, err := DayEvents(dateOf(t, row["local_date"]), placeOf(t, row), time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	if len(e.Golden) != 2 || len(e.Blue) != 2 {
		t.Fatalf("golden %v, blue %v", e.Golden, e.Blue)
	}
	wantAt(t, "golden morning ends", []time.Time{e.Golden[0].To}, row["golden_hi6_up"], 2*time.Second)
	wantAt(t, "golden evening begins", []time.Time{e.Golden[1].From}, row["golden_hi6_down"], 2*time.Second)
	wantAt(t, "blue evening begins", []time.Time{e.Blue[1].From}, row["blue_m4_down"], 2*time.Second)
	wantAt(t, "blue evening ends", []time.Time{e.Blue[1].To}, row["civil_down"], 2*time.Second)
}
