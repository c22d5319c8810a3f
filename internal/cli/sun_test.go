package cli

import (
	"testing"

	"gloam/internal/daylight"
	"gloam/internal/unit"
)

// FuzzSunAt: whatever is typed for the time and the zone is a fault, or a time the sun is known at.
func FuzzSunAt(f *testing.F) {
	for _, seed := range [][2]string{
		{"2027-09-22T18:38+02:00", ""}, {"2027-09-22 18:38:07", "Europe/Stockholm"}, {"2011-12-30 12:00", "Pacific/Apia"},
		{"1900-01-01T00:00+14:00", ""}, {"2100-12-31T23:59-12:00", "UTC+14"}, {"0000-01-01T00:00Z", "UTC"}, {"9999-12-31 23:59", "UTC-14"},
	} {
		f.Add(seed[0], seed[1])
	}
	f.Fuzz(func(t *testing.T, at, zone string) {
		call := &sunCall{place: "57.70,11.60", at: at, zone: zone, sky: "clear"}
		place, when, sky, err := call.read()
		if err != nil {
			return
		}
		year, month, day := when.Date()
		events, err := daylight.DayEvents(unit.Date{Year: year, Month: int(month), Day: day}, place, when.Location())
		if err != nil {
			return
		}
		if when.Before(events.From) || !when.Before(events.To) {
			t.Errorf("%q %q: %v lies outside its day, %v to %v", at, zone, when, events.From, events.To)
		}
		answerSun(place, when, daylight.SunAt(when, place), sky, &events)
	})
}
