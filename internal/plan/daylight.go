package plan

import (
	"errors"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// SkylinePoint is how high a skyline stands in one direction.
type SkylinePoint struct {
	Bearing unit.Bearing // as Skyline.Bearings says
	Height  unit.Degree
}

// Parse reads `140 deg 12 deg`, `140 12`, `SE 12 deg`.
func (p *SkylinePoint) Parse(text string) error {
	for i := range text {
		var read SkylinePoint
		if text[i] == ' ' && read.Bearing.Parse(text[:i]) == nil && read.Height.Parse(text[i:]) == nil {
			*p = read
			return nil
		}
	}
	return errors.New("is not a bearing and a height")
}

// Forms says how a point of a skyline is written.
func (SkylinePoint) Forms() string {
	return "a bearing and a height such as 140 deg 12 deg, 140 12, SE 12"
}

// String returns the point as it may be written.
func (p SkylinePoint) String() string { return p.Bearing.String() + " " + p.Height.String() }

// True returns the skyline by bearings from true north. The error is of what the skyline's own points hold.
func (s *Skyline) True() (*daylight.Skyline, error) {
	points := make([]daylight.SkylinePoint, len(s.Points))
	for i, p := range s.Points {
		points[i] = daylight.SkylinePoint{Bearing: p.Bearing, Height: p.Height}
		if s.Bearings == magneticBearings && s.Declination != nil {
			points[i].Bearing = daylight.Magnetic(p.Bearing).True(*s.Declination)
		}
	}
	return daylight.NewSkyline(points)
}

const magneticBearings = "magnetic"

// Modelled reports whether an ambient is a reading that corrects the model's daylight and no source of its own.
func (a *Ambient) Modelled() bool { return a.Shape == daylightShape }

// Instant returns when a document's date and time are on its zone's clock, for one with a model sky that has been checked.
func (d *Document) Instant() time.Time {
	at, ok := d.instant()
	if !ok {
		panic("plan: no one instant in a document that was not checked")
	}
	return at
}

// instant returns the instant, and whether there is a model sky and one instant for it.
func (d *Document) instant() (time.Time, bool) {
	if d.Sky == nil || d.Place == nil || d.Date == nil || d.Time == nil {
		return time.Time{}, false
	}
	zone, err := Zone(d.Zone)
	if err != nil {
		return time.Time{}, false
	}
	at, err := once(*d.Date, *d.Time, zone)
	return at, err == nil
}

// When returns when a reading of daylight was taken, for a document that has been checked.
func (d *Document) When(a *Ambient) time.Time {
	zone, err := Zone(d.Zone)
	if err == nil {
		var at time.Time
		if at, err = once(*a.Date, *a.Clock, zone); err == nil {
			return at
		}
	}
	panic("plan: no one instant of a reading that was not checked")
}

// once returns the one instant at which a zone's clock shows a time. One that comes twice is a fault, for which light is meant
// cannot be told.
func once(date unit.Date, clock unit.Clock, zone *time.Location) (time.Time, error) {
	found, err := daylight.Instants(date, clock, zone)
	if err != nil {
		return time.Time{}, err
	}
	if len(found) > 1 {
		return time.Time{}, fault.Fault{Text: "is a time that comes twice: the clock is put back over it", Read: clock.String(),
			Hint: "write the zone as " + offset(found[0]) + " or " + offset(found[1])}
	}
	return found[0], nil
}

func offset(t time.Time) string { return "UTC" + t.Format("-07:00") }

// At returns the set-up at another time of day, on its own date. Only daylight by the model has hours. Faults are of kind Call.
func (v *View) At(clock unit.Clock) (*View, error) {
	d := &v.Document
	if d.Sky == nil {
		return nil, fault.Fault{Kind: fault.Call, Text: "the light of this set-up is as it was read and has no hours",
			Read: v.Name, Hint: "say sky: in the plan for daylight by the model"}
	}
	zone, err := Zone(d.Zone)
	if err != nil {
		return nil, err
	}
	if _, err := once(*d.Date, clock, zone); err != nil {
		f := fault.Of(err, fault.Call)[0]
		f.Kind = fault.Call
		return nil, f
	}
	moved := *v
	moved.Document.Time = &clock
	return &moved, nil
}
