package cli

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// sunCall is `gloam sun` as typed.
type sunCall struct {
	place, at, zone, sky string
	same                 int
}

func sun(t *terminal) *cobra.Command {
	var call sunCall
	c := &cobra.Command{
		Use:   "sun",
		Short: "Where the sun stands, what sun and sky give, and the day's events",
		Example: `  gloam sun --place 57.70,11.60 --at 2027-09-22T18:38+02:00
  gloam sun --place "41°09'N 8°37'W" --at "2027-06-21 21:15" \
      --zone Europe/Lisbon --sky "partly cloudy"`,
		Args: exactly(0, "options only"),
		RunE: func(*cobra.Command, []string) error { return t.sun(&call) },
	}
	f := c.Flags()
	f.StringVar(&call.place, "place", "", "latitude and longitude, north and east positive")
	f.StringVar(&call.at, "at", "", "date and time, with its offset from UTC or on the clock of --zone")
	f.StringVar(&call.zone, "zone", "", "time zone of the answer: Europe/Stockholm, UTC+2; the offset of --at if not given")
	f.StringVar(&call.sky, "sky", "clear", "state of the sky: clear, hazy, partly cloudy, broken, bright overcast, overcast, heavy overcast")
	f.IntVar(&call.same, "same", 0, "instead: the days and hours of a year on which the sun stands there again, within 2°")
	return c
}

func (t *terminal) sun(call *sunCall) error {
	place, at, sky, err := call.read()
	if err != nil {
		return err
	}
	if call.same != 0 {
		if err := checkSame(call.same); err != nil {
			return err
		}
		return t.sameSun(place, at, call.same)
	}
	year, month, day := at.Date()
	events, err := daylight.DayEvents(unit.Date{Year: year, Month: int(month), Day: day}, place, at.Location())
	if err != nil {
		return called(err, "--at")
	}
	s := daylight.SunAt(at, place)
	a := answerSun(place, at, s, sky, &events)
	if t.json {
		return t.printJSON(a)
	}
	t.printSun(a, place, at, s, &events)
	return nil
}

// read reads the options, telling every fault at once.
func (call *sunCall) read() (place unit.Position, at time.Time, sky daylight.Kind, err error) {
	var faults fault.List
	read := func(option, text string, into interface {
		Parse(string) error
		Forms() string
	}) {
		if err := into.Parse(text); err != nil {
			faults = append(faults, fault.Fault{Kind: fault.Call, Path: option, Text: err.Error(), Read: text, Allowed: into.Forms()})
		}
	}
	read("--place", call.place, &place)
	read("--sky", call.sky, &sky)
	var zone *time.Location
	if call.zone != "" {
		zone, err = daylight.Zone(call.zone)
		faults = append(faults, called(err, "--zone")...)
	}
	if err == nil {
		at, err = readInstant(call.at, zone)
		faults = append(faults, called(err, "--at")...)
	}
	return place, at, sky, faults.Err()
}

// called lays faults on an option of the call.
func called(err error, option string) fault.List {
	faults := fault.Of(err, fault.Call)
	for i := range faults {
		faults[i].Kind, faults[i].Path = fault.Call, option
	}
	return faults
}

var (
	withOffset = []string{"2006-01-02T15:04Z07:00", "2006-01-02T15:04:05Z07:00"}
	onClock    = []string{"2006-01-02T15:04", "2006-01-02T15:04:05"}
)

// readInstant reads a date and time. With an offset it is that instant, told on the zone's clock if there is one; without, it is
// what the zone's clock shows.
func readInstant(text string, zone *time.Location) (time.Time, error) {
	bad := fault.Fault{Text: "is not a date and a time", Read: text, Allowed: "such as 2027-09-22T18:38+02:00, or without the offset beside --zone"}
	joined := strings.Replace(strings.TrimSpace(text), " ", "T", 1)
	for _, form := range withOffset {
		if at, err := time.Parse(form, joined); err == nil {
			if zone == nil {
				_, offset := at.Zone()
				zone = time.FixedZone(at.Format("UTC-07:00"), offset)
			}
			return at.In(zone), daylight.InRange(at)
		}
	}
	for _, form := range onClock {
		face, err := time.Parse(form, joined)
		if err != nil {
			continue
		}
		if zone == nil {
			bad.Text = "has no offset from UTC, and no --zone says whose clock it is"
			return time.Time{}, bad
		}
		date := unit.Date{Year: face.Year(), Month: int(face.Month()), Day: face.Day()}
		found, err := daylight.Instants(date, unit.Clock(face.Hour()*60+face.Minute()), zone)
		if err != nil {
			return time.Time{}, err
		}
		if len(found) > 1 {
			bad.Text = "is a time that comes twice: the clock is put back over it"
			bad.Allowed = found[0].Format(withOffset[0]) + " or " + found[1].Format(withOffset[0])
			return time.Time{}, bad
		}
		return found[0].Add(time.Duration(face.Second()) * time.Second), nil
	}
	return time.Time{}, bad
}
