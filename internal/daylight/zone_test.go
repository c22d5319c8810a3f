package daylight

import (
	"strings"
	"testing"
	"time"

	"gloam/internal/unit"
)

func TestZonesAreReadAsWritten(t *testing.T) {
	summer := time.Date(2027, 7, 1, 12, 0, 0, 0, time.UTC)
	for text, hours := range map[string]float64{
		"Europe/Stockholm": 2, "UTC": 0, "Z": 0, "UTC+2": 2, "utc-3:30": -3.5, "+05:30": 5.5, "GMT+1": 1, "−0700": -7, "UTC+14": 14,
		"Pacific/Apia": 13, "America/St_Johns": -2.5, " Asia/Kolkata ": 5.5,
	} {
		zone, err := Zone(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		_, offset := summer.In(zone).Zone()
		within(t, text, float64(offset)/3600, hours, 0)
	}
	for _, text := range []string{"", "Local", "local", "Europe/Gothenborg", "UTC+15", "+2:75", "../../etc/passwd", "2", "CEST+", "+123456"} {
		if zone, err := Zone(text); err == nil {
			t.Errorf("%q is read as %v", text, zone)
		}
	}
}

func zoneOf(t *testing.T, name string) *time.Location {
	t.Helper()
	zone, err := Zone(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// TestGapsAndFolds: the rules are those of the IANA time zone database.
func TestGapsAndFolds(t *testing.T) {
	for _, row := range []struct {
		name, zone, date, clock string
		want                    []string // in UTC; none is a gap
		tells                   string
	}{
		{"an ordinary time", "Europe/Stockholm", "2027-09-22", "18:38", []string{"2027-09-22T16:38:00Z"}, ""},
		{"a gap in spring", "Europe/Stockholm", "2027-03-28", "2:30", nil, "from 02:00 to 03:00"},
		{"the end of a gap", "Europe/Stockholm", "2027-03-28", "3:00", []string{"2027-03-28T01:00:00Z"}, ""},
		{"a fold in autumn", "Europe/Stockholm", "2027-10-31", "2:30", []string{"2027-10-31T00:30:00Z", "2027-10-31T01:30:00Z"}, ""},
		{"the end of a fold", "Europe/Stockholm", "2027-10-31", "3:00", []string{"2027-10-31T02:00:00Z"}, ""},
		{"a fold in the south", "Australia/Sydney", "2027-04-04", "2:00", []string{"2027-04-03T15:00:00Z", "2027-04-03T16:00:00Z"}, ""},
		{"half an hour", "Australia/Lord_Howe", "2027-10-03", "2:15", nil, "from 02:00 to 02:30"},
		{"a gap at midnight", "America/Sao_Paulo", "2017-10-15", "0:30", nil, "from 00:00 to 01:00"},
		{"a day left out", "Pacific/Apia", "2011-12-30", "12:00", nil, "from 00:00 to 00:00 on 31 December 2011"},
		{"no summer time", "UTC+2", "2027-03-28", "2:30", []string{"2027-03-28T00:30:00Z"}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			var clock unit.Clock
			if err := clock.Parse(row.clock); err != nil {
				t.Fatal(err)
			}
			got, err := Instants(dateOf(t, row.date), clock, zoneOf(t, row.zone))
			if (err != nil) != (row.want == nil) || len(got) != len(row.want) {
				t.Fatalf("got %v, %v", got, err)
			}
			if err != nil && !strings.Contains(err.Error(), row.tells) {
				t.Errorf("tells %q, want %q in it", err, row.tells)
			}
			for i, want := range row.want {
				if !got[i].Equal(instant(t, want)) {
					t.Errorf("got %v, want %s", got[i].UTC(), want)
				}
			}
		})
	}
}

// TestEveryMinuteHasItsInstant goes through the days of a change: what an instant's clock shows leads back to it.
func TestEveryMinuteHasItsInstant(t *testing.T) {
	for _, row := range []struct{ zone, from string }{
		{"Europe/Stockholm", "2027-03-27T00:00:00Z"}, {"Europe/Stockholm", "2027-10-30T00:00:00Z"},
		{"Australia/Lord_Howe", "2027-10-02T00:00:00Z"}, {"Pacific/Apia", "2011-12-29T00:00:00Z"},
	} {
		zone := zoneOf(t, row.zone)
		for minute := range 3 * 24 * 60 {
			at := instant(t, row.from).Add(time.Duration(minute) * time.Minute).In(zone)
			date := unit.Date{Year: at.Year(), Month: int(at.Month()), Day: at.Day()}
			got, err := Instants(date, unit.Clock(at.Hour()*60+at.Minute()), zone)
			if err != nil || !(got[0].Equal(at) || got[len(got)-1].Equal(at)) {
				t.Fatalf("%s %v: got %v, %v", row.zone, at, got, err)
			}
		}
	}
}

func TestDaysOfAZone(t *testing.T) {
	for _, row := range []struct {
		zone, date string
		hours      float64 // 0: no such day
	}{
		{"Europe/Stockholm", "2027-09-22", 24}, {"Europe/Stockholm", "2027-03-28", 23}, {"Europe/Stockholm", "2027-10-31", 25},
		{"America/Sao_Paulo", "2017-10-15", 23}, {"Pacific/Apia", "2011-12-30", 0}, {"Pacific/Apia", "2011-12-29", 24},
		{"Pacific/Apia", "2011-12-31", 24}, {"UTC-12", "2100-12-31", 24}, {"UTC+14", "1900-01-01", 24},
		{"America/Sao_Paulo", "2018-02-17", 25}, {"America/Havana", "2027-11-07", 25}, // put back to 23:00 and to 0:00
	} {
		from, to, err := dayOf(dateOf(t, row.date), zoneOf(t, row.zone))
		if (err == nil) != (row.hours > 0) {
			t.Errorf("%s %s: %v", row.zone, row.date, err)
		} else if err == nil {
			within(t, row.zone+" "+row.date, to.Sub(from).Hours(), row.hours, 0)
			if _, err := DayEvents(dateOf(t, row.date), golden, zoneOf(t, row.zone)); err != nil {
				t.Error(err)
			}
		}
	}
	for _, year := range []int{-4, 1899, 2101} {
		if _, err := DayEvents(unit.Date{Year: year, Month: 6, Day: 1}, golden, time.UTC); err == nil {
			t.Errorf("%d is let in", year)
		}
		if _, err := Instants(unit.Date{Year: year, Month: 6, Day: 1}, 0, time.UTC); err == nil {
			t.Errorf("%d is let in", year)
		}
	}
}

func FuzzZone(f *testing.F) {
	for _, seed := range []string{"Europe/Stockholm", "UTC+2", "+05:30", "../x", "\x00", "Local", "−0700"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if zone, err := Zone(text); (zone == nil) == (err == nil) {
			t.Errorf("%q: %v, %v", text, zone, err)
		}
	})
}
