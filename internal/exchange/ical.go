// Package exchange writes and reads open formats that other programs understand.
package exchange

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"strings"
	"time"
	"unicode/utf8"
)

// Event is an entry in a calendar.
type Event struct {
	Identity          []string // what makes it this event, whatever its times: written again, it takes the place of the first
	Summary           string
	Description       string
	Location          string // may be empty
	Start, End, Alarm time.Time
	Stamp             time.Time // as of when it is known
}

// WriteCalendar writes events as an iCalendar object [RFC5545], its times in UTC: calendars show them on their own clock. An
// event without an end after its start is written as a moment; one whose Alarm is the zero time has none. The error is the
// writer's.
func WriteCalendar(w io.Writer, events []Event) error {
	c := calendar{}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//gloam//light clock//EN")
	c.line("CALSCALE", "GREGORIAN")
	for i := range events {
		c.event(&events[i])
	}
	c.line("END", "VCALENDAR")
	_, err := io.WriteString(w, c.String())
	return err
}

type calendar struct{ strings.Builder }

func (c *calendar) event(e *Event) {
	c.line("BEGIN", "VEVENT")
	c.line("UID", uid(e.Identity))
	c.line("DTSTAMP", utc(e.Stamp))
	c.line("DTSTART", utc(e.Start))
	if e.End.After(e.Start) {
		c.line("DTEND", utc(e.End))
	}
	c.text("SUMMARY", e.Summary)
	c.text("DESCRIPTION", e.Description)
	c.text("LOCATION", e.Location)
	if !e.Alarm.IsZero() {
		c.line("BEGIN", "VALARM")
		c.line("ACTION", "DISPLAY")
		c.line("TRIGGER;VALUE=DATE-TIME", utc(e.Alarm))
		c.text("DESCRIPTION", e.Summary)
		c.line("END", "VALARM")
	}
	c.line("END", "VEVENT")
}

// uid is globally unique and the same each time (section 3.8.4.7): a hash of what makes the event this one. No part is taken
// for another, since each ends with a character that none holds.
func uid(identity []string) string {
	sum := sha256.Sum256([]byte(strings.Join(identity, "\x00") + "\x00"))
	return hex.EncodeToString(sum[:16]) + "@gloam"
}

// utc is form 2 of DATE-TIME (section 3.3.5).
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

var escapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// text writes a value of type TEXT (section 3.3.11): no control characters, and UTF-8. An empty one is left out.
func (c *calendar) text(name, value string) {
	if value == "" {
		return
	}
	value = escapes.Replace(strings.ToValidUTF8(value, "\uFFFD"))
	c.line(name, strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, value))
}

// longest is how many octets a line has at most, its end aside (section 3.1).
const longest = 75

// line writes a content line, folded between characters where it is too long.
func (c *calendar) line(name, value string) {
	left := name + ":" + value
	for room := longest; len(left) > room; room = longest - 1 { // the blank that marks a line folded counts too
		cut := room
		for !utf8.RuneStart(left[cut]) {
			cut--
		}
		c.WriteString(left[:cut] + "\r\n ")
		left = left[cut:]
	}
	c.WriteString(left + "\r\n")
}
