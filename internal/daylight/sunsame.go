package daylight

import (
	"time"

	"gloam/internal/unit"
)

// Match is when the sun of one time stands at nearly the same place in the sky on another day.
type Match struct {
	Date  unit.Date
	Best  time.Time   // when the two are nearest
	Apart unit.Degree // how far, then
	Span  Span        // as long as they are within the tolerance
}

// SameSun returns every day of a year on a zone's clock on which the sun over a place comes within an angle of where it stands at
// a time, with the hours. The tolerance is above 0° and at most 10°; else it panics. A year outside 1900 to 2100 is a fault.
func SameSun(t time.Time, p unit.Position, year int, zone *time.Location, tolerance unit.Degree) ([]Match, error) {
	if !(tolerance > 0 && tolerance <= 10) {
		panic("daylight: a tolerance outside 0° to 10°")
	}
	wanted := SunAt(t, p)
	var matches []Match
	for day := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == year; day = day.AddDate(0, 0, 1) {
		date := unit.Date{Year: year, Month: int(day.Month()), Day: day.Day()}
		from, to, err := dayOf(date, zone)
		if year < firstYear || year > lastYear {
			return nil, err
		}
		if err != nil { // a day the calendar leaves out has no sun
			continue
		}
		// From one day to another only the declination differs at the same hour angle, and nowhere are the two nearer.
		best := atHourAngle(from.Add(to.Sub(from)/2), p, wanted.standing.hourAngle)
		if best.Before(from) {
			best = atHourAngle(best.Add(24*time.Hour), p, wanted.standing.hourAngle)
		} else if !best.Before(to) {
			best = atHourAngle(best.Add(-24*time.Hour), p, wanted.standing.hourAngle)
		}
		apart := SunAt(best, p).Apart(wanted)
		if apart > tolerance {
			continue
		}
		near := func(t time.Time) bool { return SunAt(t, p).Apart(wanted) <= tolerance }
		// In two hours the sun goes 27° and more, at any declination it has.
		span := Span{whenTurns(best.Add(-2*time.Hour), best, near), whenTurns(best, best.Add(2*time.Hour), near)}
		matches = append(matches, Match{date, best, apart, span})
	}
	return matches, nil
}
