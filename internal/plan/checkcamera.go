package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // zones are known on every machine

	"gloam/internal/document"
	"gloam/internal/fault"
)

// checkCamera tells what is wrong with the camera's place.
func (c *checker) checkCamera() {
	camera := c.doc.Camera
	if camera == nil {
		return
	}
	c.where("camera.at", camera.At)
	c.toward("camera.aim", camera.Aim)
	c.colour("camera.balance", camera.Balance)
	c.meteringPoint("camera.expose", camera.Expose)
	c.between("camera.height", camera.Height, lowest, highest)
	if camera.Lens != nil {
		c.between("camera.lens", *camera.Lens, smallestSide, 5)
	}
	if !c.clean("camera") {
		return
	}
	switch {
	case camera.Aim != nil && camera.At == nil:
		c.lacks("camera.aim", fault.Fault{Text: "the camera is aimed but has no place", Hint: "say where it stands: camera.at"})
	case camera.Aim != nil && camera.Aim.Name.Thing == CameraName:
		c.tell("camera.aim", faultText("the camera is aimed at itself"))
	case camera.Aim != nil:
		at, ok := c.locator.Place(camera.At, camera.Height)
		c.notAtItself("camera.aim", camera.Aim, at, ok)
	}
}

// What a target's level may be over, beside a metering point.
const (
	OverKey     = "key"
	OverAmbient = "ambient"
)

// checkTones tells tones of no material or at no point.
func (c *checker) checkTones() {
	for i := range c.doc.Tones {
		t := &c.doc.Tones[i].Value
		path := document.Path("tones").Join(c.doc.Tones[i].Name)
		c.material(path.Join("material"), t.Material)
		c.meteringPoint(path.Join("in"), t.In)
	}
}

// checkZone tells a time zone that is none, and a time that the clocks leap over.
func (c *checker) checkZone() {
	d := c.doc
	if d.Zone == "" {
		return
	}
	zone, err := Zone(d.Zone)
	if err != nil {
		c.tellErr("zone", err, d.Zone)
		return
	}
	if d.Date == nil || d.Time == nil || d.Sky != nil { // a model's time is checked with it
		return
	}
	day, minutes := *d.Date, int(*d.Time)
	t := time.Date(day.Year, time.Month(day.Month), day.Day, minutes/60, minutes%60, 0, 0, zone)
	if t.Hour()*60+t.Minute() != minutes {
		c.tell("time", fault.Fault{Text: fmt.Sprintf("there is no such time on %v in %s: the clocks are put forward over it", day, d.Zone), Read: d.Time.String()})
	}
}

var offsetForm = regexp.MustCompile(`^UTC *(?:([+−-]) *([0-9]{1,2})(?::?([0-5][0-9]))?)?$`)

const zoneForms = "an IANA name such as Europe/Lisbon, or UTC+2, UTC-7, UTC+5:30"

// Zone returns a time zone by its IANA name or its offset from UTC. The error is a fault without a place.
func Zone(text string) (*time.Location, error) {
	if m := offsetForm.FindStringSubmatch(strings.ToUpper(strings.TrimSpace(text))); m != nil {
		hours, _ := strconv.Atoi("0" + m[2])   // digits by the form
		minutes, _ := strconv.Atoi("0" + m[3]) // digits by the form
		seconds := hours*3600 + minutes*60
		if seconds > 14*3600 {
			return nil, fault.Fault{Text: "no time zone is so far from UTC", Read: text, Allowed: "UTC-14 to UTC+14"}
		}
		if m[1] != "+" {
			seconds = -seconds
		}
		return time.FixedZone(text, seconds), nil
	}
	zone, err := time.LoadLocation(text)
	if err != nil || text == "" || text == "Local" {
		return nil, fault.Fault{Text: "there is no such time zone", Read: text, Allowed: zoneForms, Hint: fault.Meant(text, commonZones)}
	}
	return zone, nil
}

// commonZones are those that a slip of the pen is compared with.
var commonZones = slices.Concat(
	zonesOf("Europe", "Amsterdam", "Athens", "Berlin", "Brussels", "Bucharest", "Budapest", "Copenhagen", "Dublin", "Helsinki",
		"Istanbul", "Kyiv", "Lisbon", "London", "Madrid", "Oslo", "Paris", "Prague", "Rome", "Stockholm", "Vienna", "Warsaw", "Zurich"),
	zonesOf("America", "Argentina/Buenos_Aires", "Bogota", "Chicago", "Denver", "Halifax", "Los_Angeles", "Mexico_City", "New_York",
		"Phoenix", "Sao_Paulo", "Toronto", "Vancouver"),
	zonesOf("Asia", "Bangkok", "Dubai", "Hong_Kong", "Jakarta", "Jerusalem", "Kolkata", "Manila", "Seoul", "Shanghai", "Singapore", "Tokyo"),
	zonesOf("Africa", "Cairo", "Casablanca", "Johannesburg", "Lagos", "Nairobi"),
	zonesOf("Australia", "Adelaide", "Brisbane", "Melbourne", "Perth", "Sydney"),
	zonesOf("Atlantic", "Canary", "Reykjavik"), zonesOf("Pacific", "Auckland", "Honolulu"),
)

func zonesOf(area string, cities ...string) []string {
	names := make([]string, len(cities))
	for i, city := range cities {
		names[i] = area + "/" + city
	}
	return names
}
