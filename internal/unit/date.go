package unit

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Date is a day of the Gregorian calendar; months and days count from 1.
type Date struct{ Year, Month, Day int }

// Clock is a local time of day in minutes since midnight.
type Clock int

// Parse reads a date from 1900 to 2100 as year-month-day.
func (d *Date) Parse(text string) error {
	const name = "a date"
	s, err := scan(text, name)
	if err != nil {
		return err
	}
	parts, ok := whole(strings.Split(s.rest, "-"))
	if !ok || len(parts) != 3 {
		return refuse(s.rest, name)
	}
	read := Date{parts[0], parts[1], parts[2]}
	if read.Year < 1900 || read.Year > 2100 {
		return errors.New("is not between 1900 and 2100; the year stands first")
	}
	day := time.Date(read.Year, time.Month(read.Month), read.Day, 0, 0, 0, 0, time.UTC)
	if int(day.Month()) != read.Month || day.Day() != read.Day {
		return errors.New("is not a day of the calendar")
	}
	*d = read
	return nil
}

// Forms says how a date is written.
func (Date) Forms() string { return "a date such as 2027-03-31" }

// String returns the date: 2027-03-31.
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day) }

// Parse reads a time of day from 0:00 to 23:59, or with am or pm. Seconds are read and dropped.
func (c *Clock) Parse(text string) error {
	const name = "a time of day"
	s, err := scan(text, name)
	if err != nil {
		return err
	}
	clock, afternoon := strings.CutSuffix(s.rest, "pm")
	morning := false
	if !afternoon {
		clock, morning = strings.CutSuffix(clock, "am")
	}
	parts, ok := whole(strings.Split(strings.TrimSpace(clock), ":"))
	if !ok || len(parts) < 2 || len(parts) > 3 {
		return refuse(s.rest, name)
	}
	if afternoon || morning {
		if parts[0] < 1 || parts[0] > 12 {
			return errors.New("has am or pm and an hour that is not from 1 to 12")
		}
		parts[0] %= 12
		if afternoon {
			parts[0] += 12
		}
	}
	if parts[0] > 23 || parts[1] > 59 || (len(parts) == 3 && parts[2] > 59) {
		return errors.New("is not a time of day; they run from 0:00 to 23:59")
	}
	*c = Clock(parts[0]*60 + parts[1])
	return nil
}

// Forms says how a time of day is written.
func (Clock) Forms() string { return "a time of day such as 18:35, 6:35 pm" }

// String returns the time of day: 18:35.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", c/60, c%60) }

// whole returns the texts as whole numbers of at most four digits.
func whole(texts []string) ([]int, bool) {
	numbers := make([]int, len(texts))
	for i, text := range texts {
		if text == "" || len(text) > 4 || digits(text) != len(text) {
			return nil, false
		}
		numbers[i], _ = strconv.Atoi(text)
	}
	return numbers, true
}
