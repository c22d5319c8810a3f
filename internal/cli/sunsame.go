package cli

import (
	"fmt"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// sunApart is how far the sun may stand from where it stood and still count as the same.
const sunApart unit.Degree = 2

// sameSun is the days of a year on which the sun comes back to where it stands at a time.
type sameSun struct {
	At      string      `json:"at"`
	Year    int         `json:"year"`
	Within  unit.Degree `json:"within_deg"`
	Matches []sunMatch  `json:"matches"`
}

// sunMatch is one of them: the sun is within the tolerance from when to when, and nearest at best.
type sunMatch struct {
	Date  string      `json:"date"`
	From  string      `json:"from"`
	Best  string      `json:"best"`
	To    string      `json:"to"`
	Apart unit.Degree `json:"apart_deg"`
}

func (t *terminal) sameSun(place unit.Position, at time.Time, year int) error {
	matches, err := daylight.SameSun(at, place, year, at.Location(), sunApart)
	if err != nil {
		return called(err, "--same")
	}
	a := sameSun{At: at.Format(time.RFC3339), Year: year, Within: sunApart, Matches: []sunMatch{}}
	stamp := func(t time.Time) string { return t.Round(time.Second).Format(time.RFC3339) }
	for _, m := range matches {
		a.Matches = append(a.Matches, sunMatch{m.Date.String(), stamp(m.Span.From), stamp(m.Best), stamp(m.Span.To), m.Apart})
	}
	if t.json {
		err = t.printJSON(a)
	} else {
		t.line("%s", wrapped(fmt.Sprintf("The sun of %s, %s, stands within %s of there in %d on", at.Format("2006-01-02"), at.Format("15:04"), sunApart, year), lineWidth, 2))
		for i, m := range a.Matches {
			t.line("  %s  %s–%s, nearest %s, %.1f° off", m.Date, hour(&a.Matches[i].From), hour(&a.Matches[i].To), hour(&a.Matches[i].Best), float64(m.Apart))
		}
	}
	if err == nil && len(matches) == 0 {
		return no{fmt.Sprintf("no day of %d", year)}
	}
	return err
}

// checkSame tells a year that the model does not reach.
func checkSame(year int) error {
	if year < 1900 || year > 2100 {
		return fault.Fault{Kind: fault.Call, Path: "--same", Text: "is a year the sun's places are not known for", Read: fmt.Sprint(year), Allowed: "1900 to 2100"}
	}
	return nil
}
