package daylight

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // zones where the system has none

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// zoneForms says how a zone is written.
const zoneForms = "an IANA name such as Europe/Stockholm, or an offset such as UTC+2, +05:30"

var offsetText = regexp.MustCompile(`^(?i:UTC|GMT)?\s*([+\-−])(\d{1,2})(?::?(\d{2}))?$`)

// Zone reads a time zone: an IANA name, or a fixed offset from UTC, positive east.
func Zone(text string) (*time.Location, error) {
	bad := fault.Fault{Text: "is not a time zone", Read: text, Allowed: zoneForms}
	name := strings.TrimSpace(text)
	if m := offsetText.FindStringSubmatch(name); m != nil {
		hours, _ := strconv.Atoi(m[2])
		minutes, _ := strconv.Atoi("0" + m[3])
		seconds := hours*3600 + minutes*60
		if seconds > 14*3600 || minutes > 59 {
			bad.Text = "is an offset no clock has"
			bad.Allowed = "-14:00 to +14:00"
			return nil, bad
		}
		sign := "+"
		if m[1] != "+" {
			sign, seconds = "-", -seconds
		}
		return time.FixedZone(fmt.Sprintf("UTC%s%02d:%02d", sign, hours, minutes), seconds), nil
	}
	if strings.EqualFold(name, "utc") || strings.EqualFold(name, "z") {
		return time.UTC, nil
	}
	// An empty name and Local would be the computer's own zone, and the answer another on another computer.
	if name == "" || strings.EqualFold(name, "local") {
		return nil, bad
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return nil, bad
	}
	return zone, nil
}

// Instants returns the instants at which a zone's clock shows a time on a date: one, or two where the clock is put back over
// it, earlier first. None, where it is put forward over it, is a fault, as is a date outside 1900 to 2100.
func Instants(date unit.Date, clock unit.Clock, zone *time.Location) ([]time.Time, error) {
	return instants(time.Date(date.Year, time.Month(date.Month), date.Day, int(clock)/60, int(clock)%60, 0, 0, time.UTC), zone)
}

// instants takes the clock's face as if it showed UTC.
func instants(face time.Time, zone *time.Location) ([]time.Time, error) {
	if face.Year() < firstYear || face.Year() > lastYear {
		return nil, yearFault(face.Format("2006-01-02"))
	}
	found := showing(face, zone)
	if len(found) == 0 {
		return nil, fault.Fault{Text: "is a time that does not exist: the clock is put forward over it", Read: face.Format("2006-01-02 15:04"),
			Hint: "the clock goes from " + lastBefore(face, zone) + " " + zone.String()}
	}
	return found, nil
}

// showing returns the instants at which a zone's clock shows a face, in order. Zones change by less than a day, and twice in two
// days in no year of theirs.
func showing(face time.Time, zone *time.Location) []time.Time {
	var found []time.Time
	for _, near := range []time.Time{face.Add(-26 * time.Hour), face.Add(26 * time.Hour)} {
		_, offset := near.In(zone).Zone()
		t := face.Add(-time.Duration(offset) * time.Second).In(zone)
		if _, there := t.Zone(); there == offset && (len(found) == 0 || !t.Equal(found[0])) {
			found = append(found, t)
		}
	}
	if len(found) == 2 && found[1].Before(found[0]) {
		found[0], found[1] = found[1], found[0]
	}
	return found
}

// change returns when a zone's clock is put forward over a face it never shows.
func change(face time.Time, zone *time.Location) time.Time {
	_, offset := face.Add(-26 * time.Hour).In(zone).Zone()
	before := face.Add(-time.Duration(offset) * time.Second)
	start, _ := before.In(zone).ZoneBounds()
	return start
}

func lastBefore(face time.Time, zone *time.Location) string {
	at := change(face, zone)
	_, before := at.Add(-time.Second).Zone()
	return at.In(time.FixedZone("", before)).Format("15:04") + " to " + at.Format("15:04 on 2 January 2006") + " in"
}

// dayOf returns when a date begins and ends on a zone's clock.
func dayOf(date unit.Date, zone *time.Location) (from, to time.Time, err error) {
	face := time.Date(date.Year, time.Month(date.Month), date.Day, 0, 0, 0, 0, time.UTC)
	if face.Year() < firstYear || face.Year() > lastYear {
		return from, to, yearFault(date.String())
	}
	from, to = midnight(face, zone), midnight(face.AddDate(0, 0, 1), zone)
	if !to.After(from) {
		return from, to, fault.Fault{Text: "is a day that the calendar of " + zone.String() + " leaves out", Read: date.String()}
	}
	return from, to, nil
}

// midnight returns when a zone's clock first shows a midnight, or a later time where it is put forward over it.
func midnight(face time.Time, zone *time.Location) time.Time {
	if found := showing(face, zone); len(found) > 0 {
		return found[0]
	}
	return change(face, zone).In(zone)
}
