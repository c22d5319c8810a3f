package plan

import (
	"fmt"
	"strings"

	"gloam/internal/daylight"
	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// checkDaylight tells what a model sky lacks, and what is in its way.
func (c *checker) checkDaylight() {
	d := c.doc
	if d.Skyline != nil {
		c.checkSkyline("skyline", d.Skyline)
	}
	if d.Sky == nil {
		return
	}
	var missing []string
	for _, f := range []struct {
		name  string
		there bool
	}{{"place", d.Place != nil}, {"date", d.Date != nil}, {"time", d.Time != nil}, {"zone", d.Zone != ""}} {
		if !f.there && c.clean(document.Path(f.name)) {
			missing = append(missing, f.name)
		}
	}
	if len(missing) > 0 {
		c.lacks("sky", fault.Fault{Text: "the model's sun and sky hang on where and when, and the plan has no " + strings.Join(missing, ", no "),
			Hint: "add place: 55.95 N, 3.19 W, date: 2027-03-03, time: 13:00 and zone: Europe/London"})
	}
	if d.Time != nil {
		c.checkOnce("time", d.Date, *d.Time)
	}
	for _, t := range c.things {
		if t.name != SkySource && t.name != SunName {
			continue
		}
		own, _ := d.Ambient.Get(t.name)
		if source := t.kind == lampKind || t.kind == practicalKind || t.kind == ambientKind; source && (own == nil || !own.Modelled()) {
			c.tell(t.path, fault.Fault{Text: fmt.Sprintf("the model's own light is called %q", t.name), Hint: "call this something else"})
		}
	}
}

// SkySource is what the light of a model's sky is called; that of its sun is SunName.
const SkySource = "sky"

func (c *checker) checkSkyline(path document.Path, s *Skyline) {
	c.material(path.Join("material"), s.Material)
	if !c.clean(path) {
		return
	}
	switch magnetic := s.Bearings == magneticBearings; {
	case magnetic && s.Declination == nil:
		c.lacks(path, fault.Fault{Text: "magnetic bearings need a declination: how far east of true north a compass points there",
			Hint: "west is negative: declination: -3 deg"})
	case !magnetic && s.Declination != nil:
		c.tell(path.Join("declination"), fault.Fault{Text: "true bearings have no declination", Hint: "say bearings: magnetic, if they are a compass's"})
	}
	if _, err := s.True(); err != nil {
		c.tellErr(path.Join("points"), err, "")
	}
}

// checkModel tells a reading of daylight that cannot correct the model, and another of what the model gives already.
func (c *checker) checkModel(path document.Path, a *Ambient) {
	if !a.Modelled() {
		if model := c.doc.Sky != nil; model && a.Shape != "everywhere" {
			c.tell(path.Join("shape"), fault.Fault{Text: "the model's sky gives this light already", Read: a.Shape,
				Hint: "write shape: daylight, so that the reading corrects the model, or leave out sky:"})
		}
		return
	}
	if c.doc.Sky == nil {
		c.lacks(path, fault.Fault{Text: "a reading of daylight corrects the model, and the plan has no sky", Hint: "add sky: overcast, or give it another shape"})
		return
	}
	var kind daylight.Kind
	if err := kind.Parse(a.Sky); err != nil {
		c.tell(path.Join("sky"), fault.Fault{Text: err.Error(), Read: a.Sky, Allowed: kind.Forms()})
		return
	}
	if a.Clock == nil {
		c.lacks(path, fault.Fault{Text: "a reading of daylight needs its clock time", Hint: "say clock: when it was read"})
	} else {
		c.checkOnce(path.Join("clock"), a.Date, *a.Clock)
	}
	if a.Outside == nil {
		return
	}
	switch {
	case *a.Outside <= 0:
		c.tell(path.Join("outside"), fault.Fault{Text: "a reading of no light is no source", Allowed: "above 0 lx"})
	case daylight.LevelsAt(45, 1, kind).Direct > 0:
		c.tell(path, fault.Fault{Text: "a daylight factor holds under a sky without sun", Read: a.Sky,
			Allowed: "bright overcast, overcast, heavy overcast"})
	}
}

// checkOnce tells a time that the zone's clock never shows on a date, or shows twice.
func (c *checker) checkOnce(path document.Path, date *unit.Date, clock unit.Clock) {
	zone, err := Zone(c.doc.Zone)
	if err != nil || date == nil {
		return // told already
	}
	if _, err := once(*date, clock, zone); err != nil {
		c.tellErr(path, err, "")
	}
}
